# Exact interval of Deming's slope by turning round a test: at the true slope b, y - b x and ratio x + b y are independent. Rscript deming_interval.R > deming_interval.csv
# Residual sd and standard uncertainties from their definitions by moments. Debian's R with jsonlite.
library(jsonlite)
cases <- fromJSON("lines.json", simplifyDataFrame = FALSE)$deming
p <- function(b, x, y, k) cor.test(y - b * x, k * x + b * y)$p.value - 0.05
cat("case,low,high,u_slope,error_sd_y\n")
for (i in seq_along(cases)) {
  x <- cases[[i]]$x; y <- cases[[i]]$y; k <- cases[[i]]$ratio; b <- cases[[i]]$slope; n <- length(x)
  turn <- atan(b / sqrt(k))
  limit <- function(side) {
    f <- function(angle) p(sqrt(k) * tan(turn + side * angle), x, y, k)
    to <- pi / 4 - 1e-9
    if (f(to) > 0) return(side * Inf)
    a <- uniroot(f, c(0, to), tol = 1e-15)$root
    if (abs(turn + side * a) >= pi / 2) side * Inf else sqrt(k) * tan(turn + side * a)
  }
  rho <- cor(x, y)
  v <- y - mean(y) - b * (x - mean(x))
  cat(sprintf("%d,%.15g,%.15g,%.15g,%.15g\n", i, limit(-1), limit(1), abs(b) * sqrt((1 - rho^2) / rho^2 / (n - 2)), sqrt(sum(v^2) / (n - 2) * k / (k + b^2))))
}
