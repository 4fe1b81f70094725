"""What keeps a piece from printing without support, as numbers that can be remembered, and in words.

The words say what was found, how bad it is at its worst, where that is on the piece as it lies on the bed, and what to
do.
"""

from __future__ import annotations

from dataclasses import dataclass

from nookwright.checks.bridges import LONGEST_BRIDGE
from nookwright.ground.findings import Finding, Severity
from nookwright.ground.sources import Fact, Kind

FIRST_LAYER_LEAST_MM2 = Fact(
    20.0, unit="mm2", kind=Kind.CHOICE, source="Less than a square of 4.5 on the bed is knocked over by the nozzle."
)


@dataclass(frozen=True)
class Flaw:
    """Places of one kind on a piece: how many, and of the worst how bad it is and where.

    Attributes:
        code: of the finding.
        count: how many places.
        measure: of the worst; mm or mm2 or a ratio, by its kind.
        at: x, y, z of the worst, mm.
    """

    code: str
    count: int
    measure: float
    at: tuple[float, float, float]


@dataclass(frozen=True)
class _Words:
    """How a kind of flaw is said: of one place, of several, and what to do."""

    severity: Severity
    one: str
    many: str
    remedy: str


_SAID = {
    "overhang": _Words(
        Severity.STOP,
        "A place of {m:.1f} mm2 hangs out flatter than 45 degrees and is not carried at both ends",
        "{n} places hang out flatter than 45 degrees and are not carried at both ends, the largest {m:.1f} mm2",
        "Put a slope of 45 degrees under it, or carry it on two opposite sides.",
    ),
    "island-in-air": _Words(
        Severity.STOP,
        "An island of {m:.1f} mm2 begins in the air",
        "{n} islands begin in the air, the largest of {m:.1f} mm2",
        "Turn the piece over, or join what hangs to what is below.",
    ),
    "bridge-long": _Words(
        Severity.WARN,
        f"A bridge of {{m:.1f}} mm is longer than {LONGEST_BRIDGE:g} mm",
        f"{{n}} bridges are longer than {LONGEST_BRIDGE:g} mm, the longest {{m:.1f}} mm",
        "Put a rib under it, or an arch of 45 degrees.",
    ),
    "first-layer-small": _Words(
        Severity.WARN,
        f"It holds badly on the bed, by {{m:.1f}} mm2; wanted: as wide as a line, and {FIRST_LAYER_LEAST_MM2:g} mm2",
        f"{{n}} places hold badly on the bed, the largest by {{m:.1f}} mm2; "
        f"wanted: as wide as a line, and {FIRST_LAYER_LEAST_MM2:g} mm2",
        "Print it with a brim, or lay it down.",
    ),
    "wall-thin": _Words(
        Severity.WARN,
        "A wall is thinner than the narrowest line, over {m:.1f} mm",
        "Walls are thinner than the narrowest line, the longest over {m:.1f} mm",
        "Make the wall whole lines thick, or print it with a smaller nozzle.",
    ),
    "tall-slim": _Words(
        Severity.NOTE,
        "It stands {m:.0f} times as high as its base is deep",
        "",
        "Print it with a brim, slowly.",
    ),
}
CODES = tuple(_SAID)


def finding(subject: str, flaw: Flaw) -> Finding:
    """A flaw in words.

    Args:
        subject: id of the piece.
        flaw: its place seen from the front left corner of the piece's box, on the bed.

    >>> finding("lid", Flaw("bridge-long", 1, 26.0, (40.0, 9.0, 3.3))).text
    'A bridge of 26.0 mm is longer than 20 mm; 40.0 from its left side, 9.0 from its front, 3.3 above the bed.'
    """
    words = _SAID[flaw.code]
    said = (words.one if flaw.count == 1 else words.many).format(n=flaw.count, m=flaw.measure)
    x, y, z = flaw.at
    where = "" if flaw.code == "tall-slim" else f"; {x:.1f} from its left side, {y:.1f} from its front, {z:.1f} above"
    return Finding(flaw.code, words.severity, subject, f"{said}{where}{' the bed' if where else ''}.", words.remedy)
