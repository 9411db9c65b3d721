"""Records of a log in, one board of series, counts and findings out: what the dashboards draw."""
