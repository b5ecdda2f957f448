# Closed forms and quadrature for the drift model, with base R alone and none of this project's code. Invented numbers.
# usage: Rscript drift.R > drift.csv
out <- function(name, value) cat(sprintf("%s,%.10g\n", name, value))
cat("name,value\n")

# 1. Combined bias by generalised least squares: six checks, two stocks, four preparations, known scatter, nothing between checks
y <- c(0.31, 0.18, 0.44, 0.25, -0.12, 0.02)
n <- c(3, 5, 4, 3, 5, 3)
stock <- c(1, 1, 1, 1, 2, 2); us <- c(0.12, 0.15)[stock]
prep <- c(1, 1, 2, 3, 4, 4); up <- c(0.05, 0.07, 0.06, 0.05)[prep]
V <- outer(stock, stock, "==") * outer(us, us) + outer(prep, prep, "==") * outer(up, up) + diag(0.2^2 / n)
W <- solve(V); one <- rep(1, 6)
out("gls value", sum(W %*% y) / sum(W))
out("gls u", 1 / sqrt(sum(W)))
# deviations within a stock: a free level for each
X <- cbind(stock == 1, stock == 2) * 1
C <- solve(t(X) %*% W %*% X); r <- y - X %*% C %*% t(X) %*% W %*% y
K <- V - X %*% C %*% t(X)
for (i in 1:6) { out(paste("deviation", i), r[i]); out(paste("deviation u", i), sqrt(K[i, i])) }
# one-step forecasts with a flat level, from the third check on
for (i in 3:6) {
  p <- 1:(i - 1); Wp <- solve(V[p, p]); o <- rep(1, i - 1)
  m <- sum(Wp %*% y[p]) / sum(Wp); g <- V[i, p] %*% Wp; a <- 1 - sum(g)
  f <- m + g %*% (y[p] - m)
  out(paste("score", i), (y[i] - f) / sqrt(V[i, i] - g %*% V[p, i] + a^2 / sum(Wp)))
}

# 2. Standard deviation between checks with a flat prior and no scatter within: S/sigma^2 is chi-square with k - 2 degrees of freedom
z <- c(0.11, -0.23, 0.35, 0.02, -0.41, 0.18, 0.27, -0.09, 0.05, -0.16)
k <- length(z); S <- sum((z - mean(z))^2)
out("between median", sqrt(S / qchisq(0.5, k - 2)))
d <- function(s) s^(-(k - 1)) * exp(-S / (2 * s^2))
mass <- function(a, b) pchisq(S / a^2, k - 2) - pchisq(S / b^2, k - 2)
width <- function(a) { p <- pchisq(S / a^2, k - 2) - 0.95; if (p <= 0) return(1e6); sqrt(S / qchisq(p, k - 2)) - a }
a <- optimize(width, c(0.05, sqrt(S / qchisq(0.95, k - 2)) * 0.99999))
out("between low", a$minimum); out("between high", a$minimum + a$objective)
# one-step forecasts: Student's t with i - 3 degrees of freedom (a flat standard deviation costs one), as normal scores, from the fourth check on
for (i in 4:k) {
  p <- z[1:(i - 1)]; v <- i - 3
  s2 <- sum((p - mean(p))^2) / v * (1 + 1 / (i - 1))
  out(paste("t score", i), qnorm(pt((z[i] - mean(p)) / sqrt(s2), v)))
}

