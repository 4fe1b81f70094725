"""A coupon: a light cross with pegs, block, slots, holes and wall, to be measured for the errors of its printer.

Where everything stands comes from ``sizing/printers/coupon``, as do the sheet and the readings, so the three cannot
differ. What matters besides is that jaws do not bend it: ribs stand upright, so that their middle is as high as the
jaws press, one behind the middle peg and one behind each last peg of an end, and struts run from end to end where
diagonals are read. As a plane frame of 3000 MPa, it gives by 0.01 and less under jaws that close with 1.5 N, the long
one by 0.012; a flat cross of the same mass would give by tenths.

Nothing that is measured from above or inside has its first layer in the way: pegs, slots and holes are relieved below.
Ribs, wall and block are not, and the block's foot is a feature of its own.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.module.estimates import Plastic
from nookwright.module.seat import whole_layers
from nookwright.parts.model import Example, Kind, Part, size_name
from nookwright.shapes.cutters import taper_open_below, through
from nookwright.shapes.regions import Circle, Glyphs, Rect, Stroke
from nookwright.shapes.solids import Difference, Move, Named, Prism, Repeat, Solid, Taper, Union
from nookwright.sizing.printers.coupon import (
    BLOCK_DEPTH,
    BLOCK_WIDTH,
    PEG,
    PEGS,
    RIB,
    RIB_STEP,
    STEP,
    WALL,
    Face,
    arm_of,
    feature,
    features,
    pegs,
)
from nookwright.survey.origins import CouponForm as Form

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.shapes.regions import Region
    from nookwright.sizing.printers.coupon import Feature, Point

HEIGHT = Fact(5.0, unit="mm", kind=SourceKind.CHOICE, source="Jaws need 3 to 5 of height; each more costs 4 g.")
END = Fact(
    4.0,
    unit="mm",
    kind=SourceKind.CALCULATED,
    source="Thickness of the wall behind the pegs: between two ribs it gives by 0.003 under 1.5 N.",
)
PROUD = Fact(
    1.5, unit="mm", kind=SourceKind.CHOICE, source="A peg's middle stands so far before the wall: jaws clear it."
)
CHEEK = Fact(2.0, unit="mm", kind=SourceKind.CHOICE, source="Plastic around a slot or hole: two perimeters and more.")
RELIEF = Fact(
    0.6,
    unit="mm",
    kind=SourceKind.CALCULATED,
    source="More than a first layer spreads, 0.15 and twice 0.1 to each side.",
)
NECK = Fact(4.0, unit="mm", kind=SourceKind.CHOICE, source="Width of the block's neck: most of that face stays free.")
NECK_HEIGHT = Fact(2.0, unit="mm", kind=SourceKind.CHOICE, source="Lower than where the jaws go.")
WALL_BEHIND = Fact(
    8.0, unit="mm", kind=SourceKind.CHOICE, source="So far the thin wall goes on behind where it is read."
)
FLAG = Fact(11.0, unit="mm", kind=SourceKind.CHOICE, source="Side of the flags that carry the letters x and y.")
FLAG_HEIGHT = Fact(1.2, unit="mm", kind=SourceKind.CHOICE, source="Does not break off.")
FLAG_FROM_PEGS = Fact(26.0, unit="mm", kind=SourceKind.CHOICE, source="From the row of pegs to the flag's middle.")
SIGN = Fact(6.0, unit="mm", kind=SourceKind.CHOICE, source="Height of the letters: read at arm's length.")
SIGN_PEN = Fact(1.0, unit="mm", kind=SourceKind.CHOICE, source="Two lines: letters that print from any nozzle.")
SIGN_RISE = Fact(0.4, unit="mm", kind=SourceKind.CHOICE, source="Seen and felt, and soon printed.")

Placed = tuple["Region", "Point"]
_GENUS = 22  # four squares in the middle, eight bays in the arms, four triangles, six slots and holes
_PEG_SHOWS = 0.86  # of a peg's disc lies before the wall: a segment 1 high of a disc of 5 is hidden


def coupon(form: Form, layer: float) -> Part:
    """The coupon of a printer.

    Args:
        form: how long its cross is.
        layer: of the printer, mm; heights are whole layers.
    """
    high, low = whole_layers(HEIGHT, layer), whole_layers(NECK_HEIGHT, layer)
    flag, sign = (whole_layers(each, layer) for each in (FLAG_HEIGHT, FLAG_HEIGHT + SIGN_RISE))
    body = Union((
        *_raised(_standing(form), high),
        *_raised([_neck(form)], low),
        *_raised(_flags(form), flag),
        Repeat(_peg(high), pegs(form)),
        *(Named(each, "text") for each in _raised(_signs(form), sign)),
    ))  # fmt: skip
    half = -body.bounds[0]
    return Part(
        kind=Kind.COUPON,
        name=f"{form} coupon {size_name(2 * half, 2 * half)} h{high:g}",
        parameters=(("form", form.value), ("layer", layer)),
        recipe=Move(Difference(body, _cutters(high)), x=half, y=half),
        plastic=_plastic(form, (high, low, flag)),
    )


def seen_from_above(form: Form) -> tuple[tuple[Placed, ...], tuple[Placed, ...]]:
    """What is drawn of a coupon: the regions that are solid, and those that are cut out of them.

    Args:
        form: how long its cross is.

    Returns:
        Regions, each with where its origin lies from the middle of the cross.
    """
    pins = [(Circle(PEG / 2), at) for at in pegs(form)]
    return (*_flags(form), _neck(form), *_standing(form), *pins), tuple(_hollows())


def _raised(placed: list[Placed], height: float) -> list[Solid]:
    """Regions raised from the bed, each at its place."""
    return [Move(Prism(region, height), x=x, y=y) for region, (x, y) in placed]


def _about(width: float, depth: float, at: Point) -> Placed:
    """A rectangle about its middle."""
    return Rect(width, depth), (at[0] - width / 2, at[1] - depth / 2)


def _peg(high: float) -> Solid:
    """A peg, drawn in at the bed."""
    foot = Taper(Circle(PEG / 2 - RELIEF), RELIEF, -RELIEF)
    return Union((foot, Move(Prism(Circle(PEG / 2), high - RELIEF), z=RELIEF)))


def _standing(form: Form) -> list[Placed]:
    """What is as high as the pegs: ribs, the walls of the ends, struts, sleeves, block and wall."""
    inner, row = _inner(form), _row()
    middle = inner + END / 2
    ribs = [_about(2 * middle, RIB, (0.0, place * RIB_STEP)) for place in (-1, 0, 1)]
    ribs += [_about(RIB, 2 * middle, (place * RIB_STEP, 0.0)) for place in (-1, 0, 1)]
    ends = [_about(END, row, (side * middle, 0.0)) for side in (-1, 1)]
    ends += [_about(row, END, (0.0, side * middle)) for side in (-1, 1)]
    return [*ribs, *ends, *_struts(form), *_sleeves(), *_beside(form)]


def _struts(form: Form) -> list[Placed]:
    """From end to neighbouring end, along the diagonals that are read."""
    far, near = _inner(form) + END / 2, float(RIB_STEP)
    signs = ((-1, -1), (-1, 1), (1, -1), (1, 1))
    return [(Stroke(i * near, j * far, i * far, j * near, RIB), (0.0, 0.0)) for i, j in signs]


def _inner(form: Form) -> float:
    """From the middle to the inner face of an end's wall."""
    return arm_of(form) - PROUD - END


