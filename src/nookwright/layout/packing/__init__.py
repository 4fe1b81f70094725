"""Packing: footprints into the cells of a space.

``drawer`` is the door for one space with blocked cells; ``kernels`` does its work and can be called from other kernels;
``plain`` does the same before numba is loaded. None of them knows masses, heights or costs.
"""

from nookwright.layout.packing.drawer import pack, pack_free
from nookwright.layout.packing.found import Footprint, Packing, Spot

__all__ = ["Footprint", "Packing", "Spot", "pack", "pack_free"]
