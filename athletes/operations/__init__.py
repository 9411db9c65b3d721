"""Keeping a server going: health, the log of requests, backup and restore."""
