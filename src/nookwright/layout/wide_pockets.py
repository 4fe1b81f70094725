"""Notes on lots whose pockets have much play: what would be better, in mm and grams."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.findings import Finding, Severity
from nookwright.module.choice import TYPICAL_DENSITY_G_CM3
from nookwright.module.lines import WALL
from nookwright.sizing.fits.advice import Sleeve, advice
from nookwright.sizing.lot_sizes import judged_of
from nookwright.sizing.ways import PartKind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.layout.model import Layout
    from nookwright.sizing.fits.advice import Advice
    from nookwright.sizing.lot_sizes import Terms
    from nookwright.survey.models import Room

_MM3_PER_CM3 = 1000.0


def about_pockets(room: Room, layout: Layout, terms: Terms) -> tuple[Finding, ...]:
    """A note on every lot whose pockets have much play.

    Args:
        room: as surveyed.
        layout: what goes where.
        terms: by which its pockets were sized.
    """
    return tuple(_notes(room, layout, terms))


def _notes(room: Room, layout: Layout, terms: Terms) -> Iterator[Finding]:
    ways = {placed.candidate.lot: placed.candidate.way for placed in layout.placed if placed.candidate}
    for lot in room.lot:
        way = ways.get(lot.id)
        if way is None or way.kind is not PartKind.CRADLE:
            continue
        sleeve = Sleeve(float(WALL), way.wall_height, way.places)
        found = advice(judged_of(lot, "diameter", terms), sleeve, terms.confidence)
        if found:
            yield Finding("pockets-wide", Severity.NOTE, lot.id, _text(found), _remedy(found))


def _text(found: Advice) -> str:
    two, ribs = found.two_sizes, found.ribs
    ways = [
        f"pockets of two sizes, half of them up to {found.small:.1f} mm, {two.play:.1f} mm and {_grams(two.mm3)}",
        f"ribs that yield take all of it and {_grams(ribs.mm3)}",
    ]
    if found.more:
        ways.insert(0, f"measuring {found.more} more, {found.measured.play:.1f} mm and {_grams(found.measured.mm3)}")
    play = f"The middle one of its things has {found.play:.1f} mm of play beyond its fit"
    return f"{play}. What takes it off: {'; '.join(ways)}."


def _grams(mm3: float) -> str:
    grams = mm3 / _MM3_PER_CM3 * TYPICAL_DENSITY_G_CM3
    return f"save {grams:.1f} g" if grams >= 0 else f"cost {-grams:.1f} g"


def _remedy(found: Advice) -> str:
    split = "split the lot into a small and a large half, or line the pockets with felt that yields."
    if found.more:
        return f"Measure {found.more} more of them; if they differ as much, {split}"
    return f"{split[0].upper()}{split[1:]}"
