"""What becomes of the cells that no lot needs: odds and ends, growing trays, spare trays, one open bay behind a fence.

``fill`` does it, one module each of the ways; ``means`` is what it may use. None of them knows shapes or colours.
"""

from nookwright.layout.filling.fill import Filled, Filling, FillPrice, FillWish, fill
from nookwright.layout.filling.means import Means

__all__ = ["FillPrice", "FillWish", "Filled", "Filling", "Means", "fill"]
