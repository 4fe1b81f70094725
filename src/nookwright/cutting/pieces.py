"""Any part but a panel, cut to a bed: along straight lines, with dovetails or pins across them; across its height too.

A piece is what of the part lies in its field, again a recipe. Its cut faces lie back by half of the gap for the glue,
the first layer by a little more, so that its spread does not hold the faces apart; faces that lie on each other touch.
But for laps, nothing is added to a part by cutting it: the pieces put together are the part, less these gaps and the
holes for pins.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from nookwright.cutting.fields import fields, sound, tight
from nookwright.cutting.holds import joint_of
from nookwright.cutting.laps import lap_solid, level_joint
from nookwright.cutting.levels import level_cuts
from nookwright.cutting.model import Axis, CutPart, Hold, Piece, uncut
from nookwright.cutting.places import Cuts, Places, borders
from nookwright.cutting.sections import Sections
from nookwright.cutting.sight import IN_FRONT
from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.ground.tolerances import KERNEL, OVERSHOOT
from nookwright.parts.liner.keys import LENGTH, ROOT, tongue
from nookwright.parts.model import Kind
from nookwright.shapes.regions import Polygon, Region, RegionDifference, RegionMove, RegionUnion
from nookwright.shapes.solids import Difference, Intersection, Move, Prism, Solid, Tip, Union

if TYPE_CHECKING:
    from collections.abc import Iterable

    from nookwright.cutting.fields import Field
    from nookwright.cutting.holds import Fit
    from nookwright.cutting.laps import Spots
    from nookwright.cutting.model import Bed, Joint
    from nookwright.cutting.sight import Sight
    from nookwright.parts.model import Part

GLUE_GAP = Fact(
    0.1, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="Each face of a glued butt joint lies back by this."
)
FOOT = Fact(
    0.2,
    unit="mm",
    kind=SourceKind.COMMON_PRACTICE,
    source="The first layer of a cut face lies back by this more: it spreads by 0.15; or by a thinner layer.",
)
NEVER_CUT = {
    Kind.RACK: "a rack hangs over heads, and a glued joint must not carry it",
    Kind.FILLER: "a filler is planned short enough; a longer one is sawn of wood",
    Kind.KEY: "a key is one piece",
    Kind.GAUGE: "a gauge is one piece, or it measures nothing",
    Kind.COUPON: "a coupon is one piece, or it measures nothing",
}
HOLLOW = "its chamber must stay closed, or what is filled in runs out"


def never_cut(part: Part) -> str:
    """Why a part must stay in one piece; empty where it may be cut."""
    return HOLLOW if ("inside", "hollow") in part.parameters else NEVER_CUT.get(part.kind, "")


def not_lower(part: Part, height: float, fit: Fit) -> str:
    """Why a part cannot be cut across its height; empty where it can, or need not.

    Args:
        part: any but a panel.
        height: of the bed, mm.
        fit: what joints are made to.
    """
    found = level_cuts(Sections(part.recipe), height, fit.layer) if part.size[2] > height else ()
    return found if isinstance(found, str) else ""


def cut_part(part: Part, bed: Bed, fit: Fit, *, sight: Sight = IN_FRONT, spots: Spots = ()) -> CutPart | None:
    """A part and its pieces; ``None`` where it cannot be cut to the bed, or must not.

    Args:
        part: any but a panel.
        bed: room on the largest bed, mm.
        fit: what joints are made to.
        sight: which of its sides are seen.
        spots: where things stand in any of its copies, in its axes; laps keep clear of them.
    """
    if bed.holds(*part.size):
        return uncut(part)
    if never_cut(part):
        return None
    sections = Sections(part.recipe)
    levels = level_cuts(sections, bed.height, fit.layer) if part.size[2] > bed.height + KERNEL else ()
    if isinstance(levels, str):
        return None
    places = Places(part, sections, sight)
    ways = [cuts for cuts in (places.cuts(bed, float(LENGTH)), places.cuts(bed, 0.0)) if cuts is not None]
    for cuts in sorted(ways, key=lambda one: one.fields):
        done = _cut(part, sections, replace(cuts, along_z=levels), fit, spots)
        if done is not None and all(bed.holds(*piece.size) for piece in done.pieces):
            return done
    return None


def _cut(part: Part, sections: Sections, cuts: Cuts, fit: Fit, spots: Spots) -> CutPart | None:
    """The pieces of these cuts; ``None`` where one of them would be a sliver, or in two."""
    there = [field for one in fields(part, cuts) if (field := tight(sections, one)) is not None]
    if not all(sound(sections, field) for field in there):
        return None
    level = [field for field in there if not field.cut_z[0]]
    joints = (*_joints(part, sections, level, fit, tongues=cuts.reach > 0), *_on_top(part, there, fit, spots))
    pieces = tuple(_piece(part, field, joints, fit) for field in there)
    count = len(pieces)
    named = (replace(piece, name=f"{part.name} piece {n} of {count}") for n, piece in enumerate(pieces, start=1))
    return CutPart(part, tuple(named), (), joints)


def _joints(part: Part, sections: Sections, level: list[Field], fit: Fit, *, tongues: bool) -> Iterable[Joint]:
    """Where fields meet side by side, and what holds them there."""
    for axis, across in ((0, 1), (1, 0)):
        marks = borders(part, across) if tongues else ()
        for one in level:
            for other in level:
                mine, theirs = ((one.x, one.y), (other.x, other.y))
                span = max(mine[across][0], theirs[across][0]), min(mine[across][1], theirs[across][1])
                if mine[axis][1] == theirs[axis][0] and span[1] > span[0]:
                    at, top = mine[axis][1], min(one.z[1], other.z[1]) if one.cut_z[1] else None
                    joint = joint_of(
                        part.recipe, fit, axis=axis, at=at, span=span, marks=marks, seated=part.seated, top=top
                    )
                    yield replace(joint, area_mm2=sections.area_mm2(axis, at, span))


def _on_top(part: Part, there: list[Field], fit: Fit, spots: Spots) -> Iterable[Joint]:
    """Where fields stand on others, and what holds them there."""
    for lower in there:
        if any(upper.above(lower) for upper in there):
            yield level_joint(part.recipe, fit, lower, spots)


def _piece(part: Part, field: Field, joints: Iterable[Joint], fit: Fit) -> Piece:
    """What of a part lies in a field, with its laps, less the holes of its pins."""
    mine = [joint for joint in joints if _borders(field, joint)]
    floor = [joint for joint in mine if joint.hold is Hold.TONGUES and not field.cut_z[0]]
    tongues = [joint for joint in floor if (field.x, field.y)[joint.axis][1] == joint.at]
    slots = [joint for joint in floor if joint not in tongues]
    backs = min(float(FOOT), fit.finest), 0.0
    foot, rest = (_plan(field, tongues, slots, back=back, clearance=fit.tongue + back) for back in backs)
    (low, high), layer, below = field.z, fit.layer, 0.0 if field.cut_z[0] else float(OVERSHOOT)
    body = Union(
        (Move(Prism(foot, layer + below), z=low - below), Move(Prism(rest, high - low - layer), z=low + layer))
    )
    recipe: Solid = Intersection((part.recipe, body))
    laps = [lap_solid(lap, field, high, fit) for joint in mine if _top_of(field, joint) for lap in joint.laps]
    if laps:
        recipe = Union((recipe, *laps))
    holes = [_hole(joint, *place) for joint in mine if joint.pin for place in joint.places]
    if holes:
        recipe = Difference(recipe, tuple(holes))
    x0, y0, *_ = recipe.bounds
    return Piece(part.name, Move(recipe, x=-x0, y=-y0, z=-low), x0, y0, part.plastic.times(_share(part, field)), z=low)


def _share(part: Part, field: Field) -> float:
    """The share of a part that a field has, by its box."""
    wide, deep, high = ((end - start) / size for (start, end), size in zip(field.box, part.size, strict=True))
    return wide * deep * (high if any(field.cut_z) else 1.0)


def _top_of(field: Field, joint: Joint) -> bool:
    """Whether a joint is on top of a field."""
    return joint.axis == Axis.HEIGHT and joint.at == field.z[1]


def _borders(field: Field, joint: Joint) -> bool:
    """Whether a joint is at a face of a field."""
    if joint.axis == Axis.HEIGHT:
        meets = all(a[0] < b[1] and b[0] < a[1] for a, b in ((joint.span, field.x), (joint.across, field.y)))
        return joint.at in field.z and meets
    along, across = (field.x, field.y) if joint.axis == 0 else (field.y, field.x)
    return joint.at in along and across[0] <= joint.span[0] and joint.span[1] <= across[1]


def _plan(field: Field, tongues: list[Joint], slots: list[Joint], *, back: float, clearance: float) -> Region:
    """The plan of a piece: its field, its dovetails, and the slots for those of its neighbours."""
    region = field.rect(GLUE_GAP + back)
    out = [_tongue(joint, mark, -back) for joint in tongues for mark, _ in joint.places]
    into = [_tongue(joint, mark, clearance) for joint in slots for mark, _ in joint.places]
    grown = RegionUnion((region, *out)) if out else region
    return RegionDifference(grown, tuple(into)) if into else grown


def _tongue(joint: Joint, mark: float, clearance: float) -> Region:
    """A dovetail across a joint, rooted in the piece before it."""
    one = tongue(-float(ROOT), clearance)
    if joint.axis == 0:
        return RegionMove(one, x=joint.at, y=mark, quarter_turns=3)
    return RegionMove(one, x=mark, y=joint.at)


def _hole(joint: Joint, place: float, height: float) -> Solid:
    """An eight-sided hole across a joint: its upper sides stand at 45 degrees, its ceiling is a short bridge.

    Of a joint across the height the two figures are its place along x and y, and the hole stands upright.
    """
    if joint.pin is None:
        raise ValueError("A joint without pins has no holes.")
    half = joint.pin.hole / 2
    short = half * math.tan(math.pi / 8)
    corners = ((-half, -short), (-short, -half), (short, -half), (half, -short))
    outline = Polygon((*corners, *((-x, -y) for x, y in corners)))
    deep = joint.pin.depth
    prism = Move(Prism(outline, 2 * deep), z=-deep)
    if joint.axis == Axis.HEIGHT:
        return Move(prism, x=place, y=height, z=joint.at)
    if joint.axis == 0:
        return Move(Tip(prism, "y"), x=joint.at, y=place, z=height)
    return Move(Tip(prism, "x"), x=place, y=joint.at, z=height)
