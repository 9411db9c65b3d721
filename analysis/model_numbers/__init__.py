"""What the page "How it works" lists: every number with its kind and source, the gate, and the dated tables."""
