"""Just inside its limit no fault of the table is found: what is sound is left alone."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from .codes import load_faults
from .judged import named, new, stops
from .table import FAULTS

if TYPE_CHECKING:
    from .harness import Sample
    from .table import Fault

load_faults()
SIZED = [fault for fault in FAULTS if fault.twin]


@pytest.mark.parametrize("fault", SIZED, ids=named)
def test_its_twin_just_inside_stops_nothing(fault: Fault, sound: Sample) -> None:
    """Just inside its limit nothing stops, and its own code is not found at all."""
    found = new(fault.spoil(sound, fault.twin), sound)
    assert stops(found) == set(), sorted(found)
    assert fault.code not in {one.code for one in found}, sorted(found)
