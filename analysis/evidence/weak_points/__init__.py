"""Which link limits each style: prior, likelihood, sampler, next best test, explanation."""
