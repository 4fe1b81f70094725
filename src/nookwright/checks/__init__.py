"""Proving, on what was written. Imports none of layout, parts, cutting, making."""
