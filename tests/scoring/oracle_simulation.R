# Where the values marked "R 4.2.2" of the simulated interval come from. Needs R and its package epitools (0.5-10.1); the
# tests themselves do not. Run: Rscript tests/scoring/oracle_simulation.R. It takes half a minute.
library(epitools)
options(digits = 8)
set.seed(20240603)

# No drift, ambient known: Fay and Feuer.
volumes <- rep(200 / 3, 7)
counts <- c(12, 15, 30, 9, 48, 20, 11)
print(1 / ageadjust.direct(counts, volumes * 3000, stdpop = rep(1, 7))[c("uci", "lci")])

# One exercise, 12 particles inside in 200 cm3, 15 and 15 outside in 10 cm3 each: exact, and the ratio of two gammas.
print(poisson.test(c(30, 12), c(20, 200))$conf.int[1])
print(qf(0.975, 64, 24) * (32 / 20) / (12 / 200))

# Drift alone: three ambient samples, the exercise between the second and the third.
sigma <- sqrt((log(1.5)^2 + log(0.8)^2) / 2)
print(13.5 * exp(c(-1, 1) * qt(0.975, 2) * sigma * sqrt(1 / 12)))

# Drift alone, first and last: all that came in did so in the first of four exercises; f = 1/8, its variance by path.
paths <- function(parts, sessions, steps = 60) {
  n <- parts * steps
  out <- matrix(0, sessions, parts)
  for (row in seq_len(sessions)) {
    w <- c(0, cumsum(rnorm(n, 0, sqrt(1 / n))))
    b <- w - (0:n) / n * w[n + 1]
    mid <- (b[-1] + b[-(n + 1)]) / 2
    out[row, ] <- colMeans(matrix(mid, steps))
  }
  out
}
part <- 1 / 8 * 7 / 8 - 1 / 24
print(var(paths(4, 20000)[, 1]) / part)
print(4 * (10 + 1 / 8) * exp(c(-1, 1) * qt(0.975, 1) * log(1.1) * sqrt(part)))

# Three exercises of unlike leaks between the first and the last sample, drift alone, by path.
draws <- 200000
bridge <- paths(3, draws)
size <- sqrt(log(1.3)^2 / rchisq(draws, 1))
ambient <- t(10 + 3 * c(1, 3, 5) / 6 * t(matrix(1, draws, 3)))
leak <- rowMeans(t(t(1 / (ambient * exp(size * bridge))) * c(1, 2, 4)))
print(1 / quantile(leak, c(0.975, 0.025)))

# Nothing counted inside: one-sided, the largest weight.
print(3 * 25 * 2950 / qgamma(0.95, 1))

# Zero check: 40 inside in 50 cm3, 9 in 30 cm3 by itself, 1000 per cm3 outside.
draws <- 4000000
inside <- rgamma(draws, 40)
own <- rgamma(draws, 9)
high <- (inside + rexp(draws)) / 50 - own / 30
low <- inside / 50 - (own + rexp(draws)) / 30
print(1000 / c(quantile(high, 0.975), quantile(low, 0.025)))

# All at once: exercises 1 and 2 in the first of three stretches, exercise 3 in the last.
inside <- cbind(rgamma(draws, 30), rgamma(draws, 5), rgamma(draws, 12))
volume <- c(60, 50, 20)
samples <- cbind(rgamma(draws, 90), rgamma(draws, 130), rgamma(draws, 80), rgamma(draws, 100))
more <- samples + matrix(rexp(4 * draws), draws)
size <- sqrt(sum(diff(log(c(90 / 2, 130 / 2, 80 / 2, 100 / 3)))^2) / rchisq(draws, 3))
z1 <- rnorm(draws)
z2 <- rnorm(draws)
v <- 1 / 4 * 3 / 4 - 1 / 12 # a half of a stretch
cv <- 1 / 16 # both halves: 1/4 of the first, 1/4 of the second
d <- cbind(sqrt(v) * z1, cv / sqrt(v) * z1 + sqrt(v - cv^2 / v) * z2, rnorm(draws) / sqrt(12))
outside <- function(s) {
  s <- t(t(s) / c(2, 2, 2, 3))
  cbind(s[, 1] * 3 / 4 + s[, 2] / 4, s[, 1] / 4 + s[, 2] * 3 / 4, (s[, 3] + s[, 4]) / 2) * exp(size * d)
}
least <- outside(samples)
most <- outside(more)
own <- rgamma(draws, 3)
weight <- 1 / (3 * t(t(least) * volume))
high <- rowSums(inside * weight) - own / 100 * rowMeans(1 / least) + do.call(pmax, as.data.frame(weight)) * rexp(draws)
low <- rowMeans((t(t(inside) / volume) - (own + rexp(draws)) / 100) / most)
print(1 / c(quantile(high, 0.975), quantile(low, 0.025)))
