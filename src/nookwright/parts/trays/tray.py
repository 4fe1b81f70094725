"""A tray: walls, a floor, sockets underneath, and what ``tray_options`` adds to them.

Each compartment is one convex bowl, so fixed dividers are what is left between bowls. Its surface has genus 0, and one
more for each hand hole and each drain: notches, low sides and slots are open above.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.module.estimates import Plastic, tray_plastic
from nookwright.parts.model import Example, Kind, Part
from nookwright.parts.trays.divider import compartments, slots
from nookwright.parts.trays.drains import drains
from nookwright.parts.trays.front import sweep, swept_radius
from nookwright.parts.trays.grip import grip
from nookwright.parts.trays.low_side import low_side
from nookwright.parts.trays.name_strip import strip_place
from nookwright.parts.trays.tray_bowls import bowls, dividers_mm3, has_fixed
from nookwright.parts.trays.tray_examples import SIZES
from nookwright.parts.trays.tray_frame import Addition, TrayFrame
from nookwright.parts.trays.tray_options import DividerKind, Front, Split, TrayOptions, plain_options
from nookwright.parts.trays.tray_record import parameters_of, words_of
from nookwright.parts.underside import body, domes, seated
from nookwright.shapes.solids import Difference, Solid, Union

if TYPE_CHECKING:
    from nookwright.layout.liner import Side
    from nookwright.module.module import Module
    from nookwright.parts.trays.divider import Span


def tray(
    module: Module, *, cols: int, rows: int, height: float, smooth: bool = False, options: TrayOptions | None = None
) -> Part:
    """A tray; without options a plain one.

    Args:
        module: the household's module.
        cols: footprint along x, cells.
        rows: footprint along y, cells.
        height: outer height, mm, a whole number of rises.
        smooth: a flat floor above the sockets instead of a thin one with domes; options say it themselves.
        options: all that the tray has besides.

    Raises:
        RecipeError: the options do not fit the tray, or each other.
    """
    if options is None:
        options = plain_options(smooth=smooth)
    frame = TrayFrame(module, cols, rows, height, options)
    spans = compartments(frame)
    additions = _additions(frame, spans)
    return Part(
        kind=Kind.TRAY,
        name=" ".join((frame.called, *words_of(frame))),
        parameters=parameters_of(frame),
        recipe=seated(_solid(frame, spans, additions), module, cols, rows),
        plastic=_plastic(frame, spans, additions),
    )


def handles(frame: TrayFrame) -> int:
    """Genus of a tray: one for each hand hole, one for each drain."""
    return grip(frame).handles + drains(frame).handles


def _additions(frame: TrayFrame, spans: tuple[tuple[Span, ...], tuple[Span, ...]]) -> tuple[Addition, ...]:
    """What the options add and take away."""
    options = frame.options
    found = [slots(frame)]
    if options.front is Front.SWEPT:
        start, end = spans[1][0]
        found.append(sweep(frame, swept_radius(frame, end - start)))
    if options.strip_height:
        found.append(strip_place(frame))
    if options.low_side:
        _check_low(frame, options.low_side.side)
        found.append(low_side(frame, options.low_side.side, options.low_side.share))
    return (*found, drains(frame), grip(frame))


def _check_low(frame: TrayFrame, side: Side) -> None:
    """Refuse a low side that carries slots."""
    split = Split.ROWS if side.upright else Split.COLUMNS
    if any(entry.split is split and entry.kind is not DividerKind.FIXED for entry in frame.options.dividers):
        frame.refuse(
            "a low side has no slots", found=f"loose dividers that end at the {side}", allowed="fixed ones",
            remedy="Make the dividers fixed, or another side low.",
        )  # fmt: skip


def _solid(
    frame: TrayFrame, spans: tuple[tuple[Span, ...], tuple[Span, ...]], additions: tuple[Addition, ...]
) -> Solid:
    """The tray without its sockets."""
    module, cols, rows, high = frame.module, frame.cols, frame.rows, frame.height
    solid: Solid = Difference(body(module, cols, rows, high), bowls(frame, spans))
    inside = () if frame.smooth else domes(module, cols, rows)
    adds = (*inside, *(solid for addition in additions for solid in addition.adds))
    cuts = tuple(cut for addition in additions for cut in addition.cuts)
    solid = Union((solid, *adds)) if adds else solid
    return Difference(solid, cuts) if cuts else solid


def _plastic(
    frame: TrayFrame, spans: tuple[tuple[Span, ...], tuple[Span, ...]], additions: tuple[Addition, ...]
) -> Plastic:
    """The plain tray's plastic and what each option changes; it leaves out what additions share with each other."""
    plain = tray_plastic(frame.module, frame.cols, frame.rows, frame.height, smooth=frame.smooth)
    fixed = dividers_mm3(frame, spans) if has_fixed(frame) else 0.0
    return Plastic(
        body_mm3=plain.body_mm3 + fixed + sum(addition.body_mm3 for addition in additions),
        sparse_mm3=plain.sparse_mm3 + sum(addition.sparse_mm3 for addition in additions),
        first_mm2=plain.first_mm2,
        height=plain.height,
        hops=plain.hops,
    )


def examples(module: Module) -> tuple[Example, ...]:
    """Trays plain and with each option at several sizes; genus by ``handles``."""
    return tuple(
        Example(
            size,
            tray(module, cols=cols, rows=rows, height=high, options=options),
            genus=handles(TrayFrame(module, cols, rows, high, options)),
        )
        for size, cols, rows, high, options in SIZES
    )