def _row() -> float:
    """Length of an end's wall: its pegs lie within."""
    return float((PEGS - 1) * STEP + PEG)


def _beside(form: Form) -> list[Placed]:
    """Block and wall, which stand outside the struts, each held on one side."""
    x, y = feature("wall", form).at[0]
    wall = (Rect(WALL, y - _strut_at(form, x) + WALL_BEHIND), (x - WALL / 2, _strut_at(form, x)))
    return [_about(BLOCK_WIDTH, BLOCK_DEPTH, feature("block-x", form).at[0]), wall]


def _strut_at(form: Form, x: float) -> float:
    """The y at which a strut of the back passes so far from the middle."""
    return _inner(form) + END / 2 + RIB_STEP - abs(x)


def _neck(form: Form) -> Placed:
    """What holds the block, at the left end of its front."""
    x, y = feature("block-x", form).at[0]
    left = x - BLOCK_WIDTH / 2
    start = _strut_at(form, left)
    return Rect(NECK, y - start), (left, start)


def _hollows() -> list[tuple[Region, Point]]:
    """Slots and holes: the region, and where its origin lies."""
    found: list[Placed] = []
    for x_name, y_name in (("slot-x", "slot-y"), ("slot-narrow", "slot-wide")):
        across, back = feature(x_name), feature(y_name)
        found.append(_about(across.nominal, back.nominal, across.at[0]))
    return found + [(Circle(one.nominal / 2), one.at[0]) for one in _holes()]


