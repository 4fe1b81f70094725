"""Shoes for boxes, tins and jars that the user owns."""
