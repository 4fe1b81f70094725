"""Savings at the liner: less of it, cones only where they are needed, fillers that are plain."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from nookwright.cutting.cut import longest_strip_in
from nookwright.layout.liner_levels import Level
from nookwright.layout.liner_model import FillerForm
from nookwright.layout.space_liner import liner_for, unheld, wish_of
from nookwright.making.savings import model
from nookwright.making.savings.keys import Key, Table, applied, for_spaces
from nookwright.making.savings.model import Leaves, Saving, Weight
from nookwright.module.pattern import Pattern
from nookwright.parts.design import LINER_GROUP, material_of
from nookwright.parts.liner.filler import filler
from nookwright.parts.liner.panel_plastic import panel_plastic
from nookwright.survey.models import ConesFor, FillerWish, LinerLevel

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nookwright.layout.liner_model import Liner
    from nookwright.layout.plan import Plan
    from nookwright.layout.space_liner import LinerWish
    from nookwright.layout.spaces import SpacePlan
    from nookwright.module.estimates import Plastic
    from nookwright.survey.models import Room

_LESS = {
    Level.SPARSE: model.MISSED_SPARSE,
    Level.FRAME: model.MISSED_PANELS,
    Level.CROSS: model.MISSED_PANELS,
    Level.NONE: model.MISSED_LINER,
}


class Liners:
    """The liners of a room, and what they would weigh otherwise."""

    def __init__(self, room: Room, plan: Plan) -> None:
        """Look up what liners are printed in.

        Args:
            room: as surveyed.
            plan: what goes where.
        """
        self.room, self.plan = room, plan
        self.spaces = tuple(space for space in plan.spaces if space.liner.panels)
        material = material_of(room, LINER_GROUP)
        self.longest = longest_strip_in(room, material)
        self.density = next(one.density_g_cm3 for one in room.material if one.id == material)
        self.layer = max(printer.layer for printer in room.printer)

    def savings(self) -> Iterator[Saving]:
        """All that could be left out of them."""
        yield from (self._less(level) for level in _LESS)
        yield self._cones()
        yield self._plain_fillers()

    def _less(self, level: Level) -> Saving:
        """Less liner in every space that has more; sparse only where all that stands there stays held."""
        order = tuple(Level)
        more = [one for one in self.spaces if order.index(one.wish.level) < order.index(level)]
        if level is Level.SPARSE:
            more = [one for one in more if self._stays_held(one, Key(Table.SPACE, "liner", LinerLevel.SPARSE))]
        text = f"{level.value.capitalize()} liner" if level.lined else "No liner"
        keys = self._keys(more, "liner", LinerLevel(level.value))
        saving = self._saving(Leaves.LINER, text, more, keys, (level.keeps, float(_LESS[level])))
        return replace(saving, relaid=True)  # what a space carries changes with its liner

    def _cones(self) -> Saving:
        """Cones only where parts stand."""
        more = [one for one in self.spaces if one.wish.pattern is not Pattern.UNDER_LAYOUT]
        more = [one for one in more if one.wish.level is not Level.SPARSE]
        gives_up = Pattern.UNDER_LAYOUT.keeps, float(model.MISSED_SWAPPING)
        keys = self._keys(more, "pattern", ConesFor.LAYOUT)
        return self._saving(Leaves.LINER, "Cones only under the layout", more, keys, gives_up)

    def _plain_fillers(self) -> Saving:
        """Flat strips where they are as high as the rims."""
        tall = [one for one in self.spaces if any(f.spec.form is FillerForm.TALL for f in one.liner.fillers)]
        words = "Small things can fall into gaps of more than 8 mm beside the trays."
        keys = self._keys(tall, "fillers", FillerWish.PLAIN)
        missed = float(model.MISSED_PLAIN_FILLER)
        return self._saving(Leaves.FILLERS, "Plain fillers instead of tall ones", tall, keys, (words, missed))

    def _saving(
        self, leaves: Leaves, text: str, spaces: Sequence[SpacePlan], keys: tuple[Key, ...], loss: tuple[str, float]
    ) -> Saving:
        """A saving by keys, in words that name the spaces where they are not all."""
        some = "; ".join(one.space.name or one.space.id for one in spaces)
        where = f": {some}" if len(spaces) < len(self.spaces) else ""
        saved = self._saved(keys)
        return Saving(leaves, text + where, saved.mass_g, saved.time_s, loss[0], loss[1], keys)

    def _saved(self, keys: tuple[Key, ...]) -> Weight:
        """What all liners weigh more than with these keys, under the layout as it is."""
        changed = applied(self.room, keys)
        total = Weight()
        for before, after in zip(self.plan.spaces, changed.space, strict=True):
            wish = wish_of(after, changed.choices)
            if before in self.spaces and wish != before.wish:
                total += self._made(before.liner) - self._made(self._liner(before, wish))
        return total

    def _stays_held(self, space: SpacePlan, key: Key) -> bool:
        """Whether every part of a space would still meet a cone."""
        own = space.space.model_copy(update={key.name: key.value})
        liner = self._liner(space, wish_of(own, self.room.choices))
        return not unheld(liner, self.plan.layout.in_space(space.space.id))

    def _liner(self, space: SpacePlan, wish: LinerWish) -> Liner:
        """The liner that a space would get by another wish, under the layout as it is."""
        placed = self.plan.layout.in_space(space.space.id)
        return liner_for(wish, space.floor, space.usable, self.plan.module, longest=self.longest, placed=placed)

    def _made(self, liner: Liner) -> Weight:
        """What a liner weighs."""
        module = self.plan.module
        made = [panel_plastic(module, one.spec) for one in liner.panels]
        made += [filler(module, one.spec).plastic for one in liner.fillers]
        return sum(map(self._weight, made), Weight())

    def _weight(self, plastic: Plastic) -> Weight:
        return Weight(plastic.mass_g(self.density), plastic.time_s(self.layer))

    def _keys(
        self, spaces: Sequence[SpacePlan], name: str, value: LinerLevel | ConesFor | FillerWish
    ) -> tuple[Key, ...]:
        """A key for some of the spaces that have a floor."""
        fitted = [one.space for one in self.plan.spaces if one.grid.fill]
        return for_spaces(fitted, [one.space.id for one in spaces], name, value)
