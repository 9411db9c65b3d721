"""Typed lengths: read them, ask about them, and say how well they repeat."""
