"""The module of a household: pitch, rise, seat, walls and lines, and what they cost before any geometry."""
