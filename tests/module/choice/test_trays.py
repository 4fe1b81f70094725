from __future__ import annotations

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from nookwright.module.choice import module_of, pitches
from nookwright.module.choice.trays import Trays, heights
from nookwright.module.estimates import ring_counts, tray_plastic
from nookwright.module.seat import rings_of

MOST = 30
PITCH = st.sampled_from(pitches())
LAYER = st.sampled_from((0.2, 0.25, 0.28, 0.3, 0.6))
CELLS = st.integers(1, MOST)


@given(pitch=PITCH, layer=LAYER, cols=CELLS, rows=CELLS, height=st.floats(12, 120), smooth=st.booleans())
def test_a_tray_of_the_table_weighs_what_the_closed_form_says(
    *, pitch: float, layer: float, cols: int, rows: int, height: float, smooth: bool
) -> None:
    """Whole arrays of trays and one tray by itself give the same plastic and the same time, at any pitch and layer."""
    module = module_of(pitch, 6.0, layer, "")
    one = tray_plastic(module, cols, rows, height, smooth=smooth)
    trays = Trays(module, max(cols, rows))
    asked = np.array([cols]), np.array([rows]), np.array([height])
    laid = trays.laid_mm3(*asked, np.array([smooth]))
    assert laid[0] == pytest.approx(one.laid_mm3, rel=1e-9)
    assert trays.time_s(*asked, laid)[0] == pytest.approx(one.time_s(layer), rel=1e-9)


@example(pitch=18.0, inner=[15.0, 33.0, 51.0, 51.1])  # just the room inside trays of 1, 2 and 3 cells, and a bit more
@given(pitch=PITCH, inner=st.lists(st.floats(0, 600), min_size=1, max_size=20))
def test_cells_are_as_few_as_one_by_one(pitch: float, inner: list[float]) -> None:
    """A search in the sizes of trays finds what counting up finds; what is too long for all is one cell beyond."""
    module = module_of(pitch, 6.0, 0.2, "")
    found = Trays(module, MOST).cells(np.array(inner))
    assert found.tolist() == [min(MOST + 1, module.cells(one)) for one in inner]


@given(rise=st.sampled_from((3.0, 6.0, 6.16, 9.0)), wanted=st.floats(0.1, 200))
def test_heights_are_rounded_up_as_one_by_one(rise: float, wanted: float) -> None:
    """Arrays and ``Module.height`` agree."""
    module = module_of(18.0, rise, 0.28 if rise == 6.16 else 0.2, "")
    assert heights(np.array([wanted]), module.rise)[0] == module.height(wanted)


@given(pitch=PITCH, cols=CELLS, rows=CELLS, growth=st.sampled_from((0.0, 0.0025, 0.005)))
def test_counted_rings_are_the_rings_of_the_part(pitch: float, cols: int, rows: int, growth: float) -> None:
    """A quarter counted four times is the whole: the same clearances, each as often, and one socket a cell."""
    counts = ring_counts(cols, rows, pitch, growth, 0.25)
    assert counts == tuple((ring.clearance, len(ring.places)) for ring in rings_of(cols, rows, pitch, growth, 0.25))
    assert sum(count for _, count in counts) == cols * rows
