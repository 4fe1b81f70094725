"""All checks of forces on a kit: slams, things that are thrown, pulls, runners, furniture."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from nookwright.checks.forces.around import Around
from nookwright.checks.forces.carrying import assumed_masses, overloaded_runners
from nookwright.checks.forces.cones import Seats
from nookwright.checks.forces.drawing import lifting_dispensers
from nookwright.checks.forces.leaving import thrown_from
from nookwright.checks.forces.lifting import lifting_cradles, lifting_liners
from nookwright.checks.forces.liners import sliding_liners
from nookwright.checks.forces.slams import SLAM_G, slams_of
from nookwright.checks.forces.sliding import bears_n, reserve_words, sliding_parts
from nookwright.checks.forces.stands import Loads
from nookwright.checks.forces.thrown import thrown_findings
from nookwright.checks.forces.tipping import tipping_furniture
from nookwright.checks.forces.toppling import toppling_parts
from nookwright.checks.weights import weight_n
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.survey.models import SpaceKind

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.checks.bodies import Shape
    from nookwright.checks.forces.cones import Seated
    from nookwright.checks.forces.stands import Stand
    from nookwright.checks.forces.thrown import Thrown
    from nookwright.exchange.kit import Kit, KitSpace
    from nookwright.survey.models import Room, Space

MANY = Fact(3, unit="1", kind=Kind.CHOICE, source="So many parts of a space are said one by one; more are one finding.")


def check_forces(kit: Kit, room: Room, shapes: Mapping[str, Shape]) -> tuple[Finding, ...]:
    """Check what a slam, a pull and a full drawer do to a kit.

    Args:
        kit: the kit, its references sound.
        room: says what things weigh, how drawers run and what they may carry.
        shapes: sound meshes by file; a part whose mesh is not among them is taken as its box.
    """
    loads = Loads(kit, room, shapes)
    seats = Seats(loads, kit.module.pitch)
    surveyed = {space.id: space for space in room.space}
    findings: list[Finding] = []
    thrown: list[Thrown] = []
    held: list[tuple[Stand, Seated]] = []
    for space in kit.spaces:
        read, stands = surveyed[space.id], loads.stands[space.id]
        seated = {stand.name: seats.of(stand) for stand in stands}
        findings += _stops(space, read, loads, seated)
        findings += lifting_liners(space.id, stands, seated, loads)
        findings += overloaded_runners(read, space, loads)
        thrown += _thrown(space, read, loads)
        if read.kind is SpaceKind.DRAWER:
            held += [(stand, seated[stand.name]) for stand in stands]
    by_part = {part: stand for stands in loads.stands.values() for stand in stands for part in stand.parts}
    findings += thrown_findings(thrown)
    findings += lifting_dispensers(by_part, loads)
    findings += lifting_cradles(by_part, loads)
    findings += assumed_masses(loads)
    findings += tipping_furniture(room, loads)
    findings += _reserve(held)
    return tuple(findings)


def _around(space: KitSpace, loads: Loads) -> Around:
    return Around(space, loads, [one.id for one in loads.kit.placements if one.space == space.id])


def _stops(space: KitSpace, read: Space, loads: Loads, seated: Mapping[str, Seated]) -> Iterator[Finding]:
    """What slides and topples in a space: each part once, by the first stop that does it, and many parts as one."""
    around, stands = _around(space, loads), loads.stands[space.id]
    whole = [one for one in stands if all(loads.shape_of(name) is not None for name in (*one.parts, *one.on))]
    panels = [name for name in around.names if loads.parts[loads.placements[name].part].kind == "panel"]
    worst: dict[tuple[str, str], Finding] = {}
    for slam in slams_of(read):
        found = [*toppling_parts(stands, seated, around, slam)]
        if read.kind is SpaceKind.DRAWER:
            found += sliding_parts(whole, seated, around, slam)
            found += sliding_liners(stands, around, slam, loads, panels)
        for finding in found:
            worst.setdefault((finding.code, finding.subject), finding)
    for code in sorted({code for code, _ in worst}):
        yield from _few([finding for finding in worst.values() if finding.code == code])


def _few(alike: list[Finding]) -> Iterator[Finding]:
    """Findings of one code in one space as they are; where there are many, the worst of them and how many."""
    if len(alike) <= MANY:
        yield from alike
        return
    worst = max(alike, key=lambda one: (_excess(one), one.subject))
    yield replace(worst, text=f"{worst.text} The same holds for {len(alike) - 1} others there, each by less.")


def _excess(finding: Finding) -> float:
    """By how many times a figure passes its limit."""
    against = finding.against
    return against.computed / max(1e-9, against.limit) if against else 0.0


def _thrown(space: KitSpace, read: Space, loads: Loads) -> Iterator[Thrown]:
    """What leaves its place in a space."""
    around = _around(space, loads)
    for slam in slams_of(read):
        for lot in loads.kit.lots:
            for place in lot.places:
                if loads.placements[place.placement].space == space.id:
                    found = thrown_from(lot.id, place, slam, loads, around)
                    if found:
                        yield found


def _reserve(held: list[tuple[Stand, Seated]]) -> Iterator[Finding]:
    """Once a kit, how much more cones would hold: the hardest loaded, and before parts ride up."""
    shares = [
        (weight_n(stand.mass.mass_g, SLAM_G) / bears, bears, stand, seated.cones)
        for stand, seated in held
        if (bears := bears_n(seated, SLAM_G)) > 0 and seated.cones
    ]
    if not shares:
        return
    share, bears, stand, cones = max(shares, key=lambda one: (one[0], one[2].name))
    needs = share * bears
    text = (
        f"At a slam of {SLAM_G:g} g the hardest loaded cones are those under {stand.label} in {stand.space}: "
        f"{needs:.0f} N come on them, and they bear {bears:.0f} N, only the tightest counted. How much harder parts "
        f"could be thrown before they ride up their cones: {reserve_words(cones.slope_deg, SLAM_G)}."
    )
    remedy = "Wipe oil off cones and sockets now and then; dust does little."
    yield Finding("slam-reserve", Severity.NOTE, stand.name, text, remedy, against=Against(needs, bears, "N"))
