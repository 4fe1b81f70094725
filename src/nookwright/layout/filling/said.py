"""What is wished of filling, from the room file, and what there is to say about it afterwards."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.findings import Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.layout.filling.bay import LEAST_SIDE
from nookwright.layout.filling.fill import Filled, FillWish
from nookwright.survey.models import Rest

if TYPE_CHECKING:
    from nookwright.layout.filling.fill import Filling, FillPrice
    from nookwright.module.module import Module
    from nookwright.survey.models import Choices, Space

MM2_PER_CM2 = Fact(100.0, unit="mm2/cm2", kind=Kind.STANDARD, source="SI.")

_INSTEAD = {
    Filled.ODDS: "Say odds_and_ends = false there to leave it out.",
    Filled.GROWN: 'Say rest = "open" there to leave them as small as their things.',
    Filled.SPARE: 'Say rest = "open" there to print them when you need them.',
    Filled.FENCED: 'Say rest = "open" there to leave them out; trays on cones stay where they are without.',
}


def fill_wish(space: Space, choices: Choices) -> FillWish:
    """What is wished for the free cells of a space, from its own keys and the choices of the room.

    Args:
        space: as surveyed.
        choices: of the room.
    """
    odds = choices.odds_and_ends if space.odds_and_ends is None else space.odds_and_ends
    return FillWish(rest=Rest(space.rest or choices.rest), odds=odds)


def about_filling(filling: Filling, module: Module) -> tuple[Finding, ...]:
    """The price of each filling, and the bays that could not be.

    Args:
        filling: what was filled.
        module: the household's module.
    """
    least = LEAST_SIDE * module.pitch
    small = f"Its free floor makes no bay of {least:.0f} mm and more each way, so it stays open, without a fence."
    bare = "Its liner has cones in strips or nowhere, which would not hold a fence, so its free floor stays open."
    none = [
        *((name, small, "Keep less in it, or choose what else becomes of the rest.") for name in filling.without_bay),
        *((name, bare, 'Say liner = "full" or "sparse" there for a fence.') for name in filling.without_cones),
    ]
    unfenced = (Finding("no-bay", Severity.NOTE, name, text, remedy) for name, text, remedy in none)
    return (*(_price(one, module) for one in filling.prices), *unfenced)


def _price(one: FillPrice, module: Module) -> Finding:
    area_cm2 = one.cells * module.pitch**2 / MM2_PER_CM2
    text = f"{one.parts} {_named(one)} {area_cm2:.0f} cm² that were free; {one.mass_g:.0f} g of plastic."
    return Finding("floor-filled", Severity.NOTE, one.space, text, _INSTEAD[one.what])


def _named(one: FillPrice) -> str:
    """What the parts are, in words, with their verb."""
    several = one.parts > 1
    return {
        Filled.ODDS: "tray for odds and ends takes up",
        Filled.GROWN: "trays grew and take up" if several else "tray grew and takes up",
        Filled.SPARE: "spare trays take up" if several else "spare tray takes up",
        Filled.FENCED: "fences round an open bay take up" if several else "fence beside an open bay takes up",
    }[one.what]
