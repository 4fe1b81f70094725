"""Calm layouts: trays in rows that read, few widths, one rim a row, and what is over in one piece."""
