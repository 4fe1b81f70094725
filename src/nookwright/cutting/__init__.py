"""Cutting parts to the beds: cell lines, joints, pieces that are recipes again."""
