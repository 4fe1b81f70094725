"""Any part but a panel, cut to a bed: along straight lines, with dovetails or pins across them.

A piece is what of the part lies in its field, again a recipe. Its cut faces lie back by half of the gap for the glue,
the first layer by a little more, so that its spread does not hold the faces apart. Nothing is added to a part by
cutting it, so the pieces put together are the part, less these gaps and the holes for pins.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise, product
from typing import TYPE_CHECKING

from nookwright.cutting.ends import end_of
from nookwright.cutting.holds import joint_of
from nookwright.cutting.model import CutPart, Hold, Piece, uncut
from nookwright.cutting.places import LEAST_SHARE, Cuts, Places, borders
from nookwright.cutting.sections import Sections
from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.ground.tolerances import OVERSHOOT
from nookwright.parts.liner.keys import LENGTH, ROOT, tongue
from nookwright.parts.model import Kind
from nookwright.shapes.regions import Polygon, Rect, Region, RegionDifference, RegionMove, RegionUnion
from nookwright.shapes.solids import Difference, Intersection, Move, Prism, Solid, Tip, Union

if TYPE_CHECKING:
    from collections.abc import Iterable

    from nookwright.cutting.holds import Fit
    from nookwright.cutting.model import Bed, Joint
    from nookwright.parts.model import Part

GLUE_GAP = Fact(
    0.1, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="Each face of a glued butt joint lies back by this."
)
FOOT = Fact(
    0.2,
    unit="mm",
    kind=SourceKind.COMMON_PRACTICE,
    source="The first layer of a cut face lies back by this more: it spreads by 0.15, and a layer may step out as far.",
)
LEAST_FOOTING = Fact(
    100.0, unit="mm2", kind=SourceKind.CHOICE, source="Of first layer: a piece with less does not hold on the bed."
)
NEVER_CUT = {
    Kind.RACK: "a rack hangs over heads, and a glued joint must not carry it",
    Kind.FILLER: "a filler is planned short enough; a longer one is sawn of wood",
    Kind.KEY: "a key is one piece",
    Kind.GAUGE: "a gauge is one piece, or it measures nothing",
    Kind.COUPON: "a coupon is one piece, or it measures nothing",
}
HOLLOW = "its chamber must stay closed, or what is filled in runs out"
_NEAR = 1e-3  # mm inside a face


@dataclass(frozen=True)
class Field:
    """A rectangle of the plan that becomes a piece, in the part's axes, cut or not on each side, mm."""

    x: tuple[float, float]
    y: tuple[float, float]
    cut_x: tuple[bool, bool]
    cut_y: tuple[bool, bool]

    def rect(self, back: float) -> Region:
        """The rectangle, its cut sides lying back by so much."""
        (x0, x1), (y0, y1) = (
            (low + (back if cut[0] else 0.0), high - (back if cut[1] else 0.0))
            for (low, high), cut in ((self.x, self.cut_x), (self.y, self.cut_y))
        )
        return RegionMove(Rect(x1 - x0, y1 - y0), x=x0, y=y0)


def never_cut(part: Part) -> str:
    """Why a part must stay in one piece; empty where it may be cut."""
    return HOLLOW if ("inside", "hollow") in part.parameters else NEVER_CUT.get(part.kind, "")


def cut_part(part: Part, bed: Bed, fit: Fit) -> CutPart | None:
    """A part and its pieces; ``None`` where it cannot be cut to the bed, or must not.

    Args:
        part: any but a panel.
        bed: room on the largest bed, mm.
        fit: what joints are made to.
    """
    if bed.holds(*part.size):
        return uncut(part)
    if never_cut(part) or part.size[2] > bed.height:
        return None
    sections = Sections(part.recipe)
    places = Places(part, sections)
    ways = [cuts for cuts in (places.cuts(bed, float(LENGTH)), places.cuts(bed, 0.0)) if cuts is not None]
    for cuts in sorted(ways, key=lambda one: one.fields):
        done = _cut(part, sections, cuts, fit)
        if done is not None and all(bed.holds(*piece.size) for piece in done.pieces):
            return done
    return None


def _cut(part: Part, sections: Sections, cuts: Cuts, fit: Fit) -> CutPart | None:
    """The pieces of these cuts; ``None`` where one of them would be a sliver, or in two."""
    fields = [_tight(sections, field) for field in _fields(part, cuts)]
    there = [field for field in fields if field is not None]
    if not all(_sound(sections, field) for field in there):
        return None
    joints = tuple(_joints(part, there, fit, tongues=cuts.reach > 0))
    pieces = tuple(_piece(part, sections, field, joints, fit) for field in there)
    count = len(pieces)
    named = (replace(piece, name=f"{part.name} piece {n} of {count}") for n, piece in enumerate(pieces, start=1))
    return CutPart(part, tuple(named), (), joints)


