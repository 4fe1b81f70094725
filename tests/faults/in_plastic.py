"""Faults of plastics: one that bears too little, bends too far, or breaks where it is bent."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from nookwright.checks.strength.plastics import plastic_of
from nookwright.ground.findings import Severity
from nookwright.survey.plastic_sheet import PlasticSheet

from .in_strength import figure, heavier, limit_g
from .table import sized

if TYPE_CHECKING:
    from .harness import Sample

STIFF_MPA = 20_000.0  # so stiff that nothing bends as far as it is thick
BRITTLE_MPA = 2.0  # so weak that everything is too much
STRONG_MPA = 500.0  # so strong that nothing breaks
STRAIN_PERCENT = 0.1  # of which everything that is bent has more
PER_CENT = 100.0


def _of(sample: Sample, material: str, **sheet: float) -> Sample:
    """With other figures on the data sheet of a material."""
    return sample.surveyed("material", material, sheet=PlasticSheet(**sheet))


def _weak(sample: Sample, material: str, strength_mpa: float) -> Sample:
    """With a stiff material of that strength, which bears as much for years as before."""
    (one,) = (entry for entry in sample.room.material if entry.id == material)
    years = min(PER_CENT, PER_CENT * plastic_of(one).years_mpa / strength_mpa)
    return _of(sample, material, modulus_mpa=STIFF_MPA, strength_mpa=strength_mpa, years_percent=years)


@cache
def _strength_at(sample: Sample, material: str, code: str) -> float:
    """The strength of a material at which a code ends, MPa."""
    computed, limit = figure(_weak(sample, material, BRITTLE_MPA), code)
    return BRITTLE_MPA * computed / limit


@sized("roof-pressed", "the stress that the plastic of a lid bears at once", severity=Severity.WARN)
def roof_pressed(sample: Sample, size: float) -> Sample:
    """A lid is of a plastic that breaks under a hand."""
    return _weak(sample, "red", _strength_at(sample, "red", "roof-pressed") / size)


@sized("wall-pushed", "the stress that the plastic of a wall bears at once", severity=Severity.WARN)
def wall_pushed(sample: Sample, size: float) -> Sample:
    """Walls are of a plastic that breaks when a hand pushes at a rim."""
    return _weak(sample, "blue", _strength_at(sample, "blue", "wall-pushed") / size)


@sized("divider-weak", "the stress that the plastic of a divider bears at once", severity=Severity.WARN)
def divider_weak(sample: Sample, size: float) -> Sample:
    """A loose divider is of a plastic that breaks when a hand pushes at it."""
    return _weak(sample, "blue", _strength_at(sample, "blue", "divider-weak") / size)


@sized("snap-strained", "the strain that the plastic of a spring bears")
def snap_strained(sample: Sample, size: float) -> Sample:
    """A sprung filler is of a plastic that its springs strain too far."""
    found, _ = figure(_of(sample, "white", strain_percent=STRAIN_PERCENT), "snap-strained")
    return _of(sample, "white", strain_percent=found / size)


@sized("stack-buckles", "a third of what makes a wall buckle")
def stack_buckles(sample: Sample, size: float) -> Sample:
    """A stack stands on a tray of a plastic so strong that a wall of it buckles before anything breaks."""
    strong = _of(sample, "white", strength_mpa=STRONG_MPA)
    return heavier(strong, "tokens", size * limit_g(strong, "tokens", "stack-buckles"))
