# t, F and power tests of R 4.2.2. Run: Rscript tests.R > tests.csv
a <- c(7.91, 7.98, 7.83, 8.02, 7.88); b <- c(8.12, 8.05, 8.08, 7.95)
line <- function(name, r) cat(name, format(c(r$statistic, r$parameter[1], r$p.value, r$conf.int), digits = 15, trim = TRUE), sep = ",", fill = 1000)
cat("test,statistic,dof,p,low,high\n")
line("one_sample", t.test(a, mu = 7.8)); line("pooled", t.test(a, b, var.equal = TRUE)); line("welch", t.test(a, b)); line("paired", t.test(a[1:4], b, paired = TRUE))
line("greater", t.test(a, mu = 7.8, alternative = "greater", conf.level = 0.9)); line("less", t.test(a, mu = 7.8, alternative = "less", conf.level = 0.9)); line("variances", var.test(a, b))
