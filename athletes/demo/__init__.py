"""Two invented clubs with 24 invented lifters, so that every page has something to say on a first run."""
