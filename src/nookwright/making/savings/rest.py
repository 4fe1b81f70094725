"""Savings at what no lot needs: spare trays, fences, grown trays, and trays for odds and ends."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from nookwright.layout.filling.bay import FENCE
from nookwright.layout.filling.odds import ODDS
from nookwright.making.savings import model
from nookwright.making.savings.keys import for_spaces
from nookwright.making.savings.model import Leaves, Saving, Weight
from nookwright.parts.design import SPARE_GROUP, material_of
from nookwright.parts.workshop import Workshop, spec_of
from nookwright.survey.models import Rest

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from nookwright.layout.model import Candidate, Placed
    from nookwright.layout.plan import Plan
    from nookwright.module.estimates import Plastic
    from nookwright.parts.design import Copy
    from nookwright.survey.models import Lot, Room, Space

_LOSS = {
    Rest.SPARE: ("Spare trays", "No empty trays wait for the next purchase.", model.MISSED_SPARE),
    Rest.GROW: (
        "Trays grown into free cells",
        "Free cells stay free beside trays as wide as needed.",
        model.MISSED_GROWN,
    ),
    Rest.FENCED: ("Fences", "Nothing keeps together what stands free.", model.MISSED_FENCE),
}

_LABEL = {Rest.SPARE: SPARE_GROUP, Rest.FENCED: FENCE}


class Unneeded:
    """What fills the cells that no lot needs."""

    def __init__(self, room: Room, plan: Plan, copies: Sequence[Copy]) -> None:
        """Look up what things weigh.

        Args:
            room: as surveyed.
            plan: what goes where.
            copies: all copies of all parts.
        """
        self.room, self.plan, self.copies = room, plan, copies
        self.workshop = Workshop(plan.module)
        self.unfilled = {one.candidate.lot: one for one in plan.laid.chosen.placed if one.candidate}
        fitted = {one.space.id for one in plan.spaces if one.grid.fill}
        self.spaces = tuple(space for space in room.space if space.id in fitted)
        self.density = {one.id: one.density_g_cm3 for one in room.material}
        self.layer = max(printer.layer for printer in room.printer)

    def savings(self) -> Iterator[Saving]:
        """All that could be left open."""
        for rest, (what, gives_up, missed) in _LOSS.items():
            spaces = [one for one in self.spaces if self._rest(one) is rest]
            saved = sum((self._filled(one, rest) for one in spaces), Weight())
            keys = for_spaces(self.spaces, [one.id for one in spaces], "rest", Rest.OPEN)
            text = f"Leave open what no lot needs: {what.lower()}"
            yield Saving(Leaves.REST, text, saved.mass_g, saved.time_s, gives_up, float(missed), keys)
        yield self._odds()

    def left_open(self, saving: Saving, places: Iterable[str]) -> Saving:
        """A saving that frees floor, with what it frees left open: where that is filled, nothing would be saved.

        Args:
            saving: by keys.
            places: ids of the spaces in which it frees floor.
        """
        where = set(places)
        full = [one for one in self.spaces if one.id in where and self._rest(one) is not Rest.OPEN]
        if not full or not saving.keys:
            return saving
        filled = sum((self._filled(one, self._rest(one)) for one in full), Weight())
        missed = sum(_LOSS[rest][2] for rest in {self._rest(one) for one in full})
        return replace(
            saving,
            text=f"{saving.text}; what no lot needs stays open there",
            mass_g=saving.mass_g + filled.mass_g,
            time_s=saving.time_s + filled.time_s,
            missed=saving.missed + missed,
            keys=(*saving.keys, *for_spaces(self.spaces, [one.id for one in full], "rest", Rest.OPEN)),
        )

    def _odds(self) -> Saving:
        """No trays for odds and ends."""
        spaces = [one for one in self.spaces if self._wants_odds(one)]
        trays = [copy for copy in self.copies if not copy.contents and copy.label == ODDS]
        saved = sum((self._weight(copy.part.plastic, copy.material) for copy in trays), Weight())
        saving = Saving(
            leaves=Leaves.ODDS,
            text=f"No trays for odds and ends: {len(trays)} of them",
            mass_g=saved.mass_g,
            time_s=saved.time_s,
            gives_up="What belongs nowhere comes to lie between the trays.",
            missed=float(model.MISSED_ODDS) * len(trays),
            keys=for_spaces(self.spaces, [one.id for one in spaces], "odds_and_ends", value=False),
        )
        return self.left_open(saving, (copy.space for copy in trays))

    def _rest(self, space: Space) -> Rest:
        return Rest(space.rest or self.room.choices.rest)

    def _wants_odds(self, space: Space) -> bool:
        return self.room.choices.odds_and_ends if space.odds_and_ends is None else space.odds_and_ends

    def _filled(self, space: Space, rest: Rest) -> Weight:
        """What filling a space has cost."""
        if rest is Rest.GROW:
            return sum((self._grown(one) for one in self.plan.layout.in_space(space.id)), Weight())
        mine = (one for one in self.copies if one.space == space.id and one.label == _LABEL[rest])
        return sum((self._weight(one.part.plastic, one.material) for one in mine), Weight())

    def _grown(self, placed: Placed) -> Weight:
        """What a part weighs more than it did before free cells were filled."""
        one = placed.candidate
        before = self.unfilled.get(one.lot) if one else None
        if one is None or before is None:
            return Weight()
        lot = next(lot for lot in self.room.lot if lot.id == one.lot)
        material = material_of(self.room, lot.group)
        large, small = (self._plastic(part, one, lot) for part in (placed, before))
        return self._weight(large, material) - self._weight(small, material)

    def _plastic(self, placed: Placed, one: Candidate, lot: Lot) -> Plastic:
        """Plastic of the part of a lot on the cells that it was given."""
        size = (placed.rows, placed.cols) if placed.turned else (placed.cols, placed.rows)
        wet = any(space.wet for space in self.room.space if space.id == placed.space)
        spec = spec_of(self.plan.module, one, lot, *size, height=placed.height, room=self.room, wet=wet)
        return self.workshop.part(spec).plastic

    def _weight(self, plastic: Plastic, material: str) -> Weight:
        return Weight(plastic.mass_g(self.density[material]), plastic.time_s(self.layer))
