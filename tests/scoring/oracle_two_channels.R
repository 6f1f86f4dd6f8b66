# Where the values marked "R 4.2.2" of the two methods for logs with two channels come from. Only the tests' values need
# it, not the tests. Run: Rscript tests/scoring/oracle_two_channels.R
options(digits = 10)
set.seed(20240611)

# One exercise, ambient known, ratio known: the exact limits of 40 particles in 50 cm3 beside 2000 x 1.25 /cm3.
print(2500 / (rev(poisson.test(40)$conf.int) / 50))
# No particle in 60 cm3, one-sided.
print(2500 / (qgamma(0.95, 1) / 60))
# One exercise, 12 particles inside in 200 cm3 and 30 outside in 20 cm3, ratio 1 known: the ratio of two gammas.
print(qf(0.025, 60, 26) * (30 / 20) / (13 / 200))
print(qf(0.975, 62, 24) * (31 / 20) / (12 / 200))
# Counts without scatter, ratio 1.04 from six pairs whose logarithms scatter by 0.03: Student's t on the logarithm.
print(1.04 * 3000 / 30 * exp(c(-1, 1) * qt(0.975, 5) * 0.03 / sqrt(6)))
# The same from two pairs.
print(1.04 * 3000 / 30 * exp(c(-1, 1) * qt(0.975, 1) * 0.03 / sqrt(2)))

# All at once, three exercises unlike each other and a zero check.
draws <- 4000000
n <- c(30, 5, 12)
v <- c(60, 50, 20)
m <- c(90, 130, 80)
b <- c(2, 3, 2.5)
ratio <- 0.9 * exp(rt(draws, 3) * 0.05 / sqrt(4))
fewest <- lapply(m, function(each) rgamma(draws, each))
most <- lapply(fewest, function(each) each + rexp(draws))
zero <- rgamma(draws, 3)
zero_most <- zero + rexp(draws)
high <- low <- largest <- 0
for (at in 1:3) {
  weight <- 1 / (3 * v[at] * ratio * fewest[[at]] / b[at])
  drawn <- rgamma(draws, n[at])
  high <- high + weight * (drawn - zero / 100 * v[at])
  largest <- pmax(largest, weight)
  low <- low + (drawn / v[at] - zero_most / 100) / (3 * ratio * most[[at]] / b[at])
}
print(1 / c(quantile(high + largest * rexp(draws), 0.975), quantile(low, 0.025)))
