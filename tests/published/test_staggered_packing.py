"""Staggered rows against what is published of circles in the plane.

Thue's theorem (A. Thue 1892, completed by L. Fejes Toth 1940): no packing of equal circles covers more of the plane
than pi / sqrt(12) = 0.9069, which is that of staggered rows; rows and columns cover pi / 4 = 0.7854.
Graham and Lubachevsky, "Repeated patterns of dense packings of equal disks in a square", Electronic J. Combin. 3
(1996): for 39 discs the best packing known in a square is of staggered rows; their radius in the unit square is 0.0818
(from memory of published tables, to three figures).
"""

from __future__ import annotations

import math

import pytest

from nookwright.sizing.ways import Arrangement, Limits, PartKind, Way, ways_of
from nookwright.survey.models import FloorStyle, Lot
from nookwright.survey.readings import Published

LIMITS = Limits(length=1e5, height=90.0, wall=1.2, floor=FloorStyle.SHELL)


def coins(count: int) -> list[Way]:
    """So many discs of 50 that stand in one layer in a tray."""
    found = Lot.model_validate(
        {"id": "a", "count": count, "shape": "round", "diameter": 50, "height": 60, "grow_percent": 0, "keep": "tray",
         "standard": "any", "stands": ["upright"], "mass_g": 1}
    )  # fmt: skip
    exact = {"diameter": Published(floor=(50.0,)), "height": Published(floor=(60.0,))}
    return [way for way in ways_of(found.model_copy(update=exact), LIMITS) if way.kind is PartKind.TRAY]


def covered(way: Way, count: int) -> float:
    """Share of the inside that the circles of one pitch cover, edges left out."""
    area = (way.inner_width - way.edge) * (way.inner_depth - way.edge)
    return count * math.pi / 4 * way.pitch_x**2 / area


def test_no_way_covers_more_than_thue_allows() -> None:
    """Ten thousand discs: rows cover pi / 4 of their rectangle, staggered ones come near pi / sqrt(12), never above."""
    ways = coins(10_000)
    rows = max(covered(way, way.places) for way in ways if way.arrangement is Arrangement.ROWS)
    moved = max(covered(way, way.places) for way in ways if way.arrangement is Arrangement.STAGGERED)
    assert rows == pytest.approx(math.pi / 4, rel=1e-9)
    assert math.pi / math.sqrt(12) * 0.985 < moved < math.pi / math.sqrt(12)


def test_thirty_nine_discs_fit_a_square_in_staggered_rows() -> None:
    """Six and five by turns in seven rows: 39 discs in a square of 1 / 0.0818 radii; rows and columns need 7 x 6."""
    radii = 1 / 0.0818
    staggered = [way for way in coins(39) if way.arrangement is Arrangement.STAGGERED and way.places == 39]
    sides = [max(way.inner_width, way.inner_depth) - way.edge for way in staggered]
    assert min(sides) / (staggered[0].pitch_x / 2) == pytest.approx(radii, rel=0.02)
    rows = [max(way.columns, way.rows) * way.pitch_x for way in coins(39) if way.arrangement is Arrangement.ROWS]
    assert min(sides) < min(rows)