# 3. Balanced one-way: five checks of four readings, flat priors on the standard deviation between and on the logarithm of the one within
m <- c(0.52, 0.13, 0.81, 0.35, 0.60); within <- c(0.21, 0.33, 0.18, 0.26, 0.30); nn <- 4; kk <- 5
SSB <- sum((m - mean(m))^2); SSW <- sum((nn - 1) * within^2)
joint <- function(b, w) exp(-(kk - 1) / 2 * log(b^2 + w^2 / nn) - SSB / (2 * (b^2 + w^2 / nn)) - kk * (nn - 1) * log(w) - SSW / (2 * w^2))
# over ln w
pb <- function(b) sapply(b, function(x) integrate(function(l) joint(x, exp(l)), log(0.05), log(3), rel.tol = 1e-10)$value)
tot <- integrate(pb, 0, 6, rel.tol = 1e-8, subdivisions = 500)$value
cdf <- function(x) integrate(pb, 0, x, rel.tol = 1e-8, subdivisions = 500)$value / tot
out("oneway between median", uniroot(function(x) cdf(x) - 0.5, c(0.05, 2), tol = 1e-9)$root)
low <- function(a) { q <- cdf(a) + 0.95; if (q >= 1) return(1e6); uniroot(function(x) cdf(x) - q, c(a, 6), tol = 1e-9)$root - a }
# the shortest interval begins at zero: every other is longer
q5 <- uniroot(function(x) cdf(x) - 0.049, c(0, 2), tol = 1e-9)$root
stopifnot(all(diff(sapply(seq(0, q5, length.out = 12), low)) > 0))
out("oneway between low", 0); out("oneway between high", low(0))
pw <- function(l) sapply(l, function(x) integrate(function(b) joint(b, exp(x)), 0, 6, rel.tol = 1e-10, subdivisions = 500)$value)
totw <- integrate(pw, log(0.05), log(3), rel.tol = 1e-9)$value
cw <- function(x) integrate(pw, log(0.05), log(x), rel.tol = 1e-9)$value / totw
eb2 <- integrate(function(b) b^2 * pb(b), 0, 6, rel.tol = 1e-8, subdivisions = 500)$value / tot
ew2 <- integrate(function(l) exp(2 * l) * pw(l), log(0.05), log(3), rel.tol = 1e-9)$value / totw
out("oneway reading sd", sqrt(eb2 + ew2)); out("oneway between rms", sqrt(eb2))
for (q in c(0.025, 0.5, 0.975)) out(paste("oneway within", q), uniroot(function(x) cw(x) - q, c(0.1, 1.5), tol = 1e-10)$root)

# 4. A change, with the scatter known: six checks, sd 0.3 each, level N(0, 30^2); every onset as a step N(0, 1.5^2) or a drift N(0, 1) in 90 days from the middle of its gap; days 0, 14, .., 84
q <- c(0.1, -0.2, 0.05, 0.9, 1.3, 1.0, 1.2); day <- 14 * 0:6; N <- 7
dens <- function(V) { d <- chol(V); -sum(log(diag(d))) - 0.5 * sum(backsolve(d, q, transpose = TRUE)^2) }
V0 <- matrix(30^2, N, N) + diag(0.3^2, N)
lp <- c(log(0.5) + dens(V0)); what <- "steady"; at <- 0
for (g in 2:N) {
  x <- as.numeric(1:N >= g); lp <- c(lp, log(0.25 / (N - 1)) + dens(V0 + 1.5^2 * outer(x, x))); what <- c(what, "step"); at <- c(at, g)
  m <- (day[g - 1] + day[g]) / 2; x <- pmax(day - m, 0); lp <- c(lp, log(0.25 / (N - 1) * (1 - 1 / N)) + dens(V0 + outer(x, x) / 90^2)); what <- c(what, "drift"); at <- c(at, g)
}
x <- day; lp <- c(lp, log(0.25 / N) + dens(V0 + outer(x, x) / 90^2)); what <- c(what, "drift"); at <- c(at, 1)
p <- exp(lp - max(lp)); p <- p / sum(p)
for (w in c("steady", "step", "drift")) out(paste("change", w), sum(p[what == w]))
# size of the step, given that it is one
m <- 0
for (i in which(what == "step")) {
  x <- as.numeric(1:N >= at[i]); W <- solve(V0); A <- drop(t(x) %*% W %*% x); B <- drop(t(x) %*% W %*% q)
  m <- m + p[i] / sum(p[what == "step"]) * 1.5^2 * B / (1 + 1.5^2 * A)
}
out("change size", m)
# each event as a step with the scatter known: two-sided p of the normal deviate, level free, beside the steps given; rows beyond the checks are changeovers of known standard deviation
pe <- function(g, beside = c(), y = q, sd = rep(0.3, length(y)), rows = NULL) {
  force(sd); X <- cbind(1, sapply(c(g, beside), function(h) as.numeric(1:length(y) >= h)))
  if (!is.null(rows)) { X <- rbind(X, rows$X); y <- c(y, rows$y); sd <- c(sd, rows$sd) }
  C <- solve(crossprod(X / sd)); b <- C %*% crossprod(X / sd, y / sd); c(b[2], 2 * pnorm(-abs(b[2]) / sqrt(C[2, 2])), sqrt(C[2, 2]))
}
# the first is not clear beside the second, the second is clear by itself
stopifnot(pe(3, 4)[2] > 0.05, pe(4, 3)[2] < 0.05 / 2)
e <- rbind(pe(3, 4), pe(4))
for (i in 1:2) { out(paste("event step", i), e[i, 1]); out(paste("event p", i), e[i, 2]) }
h <- p.adjust(e[, 2], "holm"); for (i in 1:2) out(paste("event holm", i), h[i])

