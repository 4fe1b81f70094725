"""A name strip: a slide-in plate in two grooves of the front, and the place for it.

The strip stands inside the front: the wall is thickened inwards, so the tray keeps its outer size and its neighbours
their room. It drops in from above, behind a lip at each end. All faces of the place are upright but its sill, which
looks up, and the thickening's underside, which slopes at 45 degrees: nothing needs support.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from nookwright.ground.errors import RecipeError
from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.ground.tolerances import OVERSHOOT
from nookwright.layout.liner import Side
from nookwright.module.estimates import Plastic
from nookwright.module.floor import CORNER_RADIUS
from nookwright.module.lines import WALL
from nookwright.module.seat import SCALE_SHARE, whole_layers
from nookwright.parts.lying import along_x
from nookwright.parts.model import Example, Kind, Part, size_name
from nookwright.parts.refusals import refuse_part
from nookwright.parts.trays.tray_frame import Addition, TrayFrame
from nookwright.parts.trays.tray_options import DividerKind, Split
from nookwright.shapes.regions import Glyphs, Polygon, Rect, RegionMove, text_width
from nookwright.shapes.solids import Difference, Move, Named, Prism, Solid, Union
from nookwright.shapes.strokes import allowed_characters

if TYPE_CHECKING:
    from nookwright.module.module import Module

THICKNESS = Fact(
    1.0, unit="mm", kind=SourceKind.CHOICE, source="Of a strip, rounded up to whole layers: stiff enough to slide in."
)
CLEARANCE = Fact(
    0.2,
    unit="mm",
    kind=SourceKind.COMMON_PRACTICE,
    source="At each end of a strip, and half of SCALE_SHARE of its place: it slides, stays put.",
)
BEHIND = Fact(
    0.3,
    unit="mm",
    kind=SourceKind.CALCULATED,
    source="Behind a strip: an unmeasured printer makes its place up to 0.26 narrower; its thickness is whole layers.",
)
OVERLAP = Fact(2.0, unit="mm", kind=SourceKind.CHOICE, source="Of the lip over each end of a strip.")
END_LAND = Fact(
    0.5,
    unit="mm",
    kind=SourceKind.CHOICE,
    source="From the rounded corner to the thickened wall: no seam on a tangent.",
)
LEAST_WINDOW = Fact(12.0, unit="mm", kind=SourceKind.CHOICE, source="Shorter names are no names: three letters of 4.3.")
LEAST_HEIGHT = Fact(8.0, unit="mm", kind=SourceKind.CHOICE, source="Of a strip: the least lettering and a margin.")
TEXT_LAYERS = Fact(
    2, unit="layers", kind=SourceKind.COMMON_PRACTICE, source="Of lettering: two layers cover the colour below."
)
TEXT_SHARE = Fact(0.55, unit="1", kind=SourceKind.CHOICE, source="Height of lettering in the height of a strip.")
LEAST_TEXT = Fact(
    4.3,
    unit="mm",
    kind=SourceKind.CALCULATED,
    source="A pen of two lines, 0.86, is a fifth of it: our lettering's boldest.",
)
STROKE_SHARE = Fact(
    1 / 7, unit="1", kind=SourceKind.COMMON_PRACTICE, source="Stroke in the height of plain lettering: a bold weight."
)
LEAST_STROKE = Fact(0.86, unit="mm", kind=SourceKind.CALCULATED, source="Two lines of 0.43.")
MARGIN = Fact(1.0, unit="mm", kind=SourceKind.CHOICE, source="From lettering to the lips.")
INK_LENGTH = Fact(
    2.0,
    unit="1",
    kind=SourceKind.CALCULATED,
    source="Ink over height times pen, the mean of our letters and digits: 1.98.",
)
SUNK = Fact(0.2, unit="mm", kind=SourceKind.CHOICE, source="Raised letters start this deep in the strip.")
_TENTHS = 10  # lettering comes in heights of a tenth


class Lettering(StrEnum):
    """How the text stands on a strip."""

    RAISED = "raised"  # in relief, a layer change gives it a colour
    INLAID = "inlaid"  # flush, in a second colour


@dataclass(frozen=True)
class NameStrip:
    """A strip: its outer size, the height of its lettering, the text (none for a blank one) and how it stands.

    Attributes:
        width, height: mm.
        text: what it says; empty for a blank strip.
        lettering: raised or inlaid.
    """

    width: float
    height: float
    text: str = ""
    lettering: Lettering = Lettering.RAISED


def name_strip(module: Module, strip: NameStrip) -> Part:
    """A name strip, printed lying, its face up; genus 0: letters stand on it or lie in it, none goes through.

    Args:
        module: the household's module.
        strip: its sizes and text.

    Raises:
        RecipeError: it is too small, or the text is too long for it.
    """
    _check_size(_window_of(strip), strip.height)
    _check_text(strip.text)
    thick = whole_layers(THICKNESS, module.seat.layer)
    deep = TEXT_LAYERS * module.seat.layer
    plate: Solid = Prism(Rect(strip.width, strip.height), thick)
    recipe = _lettered(plate, strip, thick, deep) if strip.text else plate
    area, raised = strip.width * strip.height, strip.lettering is Lettering.RAISED
    over = _ink_mm2(strip) * deep if strip.text and raised else 0.0
    words = f' "{strip.text}" {strip.lettering}' if strip.text else ""
    return Part(
        kind=Kind.NAME_STRIP,
        name=f"name strip {size_name(strip.width, strip.height)}{words}",
        parameters=(
            ("height", strip.height),
            ("lettering", str(strip.lettering) if strip.text else "none"),
            ("text", strip.text),
            ("text_height", text_height(strip) if strip.text else 0.0),
            ("thickness", thick),
            ("width", strip.width),
        ),
        recipe=recipe,
        plastic=Plastic(area * thick + over, 0.0, area, thick + (deep if over else 0.0), 0.0),
    )


def _check_text(text: str) -> None:
    """Refuse a text of blanks alone, or of letters that we do not draw."""
    if text and not text.strip():
        refuse_part(
            "name strip", "its text says something", found="blanks alone", allowed="a letter or more, or no text",
            remedy="Leave the text out for a blank strip.",
        )  # fmt: skip
    try:
        text_width(text, float(LEAST_TEXT), _stroke(LEAST_TEXT))
    except RecipeError:
        refuse_part(
            "name strip", "its letters can be drawn", found=repr(text), allowed=allowed_characters(),
            remedy="Write it in letters that are allowed.",
        )  # fmt: skip


def text_height(strip: NameStrip) -> float:
    """Height of the lettering, mm: in tenths, half the strip's and a little, less where the text is long.

    Raises:
        RecipeError: it would be too small to print.
    """
    room = _window_of(strip) - 2 * MARGIN
    most, least = (math.floor(round(high * _TENTHS, 6)) for high in (TEXT_SHARE * strip.height, LEAST_TEXT))
    sizes = (tenths / _TENTHS for tenths in range(most, least - 1, -1))
    fitting = (high for high in sizes if text_width(strip.text, high, _stroke(high)) <= room)
    found = next(fitting, None)
    if found is None:
        refuse_part(
            "name strip", "the text fits in letters that print", found=strip.text, remedy="Shorten it.",
            allowed=f"{room:.0f} mm of letters {LEAST_TEXT:g} high",
        )  # fmt: skip
    return found


def strip_of(frame: TrayFrame, text: str = "", lettering: Lettering = Lettering.RAISED) -> NameStrip:
    """The strip that fits a tray's place for it.

    Args:
        frame: a tray with a name strip.
        text: what it says.
        lettering: raised or inlaid.
    """
    x0, x1 = slot_of(frame)
    return NameStrip(round(x1 - x0 - 2 * end_play(x1 - x0), 4), frame.options.strip_height, text, lettering)


def end_play(length: float) -> float:
    """From each end of a strip to the end of its place, mm: strip and tray err in scale, by more the longer they are.

    Args:
        length: of its place, mm.

    >>> round(end_play(16.0), 4), round(end_play(200.0), 4)
    (0.216, 0.4)
    """
    return CLEARANCE + SCALE_SHARE * length / 2


def least_strip_width(text: str, length: float) -> float:
    """Outer width of the narrowest tray whose strip is wide enough to read, and for this text, mm.

    Args:
        text: what it says; empty for a blank strip.
        length: of the longest strip that is made, mm.

    Raises:
        RecipeError: the text has a character that is not drawn, or is too long for any strip.
    """
    letters = text_width(text, float(LEAST_TEXT), _stroke(LEAST_TEXT)) + 2 * MARGIN if text else 0.0
    # Letters come in tenths of height, so a hair more than the least may be needed.
    window = max(float(LEAST_WINDOW), letters + CLEARANCE)
    if window + 2 * OVERLAP > length:
        refuse_part(
            "name strip", "the text fits in letters that print", found=text, remedy="Shorten it.",
            allowed=f"{length - 2 * OVERLAP - 2 * MARGIN:.0f} mm of letters {LEAST_TEXT:g} high",
        )  # fmt: skip
    return window + 2 * (OVERLAP + CORNER_RADIUS + END_LAND + WALL)


def strip_depth(layer: float) -> float:
    """How far a strip's place stands into a tray of the usual wall, mm."""
    return WALL + whole_layers(THICKNESS, layer) + BEHIND


