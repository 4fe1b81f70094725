"""The inside of a space: what is left of its readings, at every height, after all that is not known of it."""
