"""What the meet pages show: rules, plans, the board's state, results."""
