# Where the values marked "R 4.2.2" in the methods and tests about wearers come from. Needs R and its packages nlme
# (3.1-162) and survival (3.5-3); the tests themselves do not. Run: Rscript tests/scoring/oracle_wearers.R
options(digits = 13)

show <- function(name, value) cat(name, format(value, digits = 13), "\n")

# One result each -----------------------------------------------------------------------------------------------------
welding <- c(0.84, 0.98, 0.42, 1.16, 1.36, 2.66)
chrysene <- c(19.7, 39.2, 7.8, 12.8, 10.2, 7.2, 16.1, 5.7)
show("geometric mean, welding", exp(mean(log(welding))))
show("geometric standard deviation, welding", exp(sd(log(welding))))
show("limits of the geometric mean, welding, 95 %", exp(t.test(log(welding))$conf.int))
show("limits of the geometric mean, chrysene, 90 %", exp(t.test(log(chrysene), conf.level = 0.9)$conf.int))
spread <- function(x, p) exp(sd(log(x)) * sqrt((length(x) - 1) / qchisq(c((1 + p) / 2, (1 - p) / 2), length(x) - 1)))
show("limits of the geometric standard deviation, welding, 95 %", spread(welding, 0.95))
show("limits of the geometric standard deviation, chrysene, 90 %", spread(chrysene, 0.9))
k <- function(n, share, confidence) qt(confidence, n - 1, qnorm(share) * sqrt(n)) / sqrt(n)
show("tolerance factor 2, 0.95, 0.95", k(2, 0.95, 0.95))
show("low percentile, chrysene", exp(mean(log(chrysene)) + qnorm(0.05) * sd(log(chrysene))))
show("low percentile bound, chrysene", exp(mean(log(chrysene)) - k(8, 0.95, 0.95) * sd(log(chrysene))))
show("low percentile bound, welding, 90/90", exp(mean(log(welding)) - k(6, 0.9, 0.9) * sd(log(welding))))
show("tolerance factors 8, 9, 999, 1000, 1001", k(c(8, 9, 999, 1000, 1001), 0.95, 0.95))
needed <- function(gm, gsd, least) which(k(2:1001, 0.95, 0.95) <= log(gm / least) / log(gsd))[1] + 1
show("wearers needed, GM 100, GSD 2, level 10", needed(100, 2, 10))
show("wearers needed, GM 1e12, GSD 2, level 1", needed(1e12, 2, 1))
middle <- function(n) exp(mean(k(c(n, n + 1), 0.95, 0.95)))
show("GM for 1000 and for 1001, GSD e, level 1", c(middle(999), middle(1000)))
show("wearers needed there", c(needed(middle(999), exp(1), 1), needed(middle(1000), exp(1), 1)))
