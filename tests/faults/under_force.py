"""Faults that show under force: what slides, topples, is thrown, lifts or tips over."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from nookwright.checks.bodies import matrix_of
from nookwright.checks.forces.drawing import RESERVE
from nookwright.checks.forces.lifting import HELD_N
from nookwright.checks.forces.stands import Loads
from nookwright.checks.forces.tipping import SAFE, TALL, tip_of
from nookwright.ground.findings import Severity

from .solids import box
from .table import plain, sized

if TYPE_CHECKING:
    from .harness import Sample

GRAVITY = 9.81


@sized("load-over", "what the drawer may carry")
def overloaded(sample: Sample, size: float) -> Sample:
    """A drawer carries more than it may."""
    return sample.surveyed("space", "drawer", load_kg=_load_g(sample, "drawer") / 1000 / size)


@plain("load-assumed-over", severity=Severity.WARN)
def assumed_over(sample: Sample) -> Sample:
    """A drawer may carry too much, by things that nobody weighed."""
    lighter = sample.surveyed("lot", "dice", mass_g=None)
    return lighter.surveyed("space", "drawer", load_kg=(_load_g(sample, "drawer") - 60) / 1000)


@plain("mass-assumed", severity=Severity.NOTE)
def not_weighed(sample: Sample) -> Sample:
    """Nobody weighed the dice."""
    return sample.surveyed("lot", "dice", mass_g=None)


@sized("dispenser-lifts", "the weight of the dispenser with all in it", severity=Severity.WARN)
def ballast_too_light(sample: Sample, size: float) -> Sample:
    """The ballast of a dispenser is too light for the pull."""
    loads = Loads(sample.kit, sample.room, sample.shapes)
    tray, lid = (sample.placed(label).id for label in ("napkins", "sliding lid, napkins"))
    empty_g = loads.of_part(tray).mass_g + loads.of_part(lid).mass_g
    full_g = empty_g + sum(one.mass_g for one in loads.things[tray])
    needs_g = size * (full_g + 100) if size > 1 else size * (empty_g + 100) / RESERVE  # the last sheet, with a reserve
    pull = {"ballast_g": 100, "force_n": needs_g / 1000 * GRAVITY}
    return sample.surveyed("lot", "napkins", pull=pull)


@sized("cradle-lifts", "the weight of the empty cradle", severity=Severity.NOTE)
def cradle_too_light(sample: Sample, size: float) -> Sample:
    """A cradle is lighter than its pockets hold."""
    cradle = sample.placed("jars").part
    held = sample.fitted("jars", "held")
    heavier = held.having("parts", cradle, mass_g=RESERVE * HELD_N / GRAVITY * 1000 / size)
    return replace(heavier, as_weighed=True, aside=frozenset({"mass-wrong"}))  # no such print can be so heavy


@plain("slam-slides", severity=Severity.WARN, besides=("cone-missing", "part-not-engaged"))
def no_cones(sample: Sample) -> Sample:
    """A part in the open has no cone below it when its drawer is slammed."""
    low, high = sample.box_of("coin-cells")
    panel = sample.placed("liner panel")
    at = matrix_of(panel.space_from_part)[:3, 3]
    off = box((*(low - at)[:2], 0.65), (*(high - at)[:2], 9))
    return sample.cut(panel.part, lambda solid: solid - off)


@sized("slam-topples", "the speed at which it goes over", severity=Severity.WARN)
def slammed(sample: Sample, size: float) -> Sample:
    """A drawer is slammed so hard that a tall tray goes over."""
    stand = next(one for one in Loads(sample.kit, sample.room, sample.shapes).stands["drawer"] if one.label == "cards")
    back = float(min(stand.high[1] - stand.mass.centre[1], stand.mass.centre[1] - stand.low[1]))
    up = float(stand.mass.centre[2] - stand.low[2])
    inertia = stand.mass.about_x / stand.mass.mass_g + back**2 + up**2
    rise = math.hypot(back, up) - up
    speed = math.sqrt(2 * GRAVITY * 1000 * rise * inertia) / up / 1000
    return sample.surveyed("space", "drawer", shut_m_s=size * speed)


@sized("furniture-tips", f"{SAFE:g} times what tips it", severity=Severity.WARN)
def tipping(sample: Sample, size: float) -> Sample:
    """A free-standing chest is too light for its loaded drawers."""
    loads = Loads(sample.kit, sample.room, sample.shapes)
    inside = {space.id: space for space in sample.kit.spaces}
    spaces = [space for space in sample.room.space if space.furniture == "sideboard"]
    (piece,) = sample.room.furniture

    def ratio(mass_kg: float) -> float:
        changed = piece.model_copy(update={"mass_kg": mass_kg})
        return tip_of(changed, spaces, inside, loads, [space.id for space in spaces]).ratio

    wanted, light, heavy = SAFE / size, 10.0, 100.0
    share = (wanted - ratio(light)) / (ratio(heavy) - ratio(light))
    return sample.surveyed("furniture", "sideboard", mass_kg=light + share * (heavy - light))


@sized("furniture-anchor", f"{TALL:g} mm high", severity=Severity.NOTE)
def tall_furniture(sample: Sample, size: float) -> Sample:
    """A tall chest stands free, however heavy it is."""
    return sample.surveyed("furniture", "sideboard", mass_kg=400, height=size * TALL)


@plain("furniture-anchor", severity=Severity.WARN, besides=("out-of-reach",))
def anchored_by_nobody(sample: Sample) -> Sample:
    """Children open the drawers of a tall chest that stands free, and nobody knows how heavy it is."""
    return sample.surveyed("furniture", "sideboard", mass_kg=None).surveyed("space", "drawer", children=True)


@plain("load-forward", severity=Severity.WARN)
def heavy_in_front(sample: Sample) -> Sample:
    """A drawer that comes out partly is loaded in its front half, nearly as much as it may carry."""
    load_kg = 1.1 * _load_g(sample, "low") / 1000
    return sample.surveyed("space", "low", load_kg=load_kg, pulls_out=60.0)


@plain("furniture-unsaid", severity=Severity.NOTE)
def unsaid(sample: Sample) -> Sample:
    """Nothing is said of the furniture that a high drawer is in."""
    return sample.surveyed("space", "drawer", furniture=None)


def _load_g(sample: Sample, space: str) -> float:
    """Parts and things in a space, added up from kit.json and the room."""
    names = {one.id for one in sample.kit.placements if one.space == space}
    parts = {part.id: part.mass_g for part in sample.kit.parts}
    lots = {lot.id: lot.mass_g or 3.0 for lot in sample.room.lot}
    things = sum(lots[lot.id] * at.count for lot in sample.kit.lots for at in lot.places if at.placement in names)
    return things + sum(parts[one.part] for one in sample.kit.placements if one.space == space)
