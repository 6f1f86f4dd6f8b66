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

# Several donnings -----------------------------------------------------------------------------------------------------
library(nlme)
dyestuff <- c(1545, 1440, 1440, 1520, 1580, 1540, 1555, 1490, 1560, 1495, 1595, 1550, 1605, 1510, 1560,
              1445, 1440, 1595, 1465, 1545, 1595, 1630, 1515, 1635, 1625, 1520, 1455, 1450, 1480, 1445) / 100
batch <- rep(LETTERS[1:6], each = 5)
kept <- c(1, 6, 7, 11, 12, 13, 16, 17, 18, 19, 21, 22, 23, 24, 25, 26)
reml <- function(y, g) {
  fit <- lme(y ~ 1, random = ~ 1 | g, control = lmeControl(msTol = 1e-14, tolerance = 1e-14))
  exp(c(fixef(fit), as.numeric(VarCorr(fit)[, "StdDev"])))
}
show("factors, dyestuff", exp(dyestuff))
show("REML, dyestuff", reml(dyestuff, batch))
show("REML, dyestuff, unbalanced", reml(dyestuff[kept], batch[kept]))
show("REML, Rail", reml(Rail$travel / 20, as.character(Rail$Rail)))
show("within, dyestuff, 95 %", {
  squares <- sum(tapply(dyestuff, batch, function(x) sum((x - mean(x))^2)))
  exp(sqrt(squares / qchisq(c(0.975, 0.025), 24)))
})
show("within, dyestuff, unbalanced, 90 %", {
  squares <- sum(tapply(dyestuff[kept], batch[kept], function(x) sum((x - mean(x))^2)))
  exp(sqrt(squares / qchisq(c(0.95, 0.05), 10)))
})
show("limits of the mean, dyestuff, 95 %", exp(t.test(tapply(dyestuff, batch, mean))$conf.int))
show("limits of the mean, dyestuff, unbalanced, 90 %", exp(t.test(tapply(dyestuff[kept], batch[kept], mean), conf.level = 0.9)$conf.int))

set.seed(20240702)
pivot <- function(y, g, share, alpha, total = 4e7, chunk = 4e6) {
  m <- tapply(y, g, mean); n <- tapply(y, g, length); a <- length(m); N <- length(y)
  squares <- sum(tapply(y, g, function(x) sum((x - mean(x))^2)))
  between <- sum((m - mean(m))^2); h <- mean(1 / n)
  draws <- numeric(0); variances <- numeric(0)
  for (part in seq_len(total / chunk)) {
    u <- rchisq(chunk, a - 1); v <- if (N > a) rchisq(chunk, N - a) else rep(1, chunk)
    draws <- c(draws, mean(m) + rnorm(chunk) * sqrt(between / (a * u)) -
      qnorm(share) * sqrt(between / u + (1 - h) * squares / v))
    variances <- c(variances, between / u - h * squares / v)
  }
  list(bound = exp(quantile(draws, alpha)), spread = exp(sqrt(pmax(quantile(variances, c(0.025, 0.05, 0.95, 0.975)), 0))))
}
balanced <- pivot(dyestuff, batch, 0.95, 0.05)
show("bound, dyestuff, 95/95", balanced$bound)
show("between, dyestuff, at 2.5, 5, 95, 97.5 %", balanced$spread)
unbalanced <- pivot(dyestuff[kept], batch[kept], 0.9, 0.1)
show("bound, dyestuff, unbalanced, 90/90", unbalanced$bound)
show("between, dyestuff, unbalanced, at 2.5, 5, 95, 97.5 %", unbalanced$spread)
rail <- pivot(Rail$travel / 20, as.character(Rail$Rail), 0.95, 0.05)
show("factors, Rail", exp(Rail$travel[order(as.integer(as.character(Rail$Rail)))] / 20))
show("between, Rail, at 2.5, 5, 95, 97.5 %", rail$spread)

few <- c(20, 30, 45, 100, 80, 10); their <- c("A", "A", "A", "B", "B", "C")
show("means of three wearers", tapply(log(few), their, mean))
show("sum of squares within", anova(aov(log(few) ~ their))[2, 2])

# Censored -------------------------------------------------------------------------------------------------------------
library(survival)
censored <- function(time, event) {
  fit <- survreg(Surv(time, event) ~ 1, dist = "lognormal", control = survreg.control(rel.tolerance = 1e-13))
  exp(c(coef(fit), fit$scale))
}
maintained <- subset(aml, x == "Maintained")
show("aml maintained, times", maintained$time); show("status", maintained$status)
show("censored, aml maintained", censored(maintained$time, maintained$status))
others <- subset(aml, x != "Maintained")
show("aml not maintained, times", others$time); show("status", others$status)
show("censored, aml not maintained", censored(others$time, others$status))
show("uncensored, welding", censored(welding, rep(1, 6)))

# Shares ---------------------------------------------------------------------------------------------------------------
show("exact, 1029 of 1583", binom.test(1029, 1583)$conf.int)
show("exact, 25 of 25", binom.test(25, 25)$conf.int)
show("exact, 0 of 20", binom.test(0, 20)$conf.int)
show("exact, 1 of 20, 90 %", binom.test(1, 20, conf.level = 0.9)$conf.int)
show("exact, 19 of 20, 90 %", binom.test(19, 20, conf.level = 0.9)$conf.int)
show("exact, 1 of 1", binom.test(1, 1)$conf.int)
show("Wilson, 1029 of 1583", prop.test(1029, 1583, correct = FALSE)$conf.int)
show("Wilson, 0 of 10, 90 %", prop.test(0, 10, conf.level = 0.9, correct = FALSE)$conf.int)

# Differences ----------------------------------------------------------------------------------------------------------
welch <- t.test(extra ~ group, sleep)
show("Welch, sleep", c(exp(c(-diff(welch$estimate), welch$conf.int)), welch$p.value))
first <- c(3.1, 4.2, 2.8, 5.0); second <- c(1.9, 2.2, 2.9, 2.4, 1.2, 3.3, 2.0)
welch <- t.test(first, second, conf.level = 0.9)
show("Welch, uneven", c(exp(c(-diff(welch$estimate), welch$conf.int)), welch$p.value))
show("their factors", exp(c(first, second)))
show("Holm", p.adjust(c(0.01, 0.04, 0.03, 0.005), "holm"))
show("Holm, ties and one", p.adjust(c(0.6, 0.02, 0.02, 0.9), "holm"))
better <- function(d, p) {
  n <- length(d); t <- mean(d) / sd(d) * sqrt(n)
  at <- function(q) uniroot(function(delta) pt(t, n - 1, delta) - q, c(-30, 30), tol = 1e-13)$root / sqrt(n)
  pnorm(c(mean(d) / sd(d), at((1 + p) / 2), at((1 - p) / 2)))
}
effect <- with(sleep, extra[group == 2] - extra[group == 1])
show("sleep, differences", effect)
show("better for a new sleeper, 95 %", better(effect, 0.95))
show("better, uneven, 90 %", better(c(-0.4, 0.3, -0.9, -0.1, -0.5), 0.9))
