"""Risers: solid, ribbed, hollow with ballast, with a little drawer."""
