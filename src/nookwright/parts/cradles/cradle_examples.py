"""Cradles with pockets of all shapes at several sizes, for tests, pictures and the docs."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from nookwright.module.seat import outer_size
from nookwright.parts.cradles.pocket import Funnel, Placed, Pocket, Round, Tapered
from nookwright.parts.cradles.pocket_boxes import Boxed, Cornered
from nookwright.parts.cradles.pocket_cradle import genus_of, pocket_cradle
from nookwright.parts.cradles.pocket_floor import PushOut
from nookwright.parts.cradles.pocket_plan import PocketCradle
from nookwright.parts.cradles.pocket_rows import centred, in_row, lattice, staggered
from nookwright.parts.cradles.profile_cradle import Profiled
from nookwright.parts.cradles.sleeve_lines import edge_of, land_of
from nookwright.parts.cradles.strip import Strip, lined_size
from nookwright.parts.model import Example

if TYPE_CHECKING:
    from nookwright.module.module import Module

FLASK = ((14.0, 0.0), (20.0, 8.0), (20.0, 40.0), (9.0, 52.0), (9.0, 60.0))
KNOB = ((8.0, 0.0), (8.0, 12.0), (16.0, 12.0), (16.0, 20.0))


def examples(module: Module) -> tuple[Example, ...]:
    """Every shape of pocket, every help to get a thing out, and a row of many sizes."""
    bits = tuple(Round(size + 0.8) for size in range(6, 25, 2))
    felt = Strip(8.0, 2.0)
    hole, rib = PushOut.HOLE, PushOut.RIB
    return (
        _field(module, "smallest", Round(13.8), (1, 1), 18.0),
        _field(module, "middle", Round(26.8), (3, 2), 30.0, finger_gap=12.0),
        _field(module, "largest", Round(33.8), (5, 4), 42.0, stagger=True),
        _field(module, "smallest", Boxed(12.0, 8.0), (1, 1), 18.0, push_out=rib),
        _field(module, "middle", Boxed(26.0, 18.0, 3.0), (2, 2), 30.0),
        _field(module, "largest", Boxed(40.0, 25.0), (3, 3), 42.0, push_out=hole),
        _field(module, "smallest", Cornered(6, 6.8), (2, 1), 18.0),
        _field(module, "middle", Cornered(6, 6.8), (6, 3), 18.0, push_out=rib),
        _field(module, "largest", Cornered(8, 22.0), (4, 3), 30.0),
        _field(module, "smallest", Tapered(20.0, 22.0, 30.0), (1, 1), 24.0),
        _field(module, "middle", Tapered(44.0, 52.0, 60.0), (2, 1), 36.0, push_out=hole),
        _field(module, "largest", Tapered(60.0, 72.0, 90.0), (2, 2), 48.0, finger_gap=18.0),
        _field(module, "smallest", Funnel(14.0, 10.0), (1, 1), 18.0),
        _field(module, "middle", Funnel(30.0, 24.0), (2, 2), 30.0),
        _field(module, "largest", Funnel(66.0, 54.0), (2, 2), 42.0, push_out=hole),
        _field(module, "smallest", Profiled(KNOB, 0.5), (1, 1), 18.0),
        _field(module, "middle", Profiled(KNOB, 0.5), (2, 2), 24.0, finger_gap=6.0),
        _field(module, "largest", Profiled(FLASK, 0.5), (3, 2), 36.0),
        _field(module, "smallest", Round(lined_size(16.0, felt)), (1, 1), 18.0, strip=felt),
        _field(module, "middle", Boxed(*(lined_size(size, felt) for size in (30.0, 20.0))), (2, 1), 30.0, strip=felt),
        _field(module, "largest", Round(lined_size(50.0, felt)), (2, 2), 42.0, strip=felt),
        _row(module, "smallest", bits[:2], 18.0),
        _row(module, "middle", bits[:6], 18.0),
        _row(module, "largest", bits, 24.0),
    )


def _field(
    module: Module, size: str, pocket: Pocket, count: tuple[int, int], height: float, *,
    stagger: bool = False, push_out: PushOut = PushOut.BY_HAND, finger_gap: float = 0.0, strip: Strip | None = None,
) -> Example:  # fmt: skip
    """A field of equal pockets on as few cells as it needs."""
    bare = PocketCradle(1, 1, module.height(height), (), push_out=push_out, finger_gap=finger_gap, strip=strip)
    mouth = bare.height - module.seat.dome - bare.lead_in
    spread = staggered if stagger else lattice
    land = land_of(module, bare.lead_in, strip)
    return _fitted(module, size, bare, spread(pocket, mouth, columns=count[0], lines=count[1], land=land))


def _row(module: Module, size: str, pockets: tuple[Pocket, ...], height: float) -> Example:
    """A row of several sizes."""
    bare = PocketCradle(1, 1, module.height(height), ())
    mouth = bare.height - module.seat.dome - bare.lead_in
    return _fitted(module, size, bare, in_row(pockets, mouth, land=land_of(module, bare.lead_in), x=0.0, y=0.0))


def _fitted(module: Module, size: str, bare: PocketCradle, placed: tuple[Placed, ...]) -> Example:
    """The cradle of the fewest cells for pockets as they lie, and these in its middle."""
    mouth = bare.height - module.seat.dome - bare.lead_in
    boxes = [each.pocket.outline(mouth, each.x, each.y) for each in placed]
    edge = 2 * edge_of(module, bare.strip)
    across = max(b.x + b.half_width for b in boxes) - min(b.x - b.half_width for b in boxes) + edge
    back = max(b.y + b.half_depth for b in boxes) - min(b.y - b.half_depth for b in boxes) + edge
    cols, rows = max(2, module.cells(across)), module.cells(back)
    width, depth = outer_size(cols, module.pitch), outer_size(rows, module.pitch)
    asked = replace(bare, cols=cols, rows=rows, pockets=centred(placed, mouth, width=width, depth=depth))
    return Example(size, pocket_cradle(module, asked), genus=genus_of(asked))
