"""Random parts that no room file orders: panels and fillers of the liner, keys, bare cradles, roofs.

A panel is drawn as cells of a grid with bites and holes, as a space with blocked places gives them: groups of cells
that hang together soundly, slots where a filler has its tongues. Fillers are drawn with any tongues at all.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from nookwright.layout.cells import sound_groups
from nookwright.layout.liner import (
    FillerForm,
    FillerSpec,
    Lips,
    PanelSpec,
    SetBack,
    Side,
    Slot,
    key_borders,
    panel_spec,
)
from nookwright.module.floor import CONE_TO_EDGE
from nookwright.module.pattern import Pattern
from nookwright.module.seat import whole_layers
from nookwright.parts.cradles.cradle import EXAMPLE_CLEARANCE, cradle, pockets_of
from nookwright.parts.liner.filler import filler
from nookwright.parts.liner.keys import key
from nookwright.parts.liner.panel import panel
from nookwright.parts.risers.drawer_riser import DrawerSpec, drawer_roof

if TYPE_CHECKING:
    from collections.abc import Callable

    from fuzz.chance import Chance
    from nookwright.layout.liner import Cell
    from nookwright.module.module import Module
    from nookwright.parts.model import Part


@dataclass(frozen=True)
class BareCradle:
    """The parameters of a cradle as the layout orders it."""

    cols: int
    rows: int
    height: float
    diameter: float
    columns: int
    lines: int


def panel_of(chance: Chance, module: Module) -> PanelSpec:
    """A panel of any pattern, with bites, holes, slots and set-backs."""
    cols, rows = chance.whole(2, 9), chance.whole(2, 8)
    free = {(c, r) for c in range(cols) for r in range(rows)}
    for _ in range(chance.pick((0, 0, 1, 2))):
        col, row = chance.whole(0, cols - 1), chance.whole(0, rows - 1)
        wide, deep = chance.whole(1, 3), chance.whole(1, 3)
        free -= {(c, r) for c in range(col, col + wide) for r in range(row, row + deep)}
    groups = sorted(sound_groups(free), key=len) or [((0, 0), (0, 1), (1, 0), (1, 1))]
    cells = chance.pick(groups) if chance.often(0.2) else groups[-1]
    pattern = chance.pick(tuple(Pattern))
    chosen = tuple(sorted(cell for cell in cells if chance.often(0.25))) if pattern is Pattern.UNDER_LAYOUT else ()
    spec = panel_spec(cells, (), pattern=pattern, chosen=chosen).spec
    if chance.often(0.5) and pattern is Pattern.CHESSBOARD:
        spec = replace(spec, first_has_cone=not spec.first_has_cone)
    return replace(spec, slots=_slots(chance, spec), set_back=_set_back(chance, module))


def _slots(chance: Chance, spec: PanelSpec) -> tuple[Slot, ...]:
    """Where fillers and other panels are keyed to it: at the usual places of each run of cells along a side."""
    there, found = set(spec.cells), []
    for side in Side:
        count = spec.rows if side.upright else spec.cols
        runs = _runs([at for at in range(count) if _beside(spec, side, at) in there])
        if chance.often(0.5):
            found += [Slot(side, at) for first, last in runs for at in key_borders(first, last)]
    return tuple(sorted(found))


def _beside(spec: PanelSpec, side: Side, at: int) -> Cell:
    sides = {Side.LEFT: (0, at), Side.RIGHT: (spec.cols - 1, at), Side.FRONT: (at, 0), Side.BACK: (at, spec.rows - 1)}
    return sides[side]


def _runs(places: list[int]) -> list[tuple[int, int]]:
    """First and last of each run of neighbours."""
    starts = [at for at in places if at - 1 not in places]
    ends = [at for at in places if at + 1 not in places]
    return list(zip(starts, ends, strict=True))


def _set_back(chance: Chance, module: Module) -> SetBack:
    """As a cove of the space asks for: the same on both sides of a direction, where the panel reaches them."""
    if chance.often(0.6):
        return SetBack()
    most = module.pitch / 2 - module.seat.cone_base - CONE_TO_EDGE
    across, along = (chance.pick((0.0, round(chance.within(0, most), 1))) for _ in range(2))
    left, right, front, back = (chance.often(0.7) for _ in range(4))
    return SetBack(across * left, across * right, along * front, along * back)


def filler_of(chance: Chance, module: Module) -> FillerSpec:
    """A filler of any form."""
    length = round(chance.within(8.0, 12 * module.pitch), 1)
    form = chance.pick(tuple(FillerForm))
    width = chance.within(4.0, 14.0) if form is not FillerForm.TALL else chance.within(4.0, module.pitch + 4)

    def tongues() -> tuple[float, ...]:
        return tuple(sorted(round(chance.within(6, length - 6), 1) for _ in range(chance.whole(0, 3))))

    high = whole_layers(chance.within(2.0, 90.0), module.seat.layer)
    return FillerSpec(
        length,
        width,
        tongues(),
        form,
        Lips.BOTH if form is not FillerForm.PLAIN else chance.pick(tuple(Lips)),
        tongues() if form is FillerForm.PLAIN and chance.often(0.3) else (),
        height=high if form is FillerForm.TALL else 0.0,
        travel=round(chance.within(0.1, 3.0), 1) if form is FillerForm.SPRUNG else 0.0,
    )


def _bare_cradle(chance: Chance, module: Module) -> BareCradle:
    """As small as its things allow, or some cells larger."""
    thing, columns, lines = chance.within(6.0, 40.0), chance.whole(1, 4), chance.whole(1, 3)
    step = thing + EXAMPLE_CLEARANCE + module.wall
    cols, rows = (module.cells(count * step + module.wall) + chance.pick((0, 0, 1)) for count in (columns, lines))
    return BareCradle(cols, rows, module.height(chance.length(12, 60)), thing + EXAMPLE_CLEARANCE, columns, lines)


def _made_cradle(module: Module, asked: BareCradle) -> Part:
    step = asked.diameter + module.wall
    size = (asked.columns, asked.lines)
    at = pockets_of(
        module, cols=asked.cols, rows=asked.rows, diameter=asked.diameter, columns=size[0], lines=size[1], pitch=step
    )
    return cradle(module, cols=asked.cols, rows=asked.rows, height=asked.height, pockets=at)


def _roof(chance: Chance, _: Module) -> DrawerSpec:
    return DrawerSpec(chance.whole(2, 5), chance.whole(1, 5), chance.whole(3, 8), first_has_cone=chance.often(0.5))


# Each kind: how its parameters are drawn, and how they become a part.
DESIGNS: dict[str, tuple[Callable[[Chance, Module], object], Callable[[Module, object], Part]]] = {
    "panel": (panel_of, panel),  # type: ignore[dict-item] # each maker takes what its kind draws
    "filler": (filler_of, filler),  # type: ignore[dict-item]
    "key": (lambda *_: (), lambda module, _: key(module)),
    "bare-cradle": (_bare_cradle, _made_cradle),  # type: ignore[dict-item]
    "drawer-roof": (_roof, drawer_roof),  # type: ignore[dict-item]
}