def strip_place(frame: TrayFrame) -> Addition:
    """The thickened front and the place for a strip in it.

    Args:
        frame: a tray with a name strip.

    Raises:
        RecipeError: the front is too short or too low for it, or used by something else.
    """
    _check_front(frame)
    x0, x1 = slot_of(frame)
    sill, inner = frame.height - frame.options.strip_height, _thickness(frame)
    under, step = under_of(frame), inward_of(frame)
    outline = Polygon(
        (
            (frame.wall / 2, under), (frame.wall, under), (inner, under + step),
            (inner, frame.height), (frame.wall / 2, frame.height),
        )
    )  # fmt: skip
    block = frame.trimmed(along_x(outline, x0 - frame.wall, x1 + frame.wall))
    cut = Move(Prism(_plan(frame, x0, x1), frame.options.strip_height + OVERSHOOT), z=sill)
    section = step * (frame.height - max(under, frame.floor)) - step**2 / 2
    deep = inner - 2 * frame.wall
    hollow = (x1 - x0) * deep + (x1 - x0 - 2 * OVERLAP) * frame.wall
    return Addition(
        adds=(block,),
        cuts=(cut,),
        body_mm3=section * (x1 - x0 + 2 * frame.wall) - hollow * frame.options.strip_height,
    )


def under_of(frame: TrayFrame) -> float:
    """Where the thickening begins at the wall, mm over the underside."""
    return frame.height - frame.options.strip_height - frame.wall - inward_of(frame)


