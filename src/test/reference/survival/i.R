# Influence values that boot.ci uses for the acceleration of the city ratio (regression on 99 999 resamples).
suppressMessages(library(boot)); options(digits=7)
cat(R.version.string, "boot", as.character(packageVersion("boot")), "\n")
set.seed(1); b <- boot(city, function(d, i) mean(d$x[i]) / mean(d$u[i]), 99999)
L <- empinf(b); print(as.vector(L)); cat("a", sum(L^3) / (6 * sum(L^2)^1.5), "z0", qnorm(mean(b$t < b$t0)), "\n")
print(boot.ci(b, type = c("perc", "bca")))
