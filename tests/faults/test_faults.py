"""Every fault of the table is found in the files of a kit that was sound, and its twin just inside stops nothing."""

from __future__ import annotations

from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from nookwright.ground.findings import Severity

from .table import FAULTS, TWICE

if TYPE_CHECKING:
    from nookwright.ground.findings import Finding

    from .harness import Sample
    from .table import Fault

MODULES = sorted(path.stem for path in Path(__file__).parent.glob("[io][nf]_*.py"))
for module in MODULES:
    import_module(f".{module}", __package__)
SIZED = [fault for fault in FAULTS if fault.twin]
FEWEST = 40


def named(fault: Fault) -> str:
    """How a test of a fault is called."""
    return f"{fault.area}: {fault.name}"


def new(spoilt: Sample, sound: Sample) -> set[Finding]:
    """What proving says of a spoilt kit and not of the sound one."""
    return set(spoilt.findings) - set(sound.findings)


def stops(findings: set[Finding]) -> set[str]:
    """The codes of those that say do not print."""
    return {one.code for one in findings if one.severity is Severity.STOP}


def test_the_kit_is_sound_before(sound: Sample) -> None:
    """What faults are sown into has nothing that stops or warns."""
    assert [one for one in sound.findings if one.severity is not Severity.NOTE] == []


def test_the_table_is_long_enough() -> None:
    """Forty faults and more, each once."""
    assert len({named(fault) for fault in FAULTS}) == len(FAULTS) >= FEWEST


@pytest.mark.parametrize("fault", FAULTS, ids=named)
def test_a_fault_is_found(fault: Fault, sound: Sample) -> None:
    """Its code is found with its severity, and no stop but those that it brings along."""
    found = new(fault.spoil(sound, TWICE), sound)
    assert fault.severity in {one.severity for one in found if one.code == fault.code}, sorted(found)
    assert stops(found) - {fault.code} <= fault.besides, sorted(found)


@pytest.mark.parametrize("fault", SIZED, ids=named)
def test_its_twin_just_inside_stops_nothing(fault: Fault, sound: Sample) -> None:
    """Just inside its limit nothing stops, and its own code is not found at all."""
    found = new(fault.spoil(sound, fault.twin), sound)
    assert stops(found) == set(), sorted(found)
    assert fault.code not in {one.code for one in found}, sorted(found)
