from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.layout.filler_forms import travel_for, with_sprung_side, with_tall_fillers
from nookwright.layout.liner import FillerForm, Side, plan_liner
from nookwright.module.choice import module_of
from nookwright.module.floor import floor_of
from nookwright.sizing.usable import Usable

MODULE = module_of(18.0, 6.0, 0.2, "")


@given(length=st.floats(50, 2000))
def test_the_travel_is_the_slack(length: float) -> None:
    """1 mm and 0.15 % of the length, and less than 0.1 more."""
    slack = 1 + 0.0015 * length
    assert slack - 1e-6 <= travel_for(length) <= slack + 0.1


def test_only_wide_gaps_get_tall_fillers() -> None:
    """Those of more than 8 mm; the others stay as they are."""
    usable = Usable("drawer", 322.0, 306.0, 100.0, 0.0, ())
    liner = plan_liner(floor_of(usable, MODULE), usable, 18.0, 210.0)
    tall = with_tall_fillers(liner, [36.0] * len(liner.fillers))
    widths = {placed.spec.width for placed in liner.fillers}
    assert min(widths) <= 8 < max(widths)
    for before, after in zip(liner.fillers, tall.fillers, strict=True):
        if before.spec.width > 8:
            assert (after.spec.form, after.spec.height) == (FillerForm.TALL, 36.0)
        else:
            assert after == before
    assert tall.panels == liner.panels


@pytest.mark.parametrize("side", Side)
def test_one_side_is_sprung(side: Side) -> None:
    """All its fillers, and none of another side."""
    usable = Usable("drawer", 320.0, 320.0, 100.0, 0.0, ())
    liner = plan_liner(floor_of(usable, MODULE), usable, 18.0, 210.0)
    sprung = with_sprung_side(liner, side, 320.0)
    assert {placed.side for placed in sprung.fillers if placed.spec.form is FillerForm.SPRUNG} == {side}
    assert {placed.spec.travel for placed in sprung.fillers} == {0.0, 1.5}
