"""What keeps a piece from printing without support, as numbers that can be remembered, and in words.

The words say what was found, how bad it is at its worst, against what limit, where that is on the piece as it lies on
the bed, and what to do.
"""

from __future__ import annotations

from dataclasses import dataclass

from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind

FIRST_LAYER_LEAST_MM2 = Fact(
    20.0, unit="mm2", kind=Kind.CHOICE, source="Less than a square of 4.5 on the bed is knocked over by the nozzle."
)
FAR_BEYOND = Fact(
    2.0, unit="1", kind=Kind.CHOICE, source="A note becomes a warning where a figure is beyond its limit so many times."
)


@dataclass(frozen=True)
class Flaw:
    """Places of one kind on a piece: how many, and of the worst how bad it is and where.

    Attributes:
        code: of the finding.
        count: how many places.
        measure: of the worst; mm, mm2, MPa or a ratio, by its kind.
        limit: what it may be, in the same unit.
        at: x, y, z of the worst, mm.
        extent: how long or large the worst is beside that, mm; 0 where its measure says it.
    """

    code: str
    count: int
    measure: float
    limit: float
    at: tuple[float, float, float]
    extent: float = 0.0


@dataclass(frozen=True)
class _Words:
    """How a kind of flaw is said: of one place, of several, and what to do; whether of a place or of the whole."""

    severity: Severity
    unit: str
    one: str
    many: str
    remedy: str
    whole: bool = False
    graver: bool = False  # a warning where it is far beyond its limit


_SAID = {
    "overhang": _Words(
        Severity.STOP,
        "mm2",
        "A place of {m:.1f} mm2 hangs out flatter than 45 degrees and is not carried at both ends",
        "{n} places hang out flatter than 45 degrees and are not carried at both ends, the largest {m:.1f} mm2",
        "Put a slope of 45 degrees under it, or carry it on two opposite sides.",
    ),
    "island-in-air": _Words(
        Severity.STOP,
        "mm2",
        "An island of {m:.1f} mm2 begins in the air",
        "{n} islands begin in the air, the largest of {m:.1f} mm2",
        "Turn the piece over, or join what hangs to what is below.",
    ),
    "bridge-long": _Words(
        Severity.WARN,
        "mm",
        "A bridge of {m:.1f} mm is longer than {l:g} mm",
        "{n} bridges are longer than {l:g} mm, the longest {m:.1f} mm",
        "Put a rib under it, or an arch of 45 degrees.",
    ),
    "first-layer-small": _Words(
        Severity.WARN,
        "mm2",
        "It holds on the bed by {m:.1f} mm2 only; wanted: as wide as a line, and {l:g} mm2",
        "{n} places hold on the bed by too little, the largest {m:.1f} mm2; wanted: as wide as a line, and {l:g} mm2",
        "Print it with a brim, or lay it down.",
    ),
    "wall-thin": _Words(
        Severity.WARN,
        "mm",
        "A wall is {m:.2f} mm thick over {e:.1f} mm; the narrowest line is {l:.2f} mm",
        "Walls are too thin, the longest {m:.2f} mm thick over {e:.1f} mm; the narrowest line is {l:.2f} mm",
        "Make the wall whole lines thick, or print it with a smaller nozzle.",
    ),
    "hole-closes": _Words(
        Severity.WARN,
        "mm",
        "A gap of {m:.2f} mm, {e:.1f} mm long, comes out closed: the printer may take {l:.2f} mm off it",
        "{n} gaps come out closed, the longest of {m:.2f} mm over {e:.1f} mm: the printer may take {l:.2f} mm off it",
        "Make it wider, or print the coupon: a printer that is known takes off less.",
    ),
    "text-small": _Words(
        Severity.WARN,
        "mm",
        "A stroke of its lettering is {m:.2f} mm wide; the narrowest line is {l:.2f} mm",
        "Strokes of its lettering are too thin, one {m:.2f} mm wide; the narrowest line is {l:.2f} mm",
        "Write less, so that the letters get larger, or print it with a smaller nozzle.",
    ),
    "text-fills": _Words(
        Severity.WARN,
        "mm",
        "A gap in its lettering is {m:.2f} mm wide and fills up: the printer may take {l:.2f} mm off it",
        "{n} gaps in its lettering fill up, one {m:.2f} mm wide: the printer may take {l:.2f} mm off it",
        "Write less, so that the letters get larger, or print it with a smaller nozzle.",
    ),
    "knocked-over": _Words(
        Severity.WARN,
        "MPa",
        "A nozzle that catches at its top pulls with {m:.1f} MPa at the edge of its first layer; a bed holds {l:g} MPa",
        "",
        "Print it with a brim of 5 mm, or lay it down.",
        whole=True,
    ),
    "tall-slim": _Words(
        Severity.NOTE,
        "1",
        "It stands {m:.0f} times as high as its base is deep; beyond {l:g} times it sways",
        "",
        "Print it with a brim, slowly.",
        whole=True,
    ),
    "corners-lift": _Words(
        Severity.NOTE,
        "mm",
        "Cooling draws its farthest corner in by {m:.2f} mm; what holds it there bears {l:.2f} mm before it lifts",
        "",
        "Print it with pads or a brim, keep drafts away, or cut it: a smaller `longest` of its material does that.",
        graver=True,
    ),
}
CODES = tuple(_SAID)


def finding(subject: str, flaw: Flaw) -> Finding:
    """A flaw in words.

    Args:
        subject: id of the piece.
        flaw: its place seen from the front left corner of the piece's box, on the bed.

    >>> finding("lid", Flaw("bridge-long", 1, 26.0, 20.0, (40.0, 9.0, 3.3))).text
    'A bridge of 26.0 mm is longer than 20 mm; 40.0 from its left side, 9.0 from its front, 3.3 above the bed.'
    """
    words = _SAID[flaw.code]
    said = (words.one if flaw.count == 1 else words.many).format(
        n=flaw.count, m=flaw.measure, l=flaw.limit, e=flaw.extent
    )
    x, y, z = flaw.at
    where = "" if words.whole else f"; {x:.1f} from its left side, {y:.1f} from its front, {z:.1f} above the bed"
    grave = words.graver and flaw.measure > FAR_BEYOND * flaw.limit
    return Finding(
        flaw.code,
        Severity.WARN if grave else words.severity,
        subject,
        f"{said}{where}.",
        words.remedy,
        against=Against(flaw.measure, flaw.limit, words.unit),
    )
