# Exact likelihood of the asymptotic curve with a random asymptote (Loblolly), maximised by optim on the multivariate
# normal density, beside nlme, whose two-step algorithm linearises about the units' own asymptotes.
suppressMessages(library(nlme)); options(digits=10)
cat(R.version.string, "nlme", as.character(packageVersion("nlme")), "\n")
L <- as.data.frame(Loblolly); L$Seed <- as.character(L$Seed)
ll <- function(p) {
  r <- exp(p[3]); s <- 0
  for (g in unique(L$Seed)) {
    d <- L[L$Seed == g, ]; e <- exp(-r * d$age); z <- 1 - e
    V <- exp(2 * p[5]) * diag(nrow(d)) + exp(2 * p[4]) * tcrossprod(z)
    q <- d$height - p[1] * z - p[2] * e
    s <- s - .5 * (nrow(d) * log(2 * pi) + as.numeric(determinant(V)$modulus) + sum(q * solve(V, q)))
  }
  s
}
n <- nlme(height ~ SSasymp(age, Asym, R0, lrc), data = Loblolly, fixed = Asym + R0 + lrc ~ 1, random = Asym ~ 1,
  start = c(Asym = 103, R0 = -8.5, lrc = -3.3))
p0 <- c(fixef(n), log(3.65064180268), log(n$sigma))
cat("nlme reports", logLik(n), "; exact likelihood at nlme's estimate", ll(p0), "\n")
o <- optim(p0, ll, control = list(fnscale = -1, reltol = 1e-16, maxit = 20000, parscale = c(10, 1, .1, 1, .1)))
for (i in 1:4) o <- optim(o$par, ll, control = list(fnscale = -1, reltol = 1e-16, maxit = 20000, parscale = c(10, 1, .1, 1, .1)))
cat("exact maximum", o$value, "\n"); print(c(o$par[1:3], exp(o$par[4:5])))
H <- optimHess(o$par, ll, control = list(parscale = c(10, 1, .1, 1, .1))); cat("se from the Hessian\n"); print(sqrt(diag(solve(-H)))[1:3])
