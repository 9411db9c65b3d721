"""Readers of single cells: each takes text and gives a value with the notes that belong to it."""
