"""What a person is told of a part that was cut: its joints, what to glue, how to clamp it, for how long."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from nookwright.cutting.model import Hold
from nookwright.ground.findings import Finding, Severity
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from nookwright.cutting.model import CutPart, Joint

HANDLING_MIN = Fact(
    10.0, unit="min", kind=Kind.COMMON_PRACTICE, source="Thick superglue (cyanoacrylate) holds by then; thin in one."
)
CURED_H = Fact(24.0, unit="h", kind=Kind.COMMON_PRACTICE, source="Superglue, and epoxy of five minutes, at full hold.")


def joined(cut: CutPart) -> Finding:
    """The finding of one cut part.

    Args:
        cut: a part with joints.
    """
    text = f"{cut.part.name} is printed in {len(cut.pieces)} pieces, {_holds(cut.joints)}."
    return Finding("part-in-pieces", Severity.NOTE, cut.part.name, text, guide(cut))


def guide(cut: CutPart) -> str:
    """How the pieces are put together, in the order of the hands.

    Args:
        cut: a part with joints.
    """
    steps = [_lay(cut)]
    if any(joint.hold is Hold.TONGUES for joint in cut.joints):
        steps.append("Drop the dovetails in from above, all of one piece at once.")
    for pin, count in sorted(
        Counter(joint.pin for joint in cut.joints if joint.pin for _ in joint.places).items(), key=str
    ):
        steps.append(f"Cut {count} pins of {pin.length:.0f} mm from {pin.name} and glue them into one piece first.")
    if cut.joints and all(joint.dry for joint in cut.joints):
        steps.append("It may stay unglued while it stands there among its neighbours; to lift it out whole, glue it:")
    steps.append(_glue())
    return " ".join(steps)


def _holds(joints: tuple[Joint, ...]) -> str:
    """What keeps the pieces in line, counted."""
    count: Counter[str] = Counter()
    for joint in joints:
        if joint.hold is Hold.FACES:
            count["plain face"] += 1
        else:
            count["dovetail" if joint.hold is Hold.TONGUES else "pin"] += len(joint.places)
    listed = [f"{number} {name}{'s' if number > 1 else ''}" for name, number in sorted(count.items())]
    return f"held in line by {' and '.join(listed)}"


def _lay(cut: CutPart) -> str:
    if cut.part.seated:
        return "Set the pieces on the liner where the part goes: the cones hold them square while the glue sets."
    return "Lay the pieces on a flat board with baking paper on it."


def _glue() -> str:
    return (
        "A thin line of thick superglue on one face, not on the cones; press the faces together with a rubber band or "
        f"tape all round for {HANDLING_MIN:.0f} minutes, and load it after {CURED_H:.0f} hours. Epoxy of five minutes "
        "where it has to take knocks."
    )
