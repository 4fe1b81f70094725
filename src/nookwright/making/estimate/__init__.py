"""Time and mass of a print from its solid: layers, lines, moves."""
