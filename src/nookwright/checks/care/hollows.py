"""Hollows that water gets into but not out of: closed ones in a mesh, and chambers with a mouth that is narrow.

A mesh with an inner shell is hollow and closed. A chamber is open, but most of it is seen neither from above nor from
below: section by section, what plastic lies all round, above and below is added up. Sockets and grooves are too small
to count, a tray with an inner rim is open for the most part. What it does not know: infill, which is closed and dry.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.cautions.words import caution
from nookwright.checks.in_words import OURS
from nookwright.checks.sections import Sections
from nookwright.checks.soundness import volume_of
from nookwright.checks.strength.outlines import signed_mm2
from nookwright.checks.weights import MM3_PER_CM3
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from manifold3d import CrossSection

    from nookwright.checks.bodies import Shape
    from nookwright.checks.verdicts import Verdicts
    from nookwright.exchange.kit import Kit, KitPart
    from nookwright.survey.models import Room

LEAST_CM3 = Fact(1.0, unit="cm3", kind=Kind.CHOICE, source="Less water dries by itself; sockets and grooves are less.")
STEP = Fact(
    0.5, unit="mm", kind=Kind.CHOICE, source="Between sections: no floor or roof is thinner, so none is missed."
)
CEILING_MM2 = Fact(
    100.0, unit="mm2", kind=Kind.CHOICE, source="A roof over less than a square of 10 covers no cm3 that matters."
)
SEAT = Fact(7.0, unit="mm", kind=Kind.CHOICE, source="Below this height ceilings are those of sockets.")
MOST_SHARE = Fact(
    0.5,
    unit="1",
    kind=Kind.CHOICE,
    source="Of a hollow that is hidden: what is open for more than half dries in the air.",
)
LOOKS_DOWN = Fact(0.3, unit="1", kind=Kind.CHOICE, source="Sine of 17 degrees: a flatter face is a roof.")


def check_hollows(
    kit: Kit, room: Room, written: Mapping[str, Shape], sound: Mapping[str, Shape], verdicts: Verdicts
) -> Iterator[Finding]:
    """Findings about hollows.

    Args:
        kit: the kit, its references sound.
        room: says where it gets wet.
        written: meshes by file, the unsound ones too.
        sound: those that are sound.
        verdicts: those reached before.
    """
    wet = {space.id for space in room.space if space.wet}
    in_wet = {placement.part for placement in kit.placements if placement.space in wet}
    capped = any(part.kind == "cap" for part in kit.parts)
    for part in kit.parts:
        if part.stl in written and part.stl not in sound:
            yield from _closed(part, written[part.stl])
        elif part.stl in sound:
            hidden = _hidden_cm3(sound[part.stl], verdicts)
            if hidden >= LEAST_CM3:
                yield _chamber(part, hidden, capped=capped, wet=part.id in in_wet)


def _closed(part: KitPart, shape: Shape) -> Iterator[Finding]:
    """Inner shells of a mesh."""
    shells = shell_volumes(shape)
    inner = [volume for volume in shells if volume < 0]
    if inner and max(shells) > 0:  # a mesh that is inside out has no shell round its hollow
        hollow = -min(inner) / MM3_PER_CM3
        text = f"A hollow of {hollow:.1f} cm3 in it is closed on all sides; allowed is none: water that seeps in stays."
        remedy = OURS
        yield Finding("hollow-closed", Severity.STOP, part.id, text, remedy, Against(hollow, 0.0, "cm3"))


def shell_volumes(shape: Shape) -> list[float]:
    """Signed volume inside each shell of a mesh, mm3; negative for one that is wound as a hollow.

    Args:
        shape: closed; shells share no corner.
    """
    label = np.arange(len(shape.vertices))
    rows = shape.triangles.astype(np.int64)
    while True:
        least = label[rows].min(axis=1)
        before = label.copy()
        for corner in range(3):
            np.minimum.at(label, rows[:, corner], least)
        label = label[label]
        if np.array_equal(before, label):
            break
    of_row = label[rows[:, 0]]
    return [volume_of(shape.corners[of_row == shell]) for shell in np.unique(of_row)]


def _chamber(part: KitPart, hidden: float, *, capped: bool, wet: bool) -> Finding:
    """What to say about a chamber."""
    closed = "closed by a cap that is held by friction, which is no seal" if capped else "with a narrow mouth"
    about = f"It has a chamber of {hidden:.0f} cm3, {closed}{' and stands where it gets wet' if wet else ''}."
    found = caution("hollow-wet", part.id, about, Against(hidden, float(LEAST_CM3), "cm3"))
    return Finding(found.code, Severity.WARN, found.subject, found.text, found.remedy, found.against) if wet else found


def _hidden_cm3(shape: Shape, verdicts: Verdicts) -> float:
    """Volume of a chamber, remembered; none for what is open for the most part."""
    if not _has_roof(shape):
        return 0.0
    hidden, share = verdicts.of(f"hidden hollow {shape.key} {STEP}", lambda: hidden_in(shape))
    return hidden if share > MOST_SHARE else 0.0


def _has_roof(shape: Shape) -> bool:
    """Whether enough faces above the seat look down: without them nothing is hidden."""
    corners = shape.corners
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]) / 2
    area = np.linalg.norm(normals, axis=1)
    roof = (normals[:, 2] < -LOOKS_DOWN * area) & (corners[:, :, 2].max(axis=1) > shape.box[0][2] + SEAT)
    return bool(-normals[roof, 2].sum() > CEILING_MM2)


def hidden_in(shape: Shape) -> tuple[float, float]:
    """Volume with plastic all round, above and below, and what share that is of all that plastic lies round.

    Args:
        shape: sound.

    Returns:
        cm3, but for what is below a hole in the roof; and the share, of the levels at which something is hidden.
    """
    sections = Sections(shape.vertices, shape.triangles, float(STEP))
    all_of_it = [sections.at(number) for number in range(sections.count)]
    below, above = _gathered(all_of_it), _gathered(all_of_it[::-1])[::-1]
    hidden = whole = 0.0
    for section, under, over in zip(all_of_it, below, above, strict=True):
        inside = _insides(section)
        covered = float((inside ^ under ^ over).area())
        hidden += covered
        whole += inside.area() if covered > STEP else 0.0
    return hidden * STEP / MM3_PER_CM3, hidden / whole if whole else 0.0


def _gathered(sections: list[CrossSection]) -> list[CrossSection]:
    """For each section the plan of all before it."""
    from manifold3d import CrossSection

    plan, found = CrossSection(), []
    for section in sections:
        found.append(plan)
        plan += section
    return found


def _insides(section: CrossSection) -> CrossSection:
    """What plastic lies all round in a section, and is not plastic."""
    from manifold3d import CrossSection, FillRule

    outlines = [ring for ring in section.to_polygons() if signed_mm2(np.asarray(ring)) > 0]
    if not outlines:
        return CrossSection()
    return CrossSection(outlines, FillRule.Positive) - section
