# Average run lengths of 200 random designs, and some under drift and in steady state, by R package spc.   Rscript arl.R > arl.csv
suppressMessages(library(spc))
set.seed(20261126)
row <- function(chart, sides, limits, p1, p2, start, kind, shift, arl)
  cat(sprintf("%s,%s,%s,%.17g,%.17g,%.17g,%s,%.17g,%.13g\n", chart, sides, limits, p1, p2, start, kind, shift, arl))
cat("chart,sides,limits,lambda_or_k,width_or_h,head_start,kind,shift_or_slope,arl\n")
for (i in 1:60) { l <- round(runif(1, .03, 1), 3); c <- round(runif(1, 1.5, 3.4), 3); m <- round(runif(1, 0, 3), 2)
  row("ewma", "both", "asymptotic", l, c, 0, "zero", m, xewma.arl(l, c, m, sided = "two", r = 200)) }
for (i in 1:30) { l <- round(runif(1, .05, 1), 3); c <- round(runif(1, 1.5, 3.4), 3); m <- round(runif(1, 0, 3), 2)
  row("ewma", "both", "time-varying", l, c, 0, "zero", m, xewma.arl(l, c, m, sided = "two", limits = "vacl", r = 120)) }
for (i in 1:20) { l <- round(runif(1, .05, 1), 3); c <- round(runif(1, 1.5, 3.2), 3); m <- round(runif(1, 0, 3), 2)
  row("ewma", "upper", "asymptotic", l, c, 0, "zero", m, xewma.arl(l, c, m, zr = 0, sided = "one", r = 200)) }
for (i in 1:45) { k <- round(runif(1, .1, 1.2), 2); h <- round(runif(1, 1, 5.5), 2); m <- round(runif(1, -.3, 3), 2); hs <- if (i %% 3 == 0) round(h / 2, 2) else 0
  row("cusum", "upper", "", k, h, hs, "zero", m, xcusum.arl(k, h, m, hs = hs, sided = "one", r = 200)) }
for (i in 1:45) { k <- round(runif(1, .1, 1.2), 2); h <- round(runif(1, 1, 5.5), 2); m <- round(runif(1, 0, 3), 2); hs <- if (i %% 3 == 0) round(h / 2, 2) else 0
  row("cusum", "both", "", k, h, hs, "zero", m, xcusum.arl(k, h, m, hs = hs, sided = "two", r = 200)) }
for (i in 1:10) { l <- round(runif(1, .05, .9), 2); c <- round(runif(1, 2, 3), 2); m <- round(runif(1, 0, 2), 2)
  row("ewma", "both", "asymptotic", l, c, 0, "steady", m, xewma.ad(l, c, m, sided = "two", r = 200)) }
for (i in 1:10) { k <- round(runif(1, .2, 1), 2); h <- round(runif(1, 1.5, 5), 2); m <- round(runif(1, 0, 2), 2)
  row("cusum", "upper", "", k, h, 0, "steady", m, xcusum.ad(k, h, m, sided = "one", r = 200)) }
for (d in c(.001, .01, .05, .2, 1)) { row("ewma", "both", "asymptotic", .1, 2.7, 0, "drift", d, xDewma.arl(.1, 2.7, d, sided = "two", r = 120))
  row("cusum", "upper", "", .5, 4, 0, "drift", d, xDcusum.arl(.5, 4, d, sided = "one", r = 120)) }
