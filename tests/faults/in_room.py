"""Faults of room: what has no room to come in, to move, to be taken hold of, or to be taken out."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from nookwright.ground.findings import Severity
from nookwright.module.stacking import HEIGHT_SHARE, SEAT_RESERVE

from .solids import box
from .table import plain, sized

if TYPE_CHECKING:
    from nookwright.exchange.kit import KitPrinterError

    from .harness import Sample


@cache
def _gap_needed(sample: Sample) -> float:
    """What the coin tray and its neighbour need between them at their largest, mm."""
    return sample.moved("coin-cells", x=-0.58).figure("gap-too-small")[1]


@sized("gap-too-small", "the gap that two parts need at their largest", besides=("part-on-cones", "parts-collide"))
def too_near(sample: Sample, size: float) -> Sample:
    """A tray stands too near to its neighbour."""
    (near, _), (_, far) = sample.box_of("coin-cells"), sample.box_of("cards")
    return sample.moved("coin-cells", x=float(far[0] - near[0]) + _gap_needed(sample) / size)


@plain("hits-on-travel", besides=("space-too-large",))
def passes_under(sample: Sample) -> Sample:
    """A drawer passes under an edge that its stack is higher than."""
    _, (_, _, top) = sample.box_of("tokens, above erasers")
    edge = {"what": "the edge of the table", "height": float(top) - 2}
    return sample.surveyed("space", "low", passes_under=(edge,))


@sized("opening-too-small", "the least height that lets every part pass")
def narrow_opening(sample: Sample, size: float) -> Sample:
    """The opening of a drawer is too low for a tray, however it is turned."""
    names = {one.part for one in sample.kit.placements if one.space == "drawer"}
    least = max(min(part.size) for part in sample.kit.parts if part.id in names)
    return sample.surveyed("space", "drawer", opening=(400.0, least / size))


@plain("part-shut-in")
def shut_in(sample: Sample) -> Sample:
    """A pipe is right above a tray: it cannot be lifted out."""
    low, high = sample.box_of("coin-cells")
    return sample.blocking("drawer", (low[0] + 4, low[1] + 4, high[2] + 2), (high[0] - 4, high[1] - 4, high[2] + 30))


@plain("thing-stuck")
def barred(sample: Sample) -> Sample:
    """A bar across the top of a tray keeps its things in."""
    part = sample.part("tray", "35x35")
    width, depth, height = part.size
    bar = box((0.5, depth / 2 - 4, height - 3.05), (width - 0.5, depth / 2 + 4, height - 0.05))
    return sample.cut(part.id, lambda solid: solid + bar)


@plain("lid-stuck", besides=("lid-tight", "overhang", "parts-collide"))
def lid_stuck(sample: Sample) -> Sample:
    """A sliding lid has a knob on top that is wider than the way out between its rails."""
    lid = sample.placed("sliding lid, napkins")
    width, depth, height = next(part.size for part in sample.kit.parts if part.id == lid.part)
    knob = box((0.0, depth - 9, 0.5), (width, depth - 3, height))
    return sample.cut(lid.part, lambda solid: solid + knob)


@plain("no-room-to-lift", besides=("hits-on-travel",))
def no_room_above(sample: Sample) -> Sample:
    """A drawer that comes out only half is too low to lift a tray off its cones at the back."""
    _, (_, _, top) = sample.box_of("tokens, above erasers")
    lowered = sample.lowered("low", float(top) + 1)
    return lowered.surveyed("space", "low", pulls_out=40.0, height=float(top) + 1)


@sized("hits-on-travel", "what seats and uneven layers add to its height", severity=Severity.WARN)
def nearly_passes_under(sample: Sample, size: float) -> Sample:
    """A drawer passes under an edge that its tallest things clear as drawn, and may not as printed."""
    (lot,) = (one for one in sample.kit.lots if one.id == "cards")
    (_, _, floor), _ = sample.box_of("cards")
    drawn = float(floor) + lot.places[0].at[0][2] + lot.places[0].size[2]
    added = drawn * HEIGHT_SHARE + SEAT_RESERVE
    height = drawn + added / size
    return sample.lowered("drawer", height).surveyed("space", "drawer", height=height)


@plain("tops-meet", severity=Severity.WARN)
def tops_meet(sample: Sample) -> Sample:
    """The floor of a drawer sags so far that the tops of its trays lean together."""
    return sample.having("spaces", "drawer", bow=6.0)


@plain("part-outside-when-large", severity=Severity.WARN, besides=("gap-too-small", "printer-errors-otherwise"))
def too_large_when_printed(sample: Sample) -> Sample:
    """A printer prints one per cent too large, as its coupon says: the liner no longer fits its drawer."""

    def larger(component: KitPrinterError) -> KitPrinterError:
        return component.model_copy(update={"value": 0.01}) if component.name.startswith("scale") else component

    printers = tuple(
        printer.model_copy(
            update={
                "errors": tuple(
                    one.model_copy(update={"basis": "coupon", "components": tuple(map(larger, one.components))})
                    for one in printer.errors
                )
            }
        )
        for printer in sample.kit.printers
    )
    return sample.saying(printers=printers)


@plain("lid-no-stop", severity=Severity.WARN)
def lid_no_stop(sample: Sample) -> Sample:
    """A sliding lid has no nose that stops it: it slides right out of its tray."""
    lid = sample.placed("sliding lid, napkins")
    return sample.cut(lid.part, lambda solid: solid.trim_by_plane((0, 0, -1), -2.0))
