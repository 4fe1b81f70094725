"""From a thing, a printer and a purpose to the size that a pocket is drawn with."""
