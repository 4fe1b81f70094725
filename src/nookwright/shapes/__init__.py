"""Recipes: regions and solids as plain data, validated and hashed. No geometry kernel is imported here."""
