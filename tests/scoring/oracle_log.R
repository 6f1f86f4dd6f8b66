# One log from its readings once a second to the overall fit factor and its interval, written here from the equations on
# the methods pages alone. Run from the top of the checkout: Rscript tests/scoring/oracle_log.R
options(digits = 12)
set.seed(20240607)
log <- read.csv("records/logs/wallstone-half-2025-09-c2.csv")
per_cm3 <- 60 / 100 # one reading a second, 100 cm3/min counted

# Blocks in order: ambient, purge, in-mask, purge, ambient ...
block <- cumsum(c(TRUE, head(log$sampling, -1) != tail(log$sampling, -1)))
mean_of <- tapply(log$concentration_per_cm3, block, mean)
seconds <- tapply(log$concentration_per_cm3, block, length)
kind <- tapply(log$sampling, block, `[`, 1)
name <- tapply(log$exercise, block, `[`, 1)

ambient <- mean_of[kind == "ambient"]
inside <- mean_of[kind == "in-mask"]
exercise <- name[kind == "in-mask"]
factors <- (head(ambient, -1) + tail(ambient, -1)) / 2 / inside
counts <- exercise != "grimace"
print(1 / mean(1 / factors[counts]))

volume <- seconds[kind == "in-mask"] / per_cm3
outside_volume <- seconds[kind == "ambient"] / per_cm3
n <- round(inside * volume)[counts]
m <- round(ambient * outside_volume)
draws <- 2000000
steps <- diff(log(m / outside_volume))
size <- sqrt(sum(steps^2) / rchisq(draws, length(steps)))
fewest <- lapply(m, function(each) rgamma(draws, each))
most <- lapply(fewest, function(each) each + rexp(draws))
high <- low <- largest <- 0
for (at in seq_along(n)) {
  stretch <- which(counts)[at]
  wander <- exp(size * rnorm(draws) / sqrt(12))
  middle <- function(m) (m[[stretch]] / outside_volume[stretch] + m[[stretch + 1]] / outside_volume[stretch + 1]) / 2
  weight <- 1 / (length(n) * volume[stretch] * middle(fewest) * wander)
  drawn <- rgamma(draws, n[at])
  high <- high + weight * drawn
  largest <- pmax(largest, weight)
  low <- low + drawn / (length(n) * volume[stretch] * middle(most) * wander)
}
print(1 / c(quantile(high + largest * rexp(draws), 0.975), quantile(low, 0.025)))
