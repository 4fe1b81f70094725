"""Liner panels, their keys, and what closes the edges of a space."""
