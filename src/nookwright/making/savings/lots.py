"""Savings at the trays of lots: what their candidates would weigh if a lot wished for less.

The candidates of the lots that change are worked out anew, from the ways of keeping them on; nothing is laid out.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.asks import asks_of
from nookwright.making.savings import model
from nookwright.making.savings.keys import Key, Table, applied
from nookwright.making.savings.model import Leaves, Saving, Weight
from nookwright.module.choice import TYPICAL_DENSITY_G_CM3
from nookwright.module.lines import WALL
from nookwright.parts.design import material_of
from nookwright.parts.trays.wishes import needs_of_room, wishes_of
from nookwright.sizing.ways import SMALL, Arrangement, Limits, PartKind
from nookwright.sizing.ways.household import ways_of_room
from nookwright.survey.models import FloorStyle, Keep, Shape
from nookwright.survey.tray_wishes import DividerWish, StripWish

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from nookwright.layout.model import Candidate
    from nookwright.layout.plan import Plan
    from nookwright.making.savings.rest import Unneeded
    from nookwright.sizing.ways import Way
    from nookwright.survey.models import Lot, Room

    Candidates = dict[str, tuple[Candidate, ...]]

CARD = Fact(1.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Board of boxes and pads: stiff enough to stand.")
_NAMED = 4  # lots that are named in a text; the keys name all


class LotParts:
    """The parts of all lots, and what they would weigh otherwise."""

    def __init__(self, room: Room, plan: Plan, unneeded: Unneeded) -> None:
        """Look up what stands where.

        Args:
            room: as surveyed.
            plan: what goes where.
            unneeded: what fills the cells that no lot needs.
        """
        self.room, self.plan, self.unneeded = room, plan, unneeded
        self.placed = {one.candidate.lot: one.candidate for one in plan.layout.placed if one.candidate}
        self.spaces = {one.candidate.lot: one.space for one in plan.layout.placed if one.candidate}
        self.lots = tuple(lot for lot in room.lot if lot.id in self.placed)
        self.density = {one.id: one.density_g_cm3 for one in room.material}
        fitted = [space.usable for space in plan.spaces if space.grid.fill]
        self.limits = Limits(
            length=max((max(one.width, one.depth) for one in fitted), default=0.0),
            height=max((one.height for one in fitted), default=0.0),
            wall=float(WALL),
            floor=room.choices.floor,
        )
        self.now = self._candidates(room, self.lots)

    def savings(self) -> Iterator[Saving]:
        """All that lots could do without."""
        yield self._floors()
        yield self._rolling()
        yield self._growth()
        yield self._pockets()
        yield self._strips()
        yield self._dividers()

    def _floors(self) -> Saving:
        """Shell floors where smooth ones are only wished for."""
        lots = [lot for lot in self.lots if self._smooth(lot) and not self._catches(lot)]
        gives_up = "Domes show on the floor."
        return self._each(
            Leaves.FLOORS, "Shell floors", lots, _key("floor", FloorStyle.SHELL), (gives_up, model.MISSED_SMOOTH)
        )

    def _rolling(self) -> Saving:
        """Shell floors under small and flat things too."""
        lots = [lot for lot in self.lots if self._smooth(lot) and self._catches(lot)]
        gives_up = "Small and flat things catch on the domes of the floor."
        return self._each(
            Leaves.FLOORS, "Shell floors", lots, _key("floor", FloorStyle.SHELL), (gives_up, model.MISSED_ROLLING)
        )

    def _growth(self) -> Saving:
        """No room to grow."""
        lots = [lot for lot in self.lots if lot.grow_percent > 0]
        gives_up = "The next ones that you buy have no place."
        return self._each(
            Leaves.GROWTH, "No room to grow", lots, _key("grow_percent", 0.0), (gives_up, model.MISSED_GROWTH)
        )

    def _pockets(self) -> Saving:
        """Trays in place of cradles, where the lot does not ask for one."""
        lots = [lot for lot in self.lots if lot.keep is Keep.ANY and self._way_of(lot).kind is PartKind.CRADLE]
        gives_up = "Tall round things fall against each other."
        loss = gives_up, model.MISSED_POCKET
        return self._each(Leaves.CRADLES, "Trays in place of cradles", lots, _key("keep", Keep.TRAY), loss)

    def _strips(self) -> Saving:
        """Trays without a place for a name."""
        lots = [lot for lot in self.lots if wishes_of(lot, self.room.choices).strip not in (None, StripWish.NONE)]
        key = _tray_key("strip", StripWish.NONE)
        return self._each(
            Leaves.STRIPS, "No name strips", lots, key, ("Names stand on paper or nowhere.", model.MISSED_STRIP)
        )

    def _dividers(self) -> Saving:
        """Dividers of card in place of printed ones."""
        lots = [lot for lot in self.lots if lot.tray.divided and lot.tray.dividers is not DividerWish.CARD]

        def keys(lot: Lot) -> tuple[Key, ...]:
            word = Key(Table.LOT_TRAY, "dividers", DividerWish.CARD, lot.id)
            return (word,) if lot.tray.card else (word, Key(Table.LOT_TRAY, "card", float(CARD), lot.id))

        gives_up = "Card is cut by hand, and wears."
        return self._each(Leaves.DIVIDERS, "Dividers of card", lots, keys, (gives_up, model.MISSED_DIVIDER))

    def _each(
        self,
        leaves: Leaves,
        text: str,
        lots: Sequence[Lot],
        keys: Callable[[Lot], tuple[Key, ...]],
        loss: tuple[str, float],
    ) -> Saving:
        """A saving at those of some lots that it makes lighter."""
        wished = applied(self.room, (key for lot in lots for key in keys(lot)))
        after = self._candidates(wished, lots)
        saved = {lot.id: self._saved(lot, after.get(lot.id, ())) for lot in lots}
        worth = sorted((lot for lot in lots if saved[lot.id].mass_g > 0), key=lambda lot: -saved[lot.id].mass_g)
        total = sum((saved[lot.id] for lot in worth), Weight())
        saving = Saving(
            leaves=leaves,
            text=f"{text}: {_named(worth)}",
            mass_g=total.mass_g,
            time_s=total.time_s,
            gives_up=loss[0],
            missed=float(loss[1]) * len(worth),
            keys=tuple(key for lot in worth for key in keys(lot)),
            relaid=True,
        )
        return self.unneeded.left_open(saving, (self.spaces[lot.id] for lot in worth))

    def _candidates(self, room: Room, lots: Sequence[Lot]) -> Candidates:
        """The candidates of some lots, and of those in one tray with them."""
        hosts = {lot.shares or lot.id for lot in lots}
        some = room.model_copy(update={"lot": tuple(one for one in room.lot if (one.shares or one.id) in hosts)})
        ways = ways_of_room(some, self.limits, needs_of_room(some), self.plan.terms)
        asks, _ = asks_of(some, self.plan.module, ways)
        return {ask.lot: ask.candidates for ask in asks}

    def _saved(self, lot: Lot, after: tuple[Candidate, ...]) -> Weight:
        """What the part of a lot weighs more than the one that it would get from other candidates."""
        now = self.placed[lot.id]
        if not after:
            return Weight()
        then = _nearest(now, self.now.get(lot.id, ()), after)
        share = self.density[material_of(self.room, lot.group)] / TYPICAL_DENSITY_G_CM3
        return Weight((now.part_g - then.part_g) * share, now.time_s - then.time_s)

    def _smooth(self, lot: Lot) -> bool:
        """Whether it is in a tray with a smooth floor."""
        return self._way_of(lot).floor is FloorStyle.SMOOTH and self._way_of(lot).kind is PartKind.TRAY

    def _catches(self, lot: Lot) -> bool:
        """Whether its things would catch on domes: sheets, heaps, and all that is small."""
        way = self._way_of(lot)
        small = max(way.thing.width, way.thing.depth, way.thing.height) <= SMALL
        return lot.shape is Shape.FLAT or way.arrangement is Arrangement.HEAP or small

    def _way_of(self, lot: Lot) -> Way:
        return self.placed[lot.id].way


def _nearest(now: Candidate, before: tuple[Candidate, ...], after: tuple[Candidate, ...]) -> Candidate:
    """What is taken in place of a candidate: the cheapest if it was, else one on the same cells, else the cheapest."""
    if before and (before[0].cols, before[0].rows) != (now.cols, now.rows):
        same = [one for one in after if sorted((one.cols, one.rows)) == sorted((now.cols, now.rows))]
        return (same or after)[0]
    return after[0]


def _key(name: str, value: FloorStyle | Keep | float) -> Callable[[Lot], tuple[Key, ...]]:
    return lambda lot: (Key(Table.LOT, name, value, lot.id),)


def _tray_key(name: str, value: StripWish) -> Callable[[Lot], tuple[Key, ...]]:
    return lambda lot: (Key(Table.LOT_TRAY, name, value, lot.id),)


def _named(lots: Sequence[Lot]) -> str:
    """The first few lots by name, and how many more."""
    names = "; ".join(lot.name or lot.id for lot in lots[:_NAMED])
    more = len(lots) - _NAMED
    return f"{names} and {more} more" if more > 0 else names
