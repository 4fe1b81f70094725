"""Recipes made solid."""
