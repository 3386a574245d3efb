# Certified values for LeastSquaresFitTest and ChangePointsTest, from data sets that come with R.
# Run: Rscript src/test/reference/fits_and_changes.R
cat(R.version.string, "\n")
l <- Loblolly[Loblolly$Seed == "329", ]
print(as.data.frame(l))
f <- nls(height ~ SSasymp(age, Asym, R0, lrc), data = l)
print(coef(f), digits = 9); print(sqrt(diag(vcov(f))), digits = 9); cat("RSS", format(deviance(f), digits = 12), "\n")
cat("t80", format(log(5) / exp(coef(f)[["lrc"]]), digits = 9), "\n")
d <- DNase[DNase$Run == 1, ]
print(d[, c("conc", "density")], digits = 10)
g <- nls(density ~ SSlogis(log(conc), Asym, xmid, scal), data = d)
print(coef(g), digits = 9); print(sqrt(diag(vcov(g))), digits = 9); cat("RSS", format(deviance(g), digits = 12), "\n")
cat(as.integer(Nile), sep = ", "); cat("\n")
x <- as.numeric(Nile)
r <- sapply(1:99, function(k) sum((x[1:k] - mean(x[1:k]))^2) + sum((x[(k+1):100] - mean(x[(k+1):100]))^2))
cat("best", which.min(r), format(min(r), digits = 12), format(sum((x - mean(x))^2), digits = 12), var(x), "\n")
z <- acf(x, plot = FALSE, lag.max = 1)$acf[2]
cat("lag one of Nile", format(z, digits = 12), "\n")
