"""Bedfuls: which printer prints what, in which colour, where on the bed, bedful by bedful.

``fill_beds`` in ``fill`` is the door; ``making.bedfuls`` hands on what other stages use.
"""
