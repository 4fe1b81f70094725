"""SVG 1.1, small and always alike: a typed layer over ``xml.etree``, in millimetres of paper.

Promise: attributes stand in a fixed order, numbers have at most two decimals and no minus zero, and no id
is used, so that any number of drawings can stand in one page. What it does not know: scales, lettering and
what is drawn.

Source: W3C, Scalable Vector Graphics (SVG) 1.1 (Second Edition).
"""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

Point = tuple[float, float]

# XML 1.0, production 2 (Char): what is outside may not stand in a document, not even escaped.
_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_REPLACEMENT = "\ufffd"


class Anchor(StrEnum):
    """Which end of a text its point is."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True)
class Pen:
    """A line: its colour, its width in mm of paper, and dashes (drawn, left out, drawn, ...) in mm."""

    colour: str
    width: float
    dash: tuple[float, ...] = ()


@dataclass(frozen=True)
class Font:
    """Lettering: its size (em) in mm of paper, its colour and weight."""

    size: float
    colour: str
    bold: bool = False


@dataclass(frozen=True)
class Box:
    """A rectangle of paper, mm; y runs downwards."""

    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """Its right edge."""
        return self.x + self.width

    @property
    def bottom(self) -> float:
        """Its lower edge."""
        return self.y + self.height

    @property
    def middle(self) -> Point:
        """Its middle."""
        return self.x + self.width / 2, self.y + self.height / 2

    def inset(self, by: float) -> Box:
        """The box that lies inside by so much on every side (outside, where ``by`` is negative)."""
        return Box(self.x + by, self.y + by, self.width - 2 * by, self.height - 2 * by)

    def meets(self, other: Box) -> bool:
        """Whether the two share area."""
        return self.x < other.right and other.x < self.right and self.y < other.bottom and other.y < self.bottom

    def holds(self, other: Box) -> bool:
        """Whether the other lies inside."""
        return self.x <= other.x and other.right <= self.right and self.y <= other.y and other.bottom <= self.bottom


def number(value: float) -> str:
    """A number as it stands in the file.

    >>> number(3.14159), number(-0.001), number(20.0), number(0.5)
    ('3.14', '0', '20', '0.5')

    Raises:
        ValueError: the number is not finite.
    """
    if not math.isfinite(value):
        raise ValueError(f"A number in a drawing must be finite, found {value}.")
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


class Canvas:
    """A group of a drawing that things are drawn into, later ones on top."""

    def __init__(self, element: ET.Element) -> None:
        self._element = element

    def _add(self, tag: str, attributes: dict[str, str]) -> ET.Element:
        return ET.SubElement(self._element, tag, attributes)

    def group(self, name: str) -> Canvas:
        """A group of its own, with a class that says what it holds."""
        return Canvas(self._add("g", {"class": name}))

    def line(self, start: Point, end: Point, pen: Pen) -> None:
        """A straight line."""
        ends = {"x1": start[0], "y1": start[1], "x2": end[0], "y2": end[1]}
        self._add("line", _numbers(ends) | _stroke(pen))

    def lines(self, segments: Iterable[tuple[Point, Point]], pen: Pen) -> None:
        """Many straight lines as one path: a hatching, a grid."""
        path = "".join(f"M{number(a[0])} {number(a[1])}L{number(b[0])} {number(b[1])}" for a, b in segments)
        if path:
            self._add("path", {"d": path, "fill": "none"} | _stroke(pen))

    def rect(self, box: Box, *, pen: Pen | None = None, fill: str = "none", radius: float = 0, name: str = "") -> None:
        """A rectangle, with rounded corners if a radius is given."""
        shape = {"x": box.x, "y": box.y, "width": box.width, "height": box.height}
        if radius > 0:
            shape["rx"] = min(radius, box.width / 2, box.height / 2)
        label = {"class": name} if name else {}
        self._add("rect", label | _numbers(shape) | {"fill": fill} | _stroke(pen))

    def circle(self, middle: Point, radius: float, *, pen: Pen | None = None, fill: str = "none") -> None:
        """A circle."""
        shape = {"cx": middle[0], "cy": middle[1], "r": radius}
        self._add("circle", _numbers(shape) | {"fill": fill} | _stroke(pen))

    def polygon(self, points: Iterable[Point], *, pen: Pen | None = None, fill: str = "none") -> None:
        """A closed polygon."""
        text = " ".join(f"{number(x)},{number(y)}" for x, y in points)
        self._add("polygon", {"points": text, "fill": fill} | _stroke(pen))

    def text(
        self, at: Point, content: str, font: Font, *, anchor: Anchor = Anchor.START, upwards: bool = False
    ) -> None:
        """A line of text; ``at`` is on its base line. Upwards, it reads from the right of the sheet."""
        attributes = _numbers({"x": at[0], "y": at[1], "font-size": font.size}) | {"fill": font.colour}
        if font.bold:
            attributes["font-weight"] = "bold"
        if anchor is not Anchor.START:
            attributes["text-anchor"] = str(anchor)
        if upwards:
            attributes["transform"] = f"rotate(-90 {number(at[0])} {number(at[1])})"
        self._add("text", attributes).text = clean(content)


def drawing(width: float, height: float, *, title: str, description: str, family: str) -> Canvas:
    """An empty drawing.

    Args:
        width: of the sheet, mm.
        height: of the sheet, mm.
        title: its name, read aloud in place of the picture.
        description: what it shows, in a sentence.
        family: the CSS font family of all its lettering.
    """
    size = {"width": f"{number(width)}mm", "height": f"{number(height)}mm"}
    view = {"viewBox": f"0 0 {number(width)} {number(height)}", "role": "img"}
    head = {"xmlns": "http://www.w3.org/2000/svg", "version": "1.1"}
    label = {"aria-label": clean(title), "font-family": family}
    root = ET.Element("svg", head | size | view | label)
    ET.SubElement(root, "title").text = clean(title)
    ET.SubElement(root, "desc").text = clean(description)
    return Canvas(root)


def to_text(canvas: Canvas) -> str:
    """The whole file, with its XML declaration, one element a line so that files can be compared."""
    root = canvas._element  # noqa: SLF001 - the canvas is ours, its element nobody else's business
    ET.indent(root, space=" ")
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{ET.tostring(root, encoding="unicode")}\n'


def clean(text: str) -> str:
    r"""The text without characters that XML cannot hold.

    >>> clean("a\x07b")
    'a�b'
    """
    return _NOT_XML.sub(_REPLACEMENT, text)


def _numbers(values: dict[str, float]) -> dict[str, str]:
    return {name: number(value) for name, value in values.items()}


def _stroke(pen: Pen | None) -> dict[str, str]:
    if pen is None:
        return {}
    line = {"stroke": pen.colour, "stroke-width": number(pen.width)}
    return line | ({"stroke-dasharray": " ".join(map(number, pen.dash))} if pen.dash else {})
