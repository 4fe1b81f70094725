"""Every fault of the table is found in the files of a kit that was sound."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.ground.findings import Severity

from .codes import load_faults
from .judged import named, new, stops
from .table import FAULTS, TWICE

if TYPE_CHECKING:
    from .harness import Sample
    from .table import Fault

load_faults()
FEWEST = 200


def test_the_kit_is_sound_before(sound: Sample) -> None:
    """What faults are sown into has nothing that stops or warns."""
    assert [one for one in sound.findings if one.severity is not Severity.NOTE] == []


def test_the_table_is_long_enough() -> None:
    """Two hundred faults and more, each once."""
    assert len({named(fault) for fault in FAULTS}) == len(FAULTS) >= FEWEST


@pytest.mark.parametrize("fault", FAULTS, ids=named)
def test_a_fault_is_found(fault: Fault, sound: Sample) -> None:
    """Its code is found with its severity, and no stop but those that it brings along."""
    found = new(fault.spoil(sound, TWICE), sound)
    assert fault.severity in {one.severity for one in found if one.code == fault.code}, sorted(found)
    assert stops(found) - {fault.code} <= fault.besides, sorted(found)