def inward_of(frame: TrayFrame) -> float:
    """How far the thickening stands into the tray, mm."""
    return _thickness(frame) - frame.wall


def examples(module: Module) -> tuple[Example, ...]:
    """Strips blank, raised and inlaid; genus 0."""
    strips = (
        ("smallest", NameStrip(16.0, 8.0)),
        ("smallest", NameStrip(16.0, 8.0, "M3")),
        ("middle", NameStrip(60.0, 12.0, "M4 x 20")),
        ("middle", NameStrip(60.0, 12.0, "M4 x 20", Lettering.INLAID)),
        ("largest", NameStrip(200.0, 20.0, "Inner tubes, 28 inch", Lettering.INLAID)),
    )
    return tuple(Example(size, name_strip(module, strip), genus=0) for size, strip in strips)


def _lettered(plate: Solid, strip: NameStrip, thick: float, deep: float) -> Solid:
    """The plate with its text, whose faces are called ``text``."""
    high = text_height(strip)
    stroke = _stroke(high)
    x = (strip.width - text_width(strip.text, high, stroke)) / 2
    letters = RegionMove(Glyphs(strip.text, high, stroke), x=x, y=(strip.height - high) / 2)
    if strip.lettering is Lettering.RAISED:
        return Union((plate, Named(Move(Prism(letters, deep + SUNK), z=thick - SUNK), "text")))
    bed = Move(Prism(letters, deep + OVERSHOOT), z=thick - deep)
    return Union((Difference(plate, (bed,)), Named(Move(Prism(letters, deep), z=thick - deep), "text")))


