"""Every small number that decides "equal", "touching" or "clear", in one place and in order.

kernel << recipe << mesh << fit: each is at least several times the one before, so that a decision at one level is
never disturbed by the noise of the level below.
"""

from __future__ import annotations

from nookwright.ground.sources import Fact, Kind

KERNEL = Fact(
    1e-9, unit="mm", kind=Kind.MEASURED, source="Booleans of the mesh kernel are exact to about 8e-11 on parts of ours."
)
GRID = Fact(
    1e-4, unit="mm", kind=Kind.CHOICE, source="Recipe numbers are rounded to this: below any printer, above KERNEL."
)
FLAT = Fact(1e-4, unit="mm", kind=Kind.CHOICE, source="A triangle whose height is less counts as one without area.")
CROSSING = Fact(
    1e-3, unit="mm", kind=Kind.CHOICE, source="Faces that pass through each other by more count as a self-intersection."
)
SHARED_VOLUME_MM3 = Fact(
    1e-3, unit="mm3", kind=Kind.CHOICE, source="Parts that share more than this collide; above the noise of files."
)
TOUCHING = Fact(
    1e-2, unit="mm", kind=Kind.MEASURED, source="Gaps between 0 and this weld into edges with four faces in an STL."
)
MESH = Fact(
    1e-2, unit="mm", kind=Kind.MEASURED, source="Distance of a mesh from the true surface: a 25th of the clearance."
)
OVERSHOOT = Fact(
    0.5, unit="mm", kind=Kind.CHOICE, source="Cutters reach past what they cut by this, so that no skin is left."
)
