"""Keeping a kit clean: whether the floor is reached, what holds water, what stands where it gets wet or warm."""
