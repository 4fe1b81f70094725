"""Files: one module a format."""
