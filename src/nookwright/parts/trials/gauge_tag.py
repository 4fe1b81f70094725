"""What all gauges share: the slice that they are of, and a tag with their size."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.module.seat import whole_layers
from nookwright.parts.trays.name_strip import INK_LENGTH
from nookwright.shapes.regions import Glyphs, Rect, text_width
from nookwright.shapes.solids import Move, Named, Prism, Solid

if TYPE_CHECKING:
    from nookwright.parts.cradles.plan_outlines import Slab

TAG_DEPTH = Fact(7.4, unit="mm", kind=Kind.CALCULATED, source="The lettering and a margin before and behind it.")
TAG_HEIGHT = Fact(1.0, unit="mm", kind=Kind.CHOICE, source="Five layers of 0.2: a fingertip takes hold of it.")
TEXT = Fact(5.0, unit="mm", kind=Kind.CHOICE, source="Height of the lettering: read at arm's length.")
PEN = Fact(0.9, unit="mm", kind=Kind.CHOICE, source="Two lines: lettering that prints from any nozzle.")
TEXT_LAYERS = Fact(2, unit="layers", kind=Kind.COMMON_PRACTICE, source="Of lettering: seen and felt.")
MARGIN = Fact(1.2, unit="mm", kind=Kind.CHOICE, source="Around the lettering.")
SUNK = Fact(0.2, unit="mm", kind=Kind.CHOICE, source="Letters start this deep in the tag.")


@dataclass(frozen=True)
class GaugeSpec:
    """The slice of a pocket.

    Attributes:
        width: of the pocket along x, or its diameter, mm.
        depth: along y; 0 for a round one.
        radius: of the corners of a pocket for boxes.
    """

    width: float
    depth: float = 0.0
    radius: float = 0.0

    @property
    def round(self) -> bool:
        """Whether it is for round things."""
        return self.depth == 0

    @property
    def mark(self) -> str:
        """What it is marked with: its width or diameter, as the room file asks for it."""
        return f"{self.width:.1f}"

    @property
    def words(self) -> str:
        """Its size in words."""
        return self.mark if self.round else f"{self.width:.1f} x {self.depth:.1f}"


def tag_width(mark: str) -> float:
    """How wide the tag of a mark is, mm."""
    return text_width(mark, TEXT, PEN) + 2 * MARGIN


def lettering(mark: str, middle: float, front: float, top: float, layer: float) -> Solid:
    """The mark, raised.

    Args:
        mark: the text.
        middle: of the tag along x, mm.
        front: edge of the tag, mm.
        top: of the tag, mm.
        layer: of the printer, mm.
    """
    glyphs = Prism(Glyphs(mark, TEXT, PEN), SUNK + TEXT_LAYERS * layer)
    at = middle - text_width(mark, TEXT, PEN) / 2
    return Named(Move(glyphs, x=at, y=front + MARGIN, z=top - SUNK), "text")


def lettering_mm3(mark: str, layer: float) -> float:
    """Volume of the mark above the tag, mm3."""
    letters = sum(letter.isdigit() for letter in mark)
    return letters * INK_LENGTH * TEXT * PEN * TEXT_LAYERS * layer


def tag_height(layer: float) -> float:
    """Height of the tag, whole layers, mm."""
    return whole_layers(TAG_HEIGHT, layer)


def plate(outline: Slab, height: float) -> Solid:
    """A flat piece with an upright rectangle or a bar as its outline."""
    return Prism(outline.region(), height)


def tag(middle: float, width: float, depth: float, layer: float) -> Solid:
    """The tag itself, from y = 0.

    Args:
        middle: along x, mm.
        width: mm.
        depth: mm.
        layer: of the printer, mm.
    """
    return Move(Prism(Rect(width, depth), tag_height(layer)), x=middle - width / 2)