# 5. Next check: the same six checks before the step, scatter 0.3 known, level N(0, 3^2), random walk whose sd in a day is half-normal with scale 0.04, a step N(0, 1) with a hazard of 1/365 a day after the last check
q <- c(0.30, 0.05, 0.42, 0.28, 0.61, 0.47); day <- 14 * 0:5; N <- 6
moved <- 0; more <- 0
wrong <- function(days, scale) {
  f <- function(w) sapply(w, function(w) {
    V <- matrix(3^2, N, N) + w^2 * outer(day, day, pmin) + diag(0.3^2, N); W <- solve(V)
    c0 <- 3^2 + w^2 * pmin(day, day[N]); m <- drop(c0 %*% W %*% q) + moved; v <- 3^2 + w^2 * day[N] - drop(c0 %*% W %*% c0) + more
    lik <- exp(-0.5 * drop(t(q) %*% W %*% q) - 0.5 * log(det(V))) * exp(-0.5 * (w / scale)^2)
    beyond <- function(v) pnorm((-1 - m) / sqrt(v)) + pnorm((m - 1) / sqrt(v))
    h <- exp(-days / 365)
    c(lik, lik * (h * beyond(v + w^2 * days) + (1 - h) * beyond(v + w^2 * days + 1)))
  })
  I <- function(row) integrate(function(w) f(w)[row, ], 0, 6 * scale, rel.tol = 1e-9)$value
  I(2) / I(1)
}
for (d in c(0, 14, 30, 60)) { out(paste("wrong walk", d), wrong(d, 0.04)); out(paste("wrong still", d), wrong(d, 1e-6)) }

# 6. A fault that came and went: three events, at the fourth, the seventh and the ninth of ten checks; scatter 0.3 known. By itself neither of the first two is clear, together both are; the third is not
q <- c(0.1, -0.2, 0.05, 0.9, 1.1, 0.8, -0.1, 0.2, 0.15, 0.0)
single <- sapply(c(4, 7, 9), function(g) pe(g, y = q)[2])
stopifnot(all(p.adjust(single, "holm") > 0.05), pe(9, c(4, 7), y = q)[2] > 0.05)
e <- rbind(pe(4, 7, y = q), pe(7, 4, y = q), pe(9, c(4, 7), y = q)); h <- p.adjust(e[, 2], "holm")
stopifnot(h[1] < 0.05, h[2] < 0.05)
for (i in 1:3) { out(paste("went step", i), e[i, 1]); out(paste("went p", i), e[i, 2]); out(paste("went holm", i), h[i]) }

# 7. Changeovers: checks of lots A, A, A, B with sd 0.3; A to B measured as 0.5 with four readings each, B to C as -0.2 with two and three; lot C has no check
X <- rbind(c(1, 0, 0), c(1, 0, 0), c(1, 0, 0), c(0, 1, 0), c(-1, 1, 0), c(0, -1, 1)); y <- c(0.1, -0.2, 0.05, 0.9, 0.5, -0.2)
sd <- c(rep(0.3, 4), 0.3 * sqrt(1/4 + 1/4), 0.3 * sqrt(1/2 + 1/3))
C <- solve(crossprod(X / sd)); b <- C %*% crossprod(X / sd, y / sd)
for (i in 1:3) { out(paste("lot value", i), b[i]); out(paste("lot u", i), sqrt(C[i, i])) }
# the step at the event, the opening of B
s <- pe(4, y = y[1:4], rows = list(X = rbind(c(0, 1)), y = 0.5, sd = sd[5]))
out("lot step", s[1]); out("lot step u", s[3])

# 8. Next check of case 5 after a changeover that moved the level by 0.4, four readings each
q <- c(0.30, 0.05, 0.42, 0.28, 0.61, 0.47); N <- 6; moved <- 0.4; more <- 0.3^2 * (1/4 + 1/4)
for (d in c(14, 30)) out(paste("wrong moved", d), wrong(d, 0.04))
