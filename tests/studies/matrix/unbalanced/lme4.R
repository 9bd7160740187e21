# Components of unbalanced precision studies by R, lme4 (REML), and limits by the restricted likelihood written out densely.
# Run in this folder: Rscript lme4.R   (writes lme4.json from results.csv; tool, version and date go into it)
suppressMessages(library(lme4))
results <- read.csv("results.csv", check.names = FALSE)

# -2 log restricted likelihood up to a constant, at variances of day, operator and digestion.
criterion <- function(theta, d) {
  zd <- model.matrix(~ 0 + factor(d$day)); zo <- model.matrix(~ 0 + factor(d$operator))
  v <- theta[1] * tcrossprod(zd) + theta[2] * tcrossprod(zo) + theta[3] * diag(nrow(d))
  x <- matrix(1, nrow(d), 1); w <- solve(v); xwx <- t(x) %*% w %*% x
  r <- d$value - sum(w %*% d$value) / xwx[1]
  c(determinant(v)$modulus) + log(xwx[1]) + c(t(r) %*% w %*% r)
}
# Smallest criterion with component k held at value, from several starts on a square-root scale.
held <- function(value, k, start, d) {
  others <- setdiff(1:3, k)
  f <- function(root) { theta <- numeric(3); theta[k] <- value; theta[others] <- root^2; if (theta[3] < 1e-9) 1e12 else criterion(theta, d) }
  starts <- list(sqrt(start[others]), sqrt(start[others] + 0.3 * start[3]), c(1e-3, 1) * sqrt(start[3]))
  min(sapply(starts, function(s) optim(s, f, method = "Nelder-Mead", control = list(reltol = 1e-13, maxit = 4000))$value))
}
profile_limit <- function(k, theta, level, d) {
  best <- criterion(theta, d); reach <- qchisq(level, 1)
  excess <- function(value) held(value, k, theta, d) - best - reach
  high <- max(theta[k], 0.01 * sum(theta)) * 2
  while (excess(high) < 0) high <- high * 2
  upper <- uniroot(excess, c(theta[k], high), tol = 1e-7 * high)$root
  lower <- if (theta[k] == 0 || excess(if (k == 3) 1e-6 * theta[3] else 0) < 0) 0 else uniroot(excess, c(if (k == 3) 1e-6 * theta[3] else 0, theta[k]), tol = 1e-7 * theta[k])$root
  c(lower, upper)
}
control <- lmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-12), check.conv.singular = "ignore")
one <- function(name) {
  d <- results[results$case == name, ]
  crossed <- name == "an extra operator"
  fit <- if (crossed) lmer(value ~ 1 + (1 | day) + (1 | operator), d, control = control) else lmer(value ~ 1 + (1 | day), d, control = control)
  vc <- as.data.frame(VarCorr(fit)); of <- function(g) { v <- vc$vcov[vc$grp == g]; if (length(v) == 0) 0 else v }
  theta <- c(of("day"), of("operator"), of("Residual"))
  limits <- if (crossed) lapply(1:3, function(k) profile_limit(k, ifelse(theta < 1e-8 * sum(theta), 0, theta), 0.90, d)) else NULL
  shown <- function(x) paste0("[", paste(format(x, digits = 10), collapse = ", "), "]")
  profile <- if (crossed) paste0(', "profile90": [', paste(sapply(limits, shown), collapse = ", "), "]") else ""
  sprintf('    "%s": {"mean of day means": %.12g, "day": %.12g, "operator": %.12g, "digestion": %.12g%s}',
          name, mean(tapply(d$value, d$day, mean)), theta[1], theta[2], theta[3], profile)
}
writeLines(c("{", sprintf('  "tool": "%s, lme4 %s", "date": "%s",', R.version.string, packageVersion("lme4"), Sys.Date()),
  '  "cases": {', paste(sapply(unique(results$case), one), collapse = ",\n"), "  }", "}"), "lme4.json")
