"""Faults of strength and of place: what breaks, bends, softens or grows under what it carries and where it is."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from nookwright.checks.strength.place import LAID_C, ROOM_C
from nookwright.checks.strength.plastics import TABLE
from nookwright.ground.findings import Severity
from nookwright.survey.plastic_sheet import PlasticKind

from .table import plain, sized

if TYPE_CHECKING:
    from .harness import Sample

PLA = TABLE[PlasticKind.PLA]
PROBE_G = 20_000.0  # of one thing: too much for anything here


def _heavier(sample: Sample, lot: str, mass_g: float) -> Sample:
    """With one thing of a lot as heavy as that, in spaces that may carry anything."""
    (one,) = (entry for entry in sample.kit.lots if entry.id == lot)
    heavier = sample.surveyed("lot", lot, mass_g=mass_g).having("lots", lot, mass_g=mass_g * one.count)
    for space in sample.room.space:
        heavier = heavier.surveyed("space", space.id, load_kg=5000)
    return heavier


@cache
def _limit_g(sample: Sample, lot: str, code: str) -> float:
    """The mass of one thing at which a code begins: what it finds grows with the mass."""
    (computed, limit), (more, _) = (_heavier(sample, lot, mass).figure(code) for mass in (PROBE_G, 2 * PROBE_G))
    rise = (more - computed) / PROBE_G
    return PROBE_G - (computed - limit) / rise


@sized("material-softens", f"{PLA.most_c:g} degrees, which PLA may stay at", twin=0.8)
def beside_the_heater(sample: Sample, size: float) -> Sample:
    """PLA is beside a heater."""
    return sample.surveyed("space", "bay", warm=True, warmest_c=size * PLA.most_c)


@sized("liner-grows", "the room that a liner has")
def liner_grows(sample: Sample, size: float) -> Sample:
    """A liner has less room in its drawer than it grows in summer."""
    (space,) = (one for one in sample.kit.spaces if one.id == "drawer")
    boxes = [sample.box_of(one.id) for one in sample.kit.placements if one.space == "drawer"]
    far, near = max(high[0] for _, high in boxes), min(low[0] for low, _ in boxes)
    growth = PLA.expansion_per_k * (ROOM_C - LAID_C) * (far - near)
    width = float(far - near + growth / size)
    usable = tuple(at.model_copy(update={"width": width, "x": float(near)}) for at in space.usable)
    return sample.having("spaces", "drawer", usable=usable)


@sized("rack-thin", "the stress that a rack may bear for years")
def rack_thin(sample: Sample, size: float) -> Sample:
    """A rack is too thin for what hangs in it."""
    rack = sample.part("rack")

    def loaded(mass_g: float) -> Sample:
        return sample.having("parts", rack.id, parameters=rack.parameters | {"mass_g": mass_g})

    computed, limit = loaded(PROBE_G).figure("rack-thin")
    own = rack.mass_g / float(rack.parameters["count"])  # type: ignore[arg-type]
    return loaded((PROBE_G + own) * size * limit / computed - own)


@sized("roof-weak", "the stress that a lid may bear for years")
def lid_weak(sample: Sample, size: float) -> Sample:
    """What stands on a deck lid is too heavy for it."""
    return _heavier(sample, "tokens", size * _limit_g(sample, "tokens", "roof-weak"))


@plain("floor-weak")
def floor_weak(sample: Sample) -> Sample:
    """A tray's floor is too thin for what lies in it."""
    return _heavier(sample, "coin-cells", PROBE_G)


@plain("rest-weak", severity=Severity.WARN)
def rest_weak(sample: Sample) -> Sample:
    """A rest carries a knife that is too heavy for it."""
    return _heavier(sample, "knife", PROBE_G)


@plain("stack-presses", besides=("roof-weak", "stack-buckles"))
def stack_presses(sample: Sample) -> Sample:
    """A stack is so heavy that it crushes the tray below."""
    return _heavier(sample, "tokens", PROBE_G)
