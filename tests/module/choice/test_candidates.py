from __future__ import annotations

from itertools import pairwise

import pytest

from nookwright.module.choice import RISE_START, module_of, pitches, rises


def test_pitches_are_fine_or_coarse_and_nothing_between() -> None:
    """17 to 19 and 22 to 24, in steps of half a millimetre."""
    tried = pitches()
    assert all(17 <= pitch <= 19 or 22 <= pitch <= 24 for pitch in tried)
    assert len(tried) == 10
    assert all(low < high for low, high in pairwise(tried))


@pytest.mark.parametrize("layer", [0.2, 0.25, 0.3, 0.6])
def test_at_usual_layers_the_rises_are_the_same_and_hold_the_start(layer: float) -> None:
    """3, 6, 9, 12: parts of two households swap, whatever they print with."""
    assert rises(layer) == (3.0, 6.0, 9.0, 12.0)
    assert RISE_START in rises(layer)


@pytest.mark.parametrize("layer", [0.12, 0.16, 0.28, 0.32])
def test_every_rise_is_a_whole_number_of_layers(layer: float) -> None:
    """Where the layer does not divide them they are rounded up by less than one."""
    for wanted, rise in zip((3, 6, 9, 12), rises(layer), strict=True):
        assert rise / layer == pytest.approx(round(rise / layer))
        assert 0 <= rise - wanted < layer


def test_a_rise_becomes_whole_layers() -> None:
    """Rounded up: 7.0 at layers of 0.3 is 7.2."""
    assert module_of(18.0, 7.0, 0.3, "").rise == pytest.approx(7.2)
