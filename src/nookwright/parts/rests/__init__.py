"""Rests for long things and blades."""
