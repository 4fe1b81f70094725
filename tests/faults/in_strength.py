"""Faults of strength and of place: what breaks, bends, softens or grows under what it carries and where it is."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from nookwright.checks.strength.place import LAID_C, NEAR_C, ROOM_C
from nookwright.checks.strength.plastics import TABLE
from nookwright.ground.findings import Severity
from nookwright.survey.plastic_sheet import PlasticKind

from .table import plain, sized

if TYPE_CHECKING:
    from .harness import Sample

PLA = TABLE[PlasticKind.PLA]
PROBE_G = 20_000.0  # of one thing: too much for anything here


def heavier(sample: Sample, lot: str, mass_g: float) -> Sample:
    """With one thing of a lot as heavy as that, in spaces that may carry anything."""
    (one,) = (entry for entry in sample.kit.lots if entry.id == lot)
    heavier = sample.surveyed("lot", lot, mass_g=mass_g).having("lots", lot, mass_g=mass_g * one.count)
    for space in sample.room.space:
        heavier = heavier.surveyed("space", space.id, load_kg=5000)
    return heavier


def figure(sample: Sample, code: str) -> tuple[float, float]:
    """What the checks of strength compute, and its limit."""
    (found,) = (one.against for one in sample.strengths if one.code == code)
    assert found
    return found.computed, found.limit


@cache
def limit_g(sample: Sample, lot: str, code: str, probe_g: float = PROBE_G) -> float:
    """The mass of one thing at which a code begins: what it finds grows with the mass, from a mass that is too much."""
    (computed, limit), (more, _) = (figure(heavier(sample, lot, mass), code) for mass in (probe_g, 2 * probe_g))
    rise = (more - computed) / probe_g
    return probe_g - (computed - limit) / rise


@sized("material-softens", f"{PLA.most_c:g} degrees, which PLA may stay at", twin=0.8)
def beside_the_heater(sample: Sample, size: float) -> Sample:
    """PLA is beside a heater."""
    return sample.surveyed("space", "bay", warm=True, warmest_c=size * PLA.most_c)


@sized("material-softens", f"{NEAR_C:g} degrees below what PLA may stay at", severity=Severity.WARN)
def near_the_heater(sample: Sample, size: float) -> Sample:
    """PLA is in a place that is nearly too warm for it."""
    return sample.surveyed("space", "bay", warm=True, warmest_c=PLA.most_c - NEAR_C / size)


@plain("spring-slack", besides=("part-not-engaged", "stands-otherwise"))
def spring_alone(sample: Sample) -> Sample:
    """A sprung filler alone keeps things in place: its drawer has no panel with cones."""
    panel = sample.placed("low-001").part
    return sample.having("parts", panel, kind=sample.part("filler").kind)


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

    computed, limit = figure(loaded(PROBE_G), "rack-thin")
    own = rack.mass_g / float(rack.parameters["count"])  # type: ignore[arg-type]
    return loaded((PROBE_G + own) * size * limit / computed - own)


@sized("roof-weak", "the stress that a lid may bear for years")
def lid_weak(sample: Sample, size: float) -> Sample:
    """What stands on a deck lid is too heavy for it."""
    return heavier(sample, "tokens", size * limit_g(sample, "tokens", "roof-weak"))


@plain("floor-weak")
def floor_weak(sample: Sample) -> Sample:
    """A tray's floor is too thin for what lies in it."""
    return heavier(sample, "coin-cells", PROBE_G)


@plain("rest-weak", severity=Severity.WARN)
def rest_weak(sample: Sample) -> Sample:
    """A rest carries a knife that is too heavy for it."""
    return heavier(sample, "knife", PROBE_G)


@plain("stack-presses", besides=("roof-weak", "stack-buckles"))
def stack_presses(sample: Sample) -> Sample:
    """A stack is so heavy that it crushes the tray below."""
    return heavier(sample, "tokens", PROBE_G)


@sized("roof-sags", "a hundredth of its span", severity=Severity.WARN, besides=("roof-weak",))
def lid_sags(sample: Sample, size: float) -> Sample:
    """A deck lid hangs under what stands on it."""
    return heavier(sample, "tokens", size * limit_g(sample, "tokens", "roof-sags"))


@sized("joint-weak", "what glue holds", severity=Severity.WARN)
def joint_weak(sample: Sample, size: float) -> Sample:
    """A tray in two pieces, which are to be glued, is too heavy for its joint when it is lifted by its ends."""
    part = sample.placed("straws").part
    (whole,) = (one for one in sample.kit.parts if one.id == part)
    joints = tuple(joint.model_copy(update={"dry": False}) for joint in whole.joints)
    glued = sample.having("parts", part, joints=joints)
    return heavier(glued, "straws", size * limit_g(glued, "straws", "joint-weak"))


@sized("floor-lifted", "what the plastic bears at once", severity=Severity.WARN)
def floor_lifted(sample: Sample, size: float) -> Sample:
    """A tray's floor is too thin to be lifted with what lies in it."""
    return heavier(sample, "straws", size * limit_g(sample, "straws", "floor-lifted"))


@sized("wall-leant-on", "the stress that a wall may bear for years")
def wall_leant_on(sample: Sample, size: float) -> Sample:
    """Loose things lean on a wall that is too thin for them."""
    return heavier(sample, "clips", size * limit_g(sample, "clips", "wall-leant-on"))


@sized("wall-slammed", "what the plastic bears at once", severity=Severity.WARN)
def wall_slammed(sample: Sample, size: float) -> Sample:
    """Heavy things are thrown against a wall when their drawer is slammed."""
    return heavier(sample, "coin-cells", size * limit_g(sample, "coin-cells", "wall-slammed", probe_g=150.0))
