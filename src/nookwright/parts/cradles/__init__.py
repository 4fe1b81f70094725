"""Cradles: pockets for things of known shape."""
