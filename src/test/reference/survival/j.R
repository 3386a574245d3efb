# Dead animals = share x number released, both with limits: recovery of variances on the log scale (Zou and Donner 2008),
# and how often such limits hold the truth by simulation. Base R only.
options(digits = 12); cat(R.version.string, "\n")
mover <- function(p, pl, pu, n, nl, nu) {
  if (p == 0) return(c(0, 0, pu * nu))
  lo <- if (pl > 0) n * p * exp(-sqrt(log(p / pl)^2 + log(n / nl)^2)) else 0
  c(n * p, lo, n * p * exp(sqrt(log(pu / p)^2 + log(nu / n)^2)))
}
cp <- function(x, n) { ci <- binom.test(x, n)$conf.int; c(ci[1], ci[2]) }
for (x in c(0, 3, 29, 30)) {
  l <- cp(x, 30)
  cat(x, "of 30, 4000 released (3200 to 5000):", mover(x / 30, l[1], l[2], 4000, 3200, 5000), "\n")
}
set.seed(9)
for (p in c(.02, .1, .3, .5)) for (n in c(10, 30)) {
  table <- t(sapply(0:n, function(x) cp(x, n)))
  x <- rbinom(20000, n, p); N <- 4000; sd <- .15
  est <- N * exp(rnorm(20000, 0, sd)); z <- qnorm(.975)
  held <- mapply(function(x, e) { m <- mover(x / n, table[x + 1, 1], table[x + 1, 2], e, e * exp(-z * sd), e * exp(z * sd)); m[2] <= p * N && p * N <= m[3] }, x, est)
  cat("coverage p", p, "n", n, mean(held), "\n")
}
