# Qn of robustbase 0.95 and Huber's proposal 2 of MASS 7.3 (R 4.2.2). Run: Rscript robust.R > robust_r.csv
suppressMessages({library(robustbase); library(MASS)})
cases <- list(
  seven = c(4.5, 4.9, 5.6, 4.2, 6.2, 5.2, 9.9),
  uranium = c(199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57),
  laboratories = c(10.2, 10.4, 10.1, 9.8, 10.0, 11.3, 11.1, 11.8, 11.9, 12.1, 11.7, 10.9, 11.0, 9.5, 9.9, 10.6, 10.4, 10.9, 11.2, 2.0, 35.0, 10.7),
  two = c(1.5, 2.25), three = c(1, 1.5, 4), five = c(3.1, 2.9, 3.4, 3.0, 8.8), nine = c(3, 1, 4, 1, 5, 9, 2, 6, 5),
  twelve = c(2.1, 2.3, 1.9, 2.2, 2.0, 2.4, 2.6, 1.7, 2.05, 2.15, 2.35, 9),
  thirteen = c(2.1, 2.3, 1.9, 2.2, 2.0, 2.4, 2.6, 1.7, 2.05, 2.15, 2.35, 9, -4),
  twohundred = (7 * (1:200)^2 %% 1009) / 10, twohundredone = (7 * (1:201)^2 %% 1009) / 10)
cat("case,qn,hubers_mean,hubers_sd,values\n")
for (name in names(cases)) {
  x <- cases[[name]]
  h <- if (length(x) > 3) hubers(x, k = 1.5, tol = 1e-14) else list(mu = NA, s = NA)
  cat(name, ",", format(Qn(x), digits = 15), ",", format(h$mu, digits = 15), ",", format(h$s, digits = 15), ",", paste(x, collapse = " "), "\n", sep = "")
}
