"""What the pages of progress, back load, bar and grip show one viewer: stored boards into panels with figures."""
