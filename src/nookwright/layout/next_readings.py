"""The readings that are worth taking next, by what they gain in a minute; none when no decision would change.

Rough sizes come first: a layout made with them leaves room for what they may hide. A lot of published size, and one of
which every thing was measured, is never asked for.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.layout.reading_effects import effect_of
from nookwright.layout.reading_sides import next_of_side
from nookwright.sizing.fits.chain import Pockets
from nookwright.sizing.fits.found import tried_of
from nookwright.sizing.lot_sizes import dimensions_of, fit_of, judged_of, sized
from nookwright.sizing.next_readings.gain import Gain, effort_s, rate
from nookwright.sizing.next_readings.instruments import instrument_for, reading_error_of
from nookwright.sizing.next_readings.reasons import why_space, why_thing
from nookwright.sizing.next_readings.sides import SIDES
from nookwright.sizing.next_readings.things import Asked, InPockets, Loose, Outcome, next_of
from nookwright.sizing.ways import PartKind, capacity
from nookwright.survey.readings import Published

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from nookwright.layout.model import Candidate, Placed
    from nookwright.layout.plan import Plan
    from nookwright.sizing.next_readings.things import Sizing
    from nookwright.survey.models import Lot, Room
    from nookwright.survey.origins import Instrument


@dataclass(frozen=True)
class NextReading:
    """Something to measure next.

    Attributes:
        subject: id of a lot or of a space.
        name: of it, for people.
        dimension: key of the room file that gets the readings: ``diameter``, ``width``.
        readings: how many, each of another thing, or at another place along the wall.
        instrument: what to take them with.
        rough: what is known so far is rough.
        gain: what they gain together.
        why: the same in words.
    """

    subject: str
    name: str
    dimension: str
    readings: int
    instrument: Instrument
    rough: bool
    gain: Gain
    why: str

    @property
    def effort_s(self) -> float:
        """How long they take, s."""
        return effort_s(self.readings)

    @property
    def rate(self) -> float:
        """What they gain in a minute, in units of the least that counts."""
        return rate(self.gain, self.readings)


def next_readings(room: Room, plan: Plan) -> tuple[NextReading, ...]:
    """All readings that are worth taking, the best first.

    Args:
        room: as surveyed.
        plan: its layout by what is known now.
    """
    found = [*_of_lots(room, plan), *_of_spaces(plan)]
    best = {one.subject: max(other.rate for other in found if other.subject == one.subject) for one in found}
    return tuple(sorted(found, key=lambda one: _rank(one, best[one.subject])))


def _rank(one: NextReading, best: float) -> tuple[bool, float]:
    """Rough lots first, all their sizes together; then by what is gained in a minute."""
    return (not one.rough, -round(best if one.rough else one.rate, 6))


def _of_lots(room: Room, plan: Plan) -> Iterator[NextReading]:
    placed = {one.candidate.lot: one for one in plan.layout.placed if one.candidate}
    given = {name for one in placed.values() if one.candidate for name in _not_by_size(one.candidate)}
    for lot in room.lot:
        if lot.id in given:
            continue
        home = placed.get(lot.id)
        asked = {side: _asked(plan, lot, side, home) for side in dimensions_of(lot) if _open(lot, side)}
        for side, best in asked.items():
            # who measures a rough lot takes all its sizes: those left over would be taken for measured ones
            found = best or (Asked(1, Gain()) if lot.rough and any(asked.values()) else None)
            if found:
                yield _reading(plan, lot, side, found, homeless=home is None)


def _not_by_size(candidate: Candidate) -> tuple[str, ...]:
    """Lots whose part does not follow from the size of one thing: heaps, boxes, shared trays."""
    return () if candidate.way.by_size else candidate.way.lots or (candidate.lot,)


def _open(lot: Lot, side: str) -> bool:
    """Whether a size was measured, not published."""
    return not isinstance(getattr(lot, side), Published)


def _reading(plan: Plan, lot: Lot, side: str, asked: Asked, *, homeless: bool) -> NextReading:
    return NextReading(
        subject=lot.id,
        name=lot.name or lot.id,
        dimension=side,
        readings=asked.readings,
        instrument=instrument_for(getattr(lot, side).largest),
        rough=lot.rough,
        gain=asked.gain,
        why=why_thing(asked.gain, plan.module.pitch, rough=lot.rough, homeless=homeless),
    )


def _asked(plan: Plan, lot: Lot, dimension: str, placed: Placed | None) -> Asked | None:
    """The readings of one dimension of a lot that are worth most."""
    if dimension == "diameter" and not lot.rough and tried_of(plan.terms.found, lot.id):
        return None  # its things were tried themselves
    known, sizing = judged_of(lot, dimension, plan.terms), _sizing(plan, lot, dimension, placed)
    decide: Callable[[float], Outcome] = _nowhere
    if placed is not None:
        height = plan.space(placed.space).grid.height
        decide = effect_of(lot, dimension, sizing.size(known), placed, module=plan.module, height=height)
    size = max(known.sampled.readings)
    error = reading_error_of(instrument_for(size), size)
    return next_of(known, sizing, decide, reading_error=error, rough=lot.rough)


def _nowhere(size: float) -> Outcome:
    """A lot without a place decides nothing; each millimetre may give it one."""
    return Outcome(size, 0, 0.0)


def _sizing(plan: Plan, lot: Lot, dimension: str, placed: Placed | None) -> Sizing:
    """How the size of a dimension is drawn where the lot is now."""
    way = placed.candidate.way if placed and placed.candidate else None
    if way and way.kind is PartKind.CRADLE and dimension == "diameter":
        pockets = Pockets(capacity(lot), round_hole=True)
        return InPockets(plan.terms.errors, pockets, fit_of(lot), plan.terms.confidence)
    return Loose(dimension, sized(lot, dimension, plan.terms).confidence, pocket=placed is None)


def _of_spaces(plan: Plan) -> Iterator[NextReading]:
    for space in plan.spaces:
        for side in SIDES if space.grid.fill else ():
            asked = next_of_side(space, side, plan)
            if asked:
                yield NextReading(
                    subject=space.space.id,
                    name=space.space.name or space.space.id,
                    dimension=side,
                    readings=asked.readings,
                    instrument=space.space.instrument,
                    rough=False,
                    gain=asked.gain,
                    why=why_space(asked.gain, side),
                )
