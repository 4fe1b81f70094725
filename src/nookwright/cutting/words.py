"""What a person is told of a part that was cut: its joints, what to glue, how to clamp it, what the glue carries."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from nookwright.cutting.laps import LAP_GAP, LAP_THICK
from nookwright.cutting.model import Axis, Hold
from nookwright.ground.findings import Finding, Severity
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from nookwright.cutting.model import CutPart, Joint

HANDLING_MIN = Fact(
    10.0, unit="min", kind=Kind.COMMON_PRACTICE, source="Thick superglue (cyanoacrylate) holds by then; thin in one."
)
CURED_H = Fact(24.0, unit="h", kind=Kind.COMMON_PRACTICE, source="Superglue, and epoxy of five minutes, at full hold.")
GLUE_N_MM2 = Fact(
    2.0,
    unit="N/mm2",
    kind=Kind.COMMON_PRACTICE,
    source="Superglue on plastic is given with 5 to 15; print lines glued by hand may have a third of it.",
)
STRIP_OVERLAP = Fact(
    8.0, unit="mm", kind=Kind.CHOICE, source="Of a strip across a seam on each side: wider than the edge it relieves."
)
_NAMES = {Hold.FACES: "plain face", Hold.TONGUES: "dovetail", Hold.PINS: "pin", Hold.LAPS: "lap"}


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
    beside = tuple(joint for joint in cut.joints if joint.axis != Axis.HEIGHT)
    steps = [_lay(cut)]
    if any(joint.hold is Hold.TONGUES for joint in beside):
        steps.append("Drop the dovetails in from above, all of one piece at once.")
    for pin, count in sorted(
        Counter(joint.pin for joint in cut.joints if joint.pin for _ in joint.places).items(), key=str
    ):
        steps.append(f"Cut {count} pins of {pin.length:.0f} mm from {pin.name} and glue them into one piece first.")
    if len(beside) < len(cut.joints):
        steps.append(_stack(cut.joints))
    if cut.joints and all(joint.dry for joint in cut.joints):
        steps.append("It may stay unglued while it stands there among its neighbours; to lift it out whole, glue it:")
    steps.append(_glue())
    if beside:
        steps.append(_strength(beside))
    return " ".join(steps)


def _holds(joints: tuple[Joint, ...]) -> str:
    """What keeps the pieces in line, counted."""
    count: Counter[str] = Counter()
    for joint in joints:
        count[_NAMES[joint.hold]] += max(1, len(joint.places), len(joint.laps))
    listed = [f"{number} {name}{'s' if number > 1 else ''}" for name, number in sorted(count.items())]
    return f"held in line by {' and '.join(listed)}"


def _lay(cut: CutPart) -> str:
    if cut.part.seated:
        return "Set the pieces on the liner where the part goes: the cones hold them square while the glue sets."
    return "Lay the pieces on a flat board with baking paper on it."


def _stack(joints: tuple[Joint, ...]) -> str:
    """How a piece goes onto another."""
    up = [joint for joint in joints if joint.axis == Axis.HEIGHT]
    if all(joint.hold is Hold.LAPS for joint in up):
        takes = LAP_THICK + LAP_GAP
        return (
            "Glue along the top edge and the outside of the laps, then slide the upper piece down over them. The laps "
            f"take {takes:.1f} mm inside the walls there; nothing that the kit keeps in it meets them."
        )
    if all(joint.hold is Hold.PINS for joint in up):
        return "Set the upper piece down on the pins of the lower one."
    return (
        "Where things stand so close that there is no room for laps inside the walls, set the upper piece down on the "
        "lower one between two flat boards, one on each side, and clamp them lightly until the glue has set."
    )


def _glue() -> str:
    return (
        "A thin line of thick superglue on one face, not on the cones; press the faces together with a rubber band or "
        f"tape all round for {HANDLING_MIN:.0f} minutes, and load it after {CURED_H:.0f} hours. Epoxy of five minutes "
        "where it has to take knocks."
    )


def _strength(joints: tuple[Joint, ...]) -> str:
    """What the weakest seam carries, and what makes it stronger."""
    weakest = min(joint.area_mm2 for joint in joints)
    return (
        f"The weakest seam has {weakest:.0f} mm2 to glue and carries some {weakest * GLUE_N_MM2:.0f} N pulled straight "
        "apart, far less bent: lift the part on both sides of it. Where things leave room, a strip of "
        f"{2 * STRIP_OVERLAP:.0f} mm, cut from a failed print and glued inside across the seam of each wall, has "
        f"{STRIP_OVERLAP:.0f} mm2 to glue for each mm of seam instead of the wall's thickness."
    )