def _window_of(strip: NameStrip) -> float:
    """Width of the window that a strip is seen through, mm: its place is as much longer as it has play at both ends."""
    return round((strip.width + 2 * CLEARANCE) / (1 - SCALE_SHARE), 3) - 2 * OVERLAP


def _ink_mm2(strip: NameStrip) -> float:
    """Area of the letters: length of the strokes times the pen's width."""
    high = text_height(strip)
    letters = sum(not letter.isspace() for letter in strip.text)
    return letters * INK_LENGTH * high * _stroke(high)


def _stroke(height: float) -> float:
    return max(float(LEAST_STROKE), round(STROKE_SHARE * height, 2))


def _thickness(frame: TrayFrame) -> float:
    """From the outer face to the inner one where the strip is: lip, strip, clearance, wall."""
    return 2 * frame.wall + frame.whole(THICKNESS) + BEHIND


def slot_of(frame: TrayFrame) -> tuple[float, float]:
    """Where the slot begins and ends along x; in the middle of the front where it is shorter."""
    land = CORNER_RADIUS + END_LAND + frame.wall
    if frame.options.strip_length:
        land = max(land, (frame.width - frame.options.strip_length) / 2 - CLEARANCE)
    return round(land, 4), round(frame.width - land, 4)


def _plan(frame: TrayFrame, x0: float, x1: float) -> Polygon:
    """Slot and window from above: a window in front, wider behind it."""
    lip, back = frame.wall, _thickness(frame) - frame.wall
    return Polygon(
        (
            (x0 + OVERLAP, -OVERSHOOT), (x1 - OVERLAP, -OVERSHOOT), (x1 - OVERLAP, lip), (x1, lip),
            (x1, back), (x0, back), (x0, lip), (x0 + OVERLAP, lip),
        )
    )  # fmt: skip


def _check_size(window: float, height: float) -> None:
    if not (window >= LEAST_WINDOW and height >= LEAST_HEIGHT):
        refuse_part(
            "name strip", "a name can be read", found=f"a window of {window:.1f} x {height:g}",
            allowed=f"at least {LEAST_WINDOW:g} x {LEAST_HEIGHT:g}", remedy="Take a larger front, or no strip.",
        )  # fmt: skip


def _check_front(frame: TrayFrame) -> None:
    x0, x1 = slot_of(frame)
    _check_size(x1 - x0 - 2 * OVERLAP, frame.options.strip_height)
    most = frame.height - frame.rest_height
    if not frame.options.strip_height <= most:
        frame.refuse(
            "a name strip lies above what things lie on", found=frame.options.strip_height, allowed=f"at most {most:g}",
            remedy="Make the tray higher or the strip lower.",
        )  # fmt: skip
    low = frame.options.low_side
    slotted = any(
        entry.split is Split.COLUMNS and entry.kind is not DividerKind.FIXED for entry in frame.options.dividers
    )
    if slotted or (low is not None and low.side is Side.FRONT):
        frame.refuse(
            "the front with a name strip has no other use", found="slots of dividers" if slotted else "a low front",
            allowed="a plain or swept front", remedy="Leave out one of the two.",
        )  # fmt: skip
