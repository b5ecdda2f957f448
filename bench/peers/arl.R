# Average run lengths with R package spc, to be timed beside ours: zero state, the package's own number of nodes and one that gives six digits.
# usage: Rscript arl.R ewma|cusum nodes     prints the best of three of one set of ten shifts (each measured over 50 sets) and the sum of the results
suppressMessages(library(spc))
a <- commandArgs(TRUE); r <- as.integer(a[2])
sh <- c(0,.25,.5,.75,1,1.5,2,2.5,3,4)
f <- if (a[1] == "ewma") function() sapply(sh, function(m) xewma.arl(.1, 2.814, m, sided = "two", r = r)) else function() sapply(sh, function(m) xcusum.arl(.5, 5, m, sided = "two", r = r))
s <- f()
t <- sapply(1:3, function(i) system.time(for (j in 1:50) f())[["elapsed"]] / 50)
cat(sprintf("%.9f %.9f %.9f\n", min(t), s[1], sum(s)))
