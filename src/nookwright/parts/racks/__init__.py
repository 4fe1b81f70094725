"""Racks under a shelf, on a wall, inside a door."""
