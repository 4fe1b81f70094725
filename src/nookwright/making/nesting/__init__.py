"""Nesting: what is printed together into as few bedfuls as can be, as boxes or by outline.

``nested`` is the door for boxes, ``lay`` in ``cells`` for outlines and beds with places that must stay free.
"""

from nookwright.making.nesting.bins import nest, nested, nestings
from nookwright.making.nesting.bounds import area_bound, least_bins
from nookwright.making.nesting.model import Bin, Nested, Spot

__all__ = ["Bin", "Nested", "Spot", "area_bound", "least_bins", "nest", "nested", "nestings"]