def _fields(part: Part, cuts: Cuts) -> Iterable[Field]:
    """The rectangles between the cuts, row by row."""
    width, depth, _ = part.size
    across = list(pairwise((0.0, *cuts.along_x, width)))
    back = list(pairwise((0.0, *cuts.along_y, depth)))
    for (y0, y1), (x0, x1) in product(back, across):
        yield Field((x0, x1), (y0, y1), (x0 > 0, x1 < width), (y0 > 0, y1 < depth))


def _tight(sections: Sections, field: Field) -> Field | None:
    """A field drawn in to what there is in it; ``None`` where that is nothing."""
    low = sections.low[2]
    if not sections.plan(low + _NEAR, (field.x[0], field.y[0], field.x[1], field.y[1])).any():
        return None
    x = _drawn_in(sections, field, 0, field.x, field.cut_x)
    y = _drawn_in(sections, replace(field, x=x), 1, field.y, field.cut_y)
    return replace(field, x=x, y=y)


def _drawn_in(
    sections: Sections, field: Field, axis: int, span: tuple[float, float], cut: tuple[bool, bool]
) -> tuple[float, float]:
    """A field's span along an axis, its ends that are no cuts drawn in."""
    box = (field.x, field.y, (sections.low[2], sections.high[2]))
    low, high = (span[end] if cut[end] else end_of(sections, axis, box, end=end) for end in (0, 1))
    return low, high


def _sound(sections: Sections, field: Field) -> bool:
    """Whether a piece is long enough, stands on the bed, and hangs together in its first layer."""
    from scipy.ndimage import label

    if min(field.x[1] - field.x[0], field.y[1] - field.y[0]) < min(
        float(LEAST_SHARE), *(high - low for low, high in zip(sections.low[:2], sections.high[:2], strict=True))
    ):
        return False
    footing = sections.plan(sections.low[2] + _NEAR, (field.x[0], field.y[0], field.x[1], field.y[1]))
    _, count = label(footing)
    return bool(count == 1 and footing.sum() >= LEAST_FOOTING)


def _joints(part: Part, fields: list[Field], fit: Fit, *, tongues: bool) -> Iterable[Joint]:
    """Where fields meet, and what holds them there."""
    for axis, across in ((0, 1), (1, 0)):
        marks = borders(part, across) if tongues else ()
        for one in fields:
            for other in fields:
                mine, theirs = ((one.x, one.y), (other.x, other.y))
                low = max(mine[across][0], theirs[across][0])
                high = min(mine[across][1], theirs[across][1])
                if mine[axis][1] == theirs[axis][0] and high > low:
                    yield joint_of(
                        part.recipe, fit, axis=axis, at=mine[axis][1], span=(low, high), marks=marks, seated=part.seated
                    )


def _piece(part: Part, sections: Sections, field: Field, joints: Iterable[Joint], fit: Fit) -> Piece:
    """What of a part lies in a field, less the holes of its pins."""
    mine = [joint for joint in joints if _borders(field, joint)]
    tongues = [joint for joint in mine if joint.hold is Hold.TONGUES and (field.x, field.y)[joint.axis][1] == joint.at]
    slots = [joint for joint in mine if joint.hold is Hold.TONGUES and joint not in tongues]
    foot, rest = (_plan(field, tongues, slots, back=back, clearance=fit.tongue + back) for back in (FOOT, 0.0))
    high, layer = _top(sections, field), fit.layer
    body = Union((Move(Prism(foot, layer + OVERSHOOT), z=-OVERSHOOT), Move(Prism(rest, high - layer), z=layer)))
    recipe: Solid = Intersection((part.recipe, body))
    holes = [_hole(joint, *place) for joint in mine if joint.pin for place in joint.places]
    if holes:
        recipe = Difference(recipe, tuple(holes))
    x0, y0, *_ = recipe.bounds
    share = (field.x[1] - field.x[0]) * (field.y[1] - field.y[0]) / _plan_mm2(part)
    return Piece(part.name, Move(recipe, x=-x0, y=-y0), x0, y0, part.plastic.times(share))


def _plan_mm2(part: Part) -> float:
    return part.size[0] * part.size[1]


def _top(sections: Sections, field: Field) -> float:
    """The top of a piece."""
    return end_of(sections, 2, (field.x, field.y, (sections.low[2], sections.high[2])), end=1)


def _borders(field: Field, joint: Joint) -> bool:
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
    """An eight-sided hole across a joint: its upper sides stand at 45 degrees, its ceiling is a short bridge."""
    if joint.pin is None:
        raise ValueError("A joint without pins has no holes.")
    half = joint.pin.hole / 2
    short = half * math.tan(math.pi / 8)
    corners = ((-half, -short), (-short, -half), (short, -half), (half, -short))
    outline = Polygon((*corners, *((-x, -y) for x, y in corners)))
    deep = joint.pin.depth
    lying = Move(Prism(outline, 2 * deep), z=-deep)
    if joint.axis == 0:
        return Move(Tip(lying, "y"), x=joint.at, y=place, z=height)
    return Move(Tip(lying, "x"), x=place, y=joint.at, z=height)
