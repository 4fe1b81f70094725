"""Sizes: usable insides of spaces, clearances, ways to keep a lot, in mm."""
