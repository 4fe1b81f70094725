"""The look of the drawings: sheets, scales, pens, lettering and colours, all in one place.

After the habits of a cabinet maker's drawing: warm white paper, blue-black ink, two widths of line, walls
hatched, dimensions outside and in chains, one number a part in a ring, and a list that the numbers lead to.
"""

from __future__ import annotations

import re

from nookwright.exchange.svg import Font, Pen
from nookwright.ground.sources import Fact, Kind

# ISO 216: A4, A3, A2 and A1 as (width, height) of the upright sheet.
SHEETS = (("A4", 210.0, 297.0), ("A3", 297.0, 420.0), ("A2", 420.0, 594.0), ("A1", 594.0, 841.0))

# ISO 5455 recommends 1:1, 1:2, 1:5, 1:10, 1:20; those between are usual where the sheet is small.
SCALES = (1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 7.5, 8.0, 10.0, 12.5, 15.0, 20.0, 25.0, 50.0, 100.0)

MARGIN = Fact(
    9.0,
    unit="mm",
    kind=Kind.COMMON_PRACTICE,
    source="Paper that office printers may leave white: 5; and air.",
)
WALL = Fact(
    2.4,
    unit="mm",
    kind=Kind.CHOICE,
    source="Drawn thickness of a space's wall, on paper; it is not to scale.",
)
RING = Fact(4.2, unit="mm", kind=Kind.CHOICE, source="Diameter of a number's ring: two digits of the small lettering.")
ARROW = Fact(
    1.6,
    unit="mm",
    kind=Kind.CHOICE,
    source="Length of an arrow head; three to four times the wide line (ISO 129).",
)

TINY = Fact(2.2, unit="mm", kind=Kind.CHOICE, source="Em of the least lettering: 6.2 points, for the tightest places.")
SMALL = Fact(2.5, unit="mm", kind=Kind.STANDARD, source="Em of capitals 1.8 high, the least lettering of ISO 3098-1.")
NORMAL = Fact(2.8, unit="mm", kind=Kind.CHOICE, source="Em of what is read at arm's length: 8 points.")
LARGE = Fact(3.5, unit="mm", kind=Kind.STANDARD, source="Em of capitals 2.5 high, the next lettering of ISO 3098-1.")
TITLE = Fact(5.0, unit="mm", kind=Kind.STANDARD, source="Em of capitals 3.5 high, the lettering after that.")

_HEX = re.compile("#[0-9a-fA-F]{6}")

FAMILY = "'Liberation Sans', Arial, Helvetica, 'DejaVu Sans', sans-serif"

PAPER = "#fdfbf6"
INK = "#1f2d3a"
FAINT = "#5b6670"
RED = "#a4261d"
SHADE = "#eee8da"

WIDE = Pen(INK, 0.5)
THIN = Pen(INK, 0.18)
EDGE = Pen(INK, 0.3)
GREY = Pen(FAINT, 0.18)
RULE = Pen("#cfc8b8", 0.18)
JOINT = Pen(FAINT, 0.25, (1.6, 0.8))
CENTRE = Pen(FAINT, 0.18, (3.0, 0.7, 0.5, 0.7))
WARNING = Pen(RED, 0.25)
THING = Pen(FAINT, 0.13)


def font(size: float, *, bold: bool = False, colour: str = INK) -> Font:
    """Lettering of a size, in ink unless said otherwise."""
    return Font(size, colour, bold=bold)


def mixed(colour: str, other: str, share: float) -> str:
    """A colour mixed with another, both as ``#rrggbb``.

    >>> mixed("#000000", "#ffffff", 0.5)
    '#808080'

    Args:
        colour: the one.
        other: the other.
        share: of the first, 0 to 1.
    """
    pairs = zip(_channels(colour), _channels(other), strict=True)
    return "#" + "".join(f"{round(a * share + b * (1 - share)):02x}" for a, b in pairs)


def tint(colour: str) -> str:
    """A colour as a wash on the paper, light enough for ink to be read on it."""
    return mixed(colour, PAPER, 0.28)


def safe_colour(colour: str) -> str:
    """The colour if it is written as ``#rrggbb``, else a grey; nothing else may reach a file's style.

    >>> safe_colour("#4A5a68"), safe_colour("red;background:url(x)") == FAINT
    ('#4a5a68', True)
    """
    return colour.lower() if _HEX.fullmatch(colour) else FAINT


def _channels(colour: str) -> tuple[int, int, int]:
    colour = safe_colour(colour)
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)
