"""Parts follow the growth of the sockets' clearance that the module was chosen with."""

from __future__ import annotations

import pytest

from nookwright.module.choice import module_of
from nookwright.module.seat import CLEARANCE_GROWTH, rings_of
from nookwright.module.seating import COUPON_GROWTH
from nookwright.parts import family

WIDE, CLOSE = (module_of(18.0, 6.0, 0.2, "", growth) for growth in (CLEARANCE_GROWTH, COUPON_GROWTH))
LONG = 100.0  # mm; from here on the outermost ring is another one
PAIRS = [
    (one.part, other.part)
    for one, other in zip(family.examples(WIDE), family.examples(CLOSE), strict=True)
    if one.part.seated and max(one.part.size[:2]) > LONG
]


def test_every_long_seated_part_has_other_sockets_where_the_printers_were_measured() -> None:
    """No kind of part has forgotten what the module says; its name and its size stay."""
    assert [wide.name for wide, close in PAIRS if wide.recipe.digest == close.recipe.digest] == []
    assert [wide.name for wide, _ in PAIRS] == [close.name for _, close in PAIRS]
    assert len(PAIRS) > 50


@pytest.mark.parametrize(("growth", "clearance"), [(CLEARANCE_GROWTH, 1.2), (COUPON_GROWTH, 0.8)])
def test_the_outermost_ring_of_a_long_part(growth: float, clearance: float) -> None:
    """20 x 10 cells of 18: 0.25 and the growth over hypot(9.5, 4.5) x 18 = 189 mm, rounded up to 0.1."""
    assert rings_of(20, 10, 18.0, growth)[-1].clearance == clearance