def _holes() -> list[Feature]:
    return [one for one in features() if one.face is Face.HOLE]


def _sleeves() -> list[Placed]:
    """What slots and holes are the inside of."""
    found: list[Placed] = []
    for region, (x, y) in _hollows():
        if isinstance(region, Circle):
            found.append((Circle(region.radius + CHEEK), (x, y)))
        else:
            _, _, width, depth = region.bounds
            found.append((Rect(width + 2 * CHEEK, depth + 2 * CHEEK), (x - CHEEK, y - CHEEK)))
    return found


def _cutters(high: float) -> tuple[Solid, ...]:
    """Slots and holes, through and through, wider at the bed."""
    found: list[Solid] = []
    for region, (x, y) in _hollows():
        found.append(Move(through(region, 0.0, high), x=x, y=y))
        if isinstance(region, Circle):
            found.append(Move(taper_open_below(Circle(region.radius + RELIEF), 0.0, RELIEF, RELIEF), x=x, y=y))
        else:
            _, _, width, depth = region.bounds
            mouth = Rect(width + 2 * RELIEF, depth + 2 * RELIEF, RELIEF)
            found.append(Move(taper_open_below(mouth, 0.0, RELIEF, RELIEF), x=x - RELIEF, y=y - RELIEF))
    return tuple(found)


def _flags(form: Form) -> list[Placed]:
    """What carries the letters."""
    return [_about(FLAG, FLAG, at) for _, at in letters(form)]


def _signs(form: Form) -> list[Placed]:
    """The letters, each on the middle of its flag."""
    found: list[Placed] = []
    for text, (x, y) in letters(form):
        sign = Glyphs(text, SIGN, SIGN_PEN)
        x0, y0, x1, y1 = sign.bounds
        found.append((sign, (x - (x0 + x1) / 2, y - (y0 + y1) / 2)))
    return found


def letters(form: Form) -> tuple[tuple[str, Point], ...]:
    """The letters of the axes and where they stand from the middle of the cross, near the ends that these point to.

    Args:
        form: how long its cross is.
    """
    along, beside = arm_of(form) - FLAG_FROM_PEGS, RIB_STEP + FLAG / 2
    return ("x", (along, -beside)), ("y", (beside, along))


def _plastic(form: Form, heights: tuple[float, float, float]) -> Plastic:
    """What it costs; where sleeves and flags overlap the ribs a little is left out."""
    high, low, flag = heights
    inner, strut = _inner(form), math.hypot(1, 1) * (_inner(form) - RIB_STEP)
    frame = 12 * inner * RIB - 9 * RIB**2 + 4 * _row() * END + 4 * strut * RIB
    pins = len(pegs(form)) * math.pi * PEG**2 / 4 * _PEG_SHOWS
    sleeves = sum(map(_area_mm2, _sleeves())) - sum(map(_area_mm2, _hollows()))
    standing = frame + pins + sleeves + sum(map(_area_mm2, _beside(form)))
    neck = _area_mm2(_neck(form))
    return Plastic(
        body_mm3=standing * high + neck * low + 2 * FLAG**2 * flag,
        sparse_mm3=0.0,
        first_mm2=standing + neck + 2 * FLAG**2,
        height=high,
        hops=0.0,
    )


def _area_mm2(placed: Placed) -> float:
    """Area of a region, mm2."""
    region, _ = placed
    if isinstance(region, Circle):
        return math.pi * region.radius**2
    _, _, width, depth = region.bounds
    return width * depth


def examples(module: Module) -> tuple[Example, ...]:
    """Both forms, and the long one in coarse layers."""
    layer = module.seat.layer
    wanted = (("smallest", Form.SHORT, layer), ("middle", Form.LONG, layer), ("largest", Form.LONG, 2.5 * layer))
    return tuple(Example(size, coupon(form, each), _GENUS) for size, form, each in wanted)
