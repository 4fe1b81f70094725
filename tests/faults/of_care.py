"""Faults of care: what stays wet, is too heavy to lift, or goes onto another printer than it should."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.checks.bed_cards import HALF_G
from nookwright.checks.care.lifting import HEAVIEST_G
from nookwright.ground.findings import Severity
from nookwright.survey.cutting_wishes import PrintedOn

from .harness import shifted
from .solids import box
from .table import plain, sized

if TYPE_CHECKING:
    from .harness import Sample


@plain("lot-in-wet")
def in_the_wet(sample: Sample) -> Sample:
    """Cards that must stay dry lie where it gets wet."""
    return sample.surveyed("lot", "cards", keep_dry=True).surveyed("space", "drawer", wet=True)


@plain("lot-in-warm")
def in_the_warm(sample: Sample) -> Sample:
    """Tea that must stay cool stands where it gets warm."""
    return sample.surveyed("lot", "tea", keep_cool=True).surveyed("space", "bay", warm=True, warmest_c=40)


@plain("floor-undrained", severity=Severity.WARN)
def undrained(sample: Sample) -> Sample:
    """Trays without holes stand where it gets wet."""
    return sample.surveyed("space", "drawer", wet=True)


@plain("hollow-closed", besides=("mesh-in-pieces",))
def closed_hollow(sample: Sample) -> Sample:
    """A hollow is closed on all sides: water that seeps in stays."""
    part = sample.part("riser")
    block, hollow = box((0, 0, 0), part.size), box((20, 20, 8), (50, 50, 20))
    return sample.cut(part.id, lambda _: block - hollow)


@sized("lift-heavy", f"{HEAVIEST_G:g} g", severity=Severity.NOTE)
def too_heavy(sample: Sample, size: float) -> Sample:
    """A tray is too heavy for one hand."""
    (lot,) = (one for one in sample.kit.lots if one.id == "dice")
    own_g = next(part.mass_g for part in sample.kit.parts if part.id == sample.placed("dice").part)
    things_g = size * HEAVIEST_G - own_g
    heavier = sample.surveyed("lot", "dice", mass_g=things_g / lot.count).having("lots", "dice", mass_g=things_g)
    return heavier.surveyed("space", "drawer", load_kg=50)


@plain("printed-elsewhere")
def elsewhere(sample: Sample) -> Sample:
    """A part is printed on another printer than the room file says."""
    wish = PrintedOn(lot="napkins", printer="large")
    return sample.where(making=sample.room.making.model_copy(update={"printed_on": (wish,)}))


@plain("not-whole")
def in_two(sample: Sample) -> Sample:
    """A tray that is to stay whole is printed in two pieces."""
    wish = PrintedOn(lot="straws", whole=True)
    return sample.where(making=sample.room.making.model_copy(update={"printed_on": (wish,)}))


@plain("card-unreadable")
def no_card(sample: Sample) -> Sample:
    """The print card of a bedful is gone."""
    return sample.overwritten(sample.kit.bedfuls[0].card, None)


@plain("card-differs")
def other_card(sample: Sample) -> Sample:
    """The print card of a bedful names another material."""
    card = sample.kit.bedfuls[0].card
    text = (sample.folder / card).read_text(encoding="utf-8")
    return sample.overwritten(card, text.replace("PETG red", "PLA white").encode())


@plain("hollow-wet", severity=Severity.WARN, besides=("piece-count", "belonging-missing"))
def hollow_in_the_wet(sample: Sample) -> Sample:
    """A hollow riser, whose cap is no seal, stands where it gets wet."""
    spice = sample.placed("spice")
    matrix = shifted(spice.space_from_part, 0, -13 * sample.kit.module.pitch)
    riser = spice.model_copy(
        update={"id": "drawer-901", "part": sample.part("riser").id, "label": "riser", "space_from_part": matrix}
    )
    placed = sample.saying(placements=(*sample.kit.placements, riser))
    return placed.surveyed("space", "drawer", wet=True)


@sized("card-figures", f"{HALF_G:g} g", severity=Severity.WARN)
def card_grams(sample: Sample, size: float) -> Sample:
    """The print card of a bedful says other grams than kit.json."""
    bedful = sample.kit.bedfuls[0]
    card = (sample.folder / bedful.card).read_text(encoding="utf-8")
    says = float(next(line for line in card.splitlines() if line.startswith("About ")).split()[1])
    return sample.having("bedfuls", bedful.id, mass_g=says + size * HALF_G)
