"""Trays and what goes into or onto them."""
