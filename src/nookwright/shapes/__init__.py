"""Recipes: what a part looks like, as data. No geometry kernel is imported here."""
