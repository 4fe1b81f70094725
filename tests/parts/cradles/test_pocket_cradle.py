from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from manifold3d import Manifold

from nookwright.ground.errors import RecipeError
from nookwright.module.choice import module_of
from nookwright.module.seat import outer_size, rings_of
from nookwright.parts.cradles.cradle_examples import examples
from nookwright.parts.cradles.pocket import Funnel, Placed, Pocket, Round, Tapered
from nookwright.parts.cradles.pocket_boxes import Boxed, Cornered
from nookwright.parts.cradles.pocket_cradle import genus_of, pocket_cradle
from nookwright.parts.cradles.pocket_floor import PushOut, hole_place, rib_height
from nookwright.parts.cradles.pocket_plan import Plan, PocketCradle
from nookwright.parts.cradles.pocket_rows import centred, in_row, lattice, staggered
from nookwright.parts.cradles.sleeve_lines import land_of, lines_thick, thickness_of
from nookwright.parts.cradles.strip import SLOT, Strip, lined_size
from nookwright.parts.model import Example, Kind, Part
from nookwright.solids.mesh import MeshKernel

if TYPE_CHECKING:
    from collections.abc import Callable

    from tests.parts.conftest import Bench

    from nookwright.module.module import Module

MODULE = module_of(18.0, 6.0, 0.2, "")
EXAMPLES = examples(MODULE)
FLOOR = MODULE.seat.dome


def one(pocket: Pocket, cols: int, rows: int, height: float, **options: object) -> PocketCradle:
    """A cradle with a single pocket in its middle."""
    placed = Placed(pocket, outer_size(cols, 18.0) / 2, outer_size(rows, 18.0) / 2)
    return PocketCradle(cols, rows, height, (placed,), **options)  # type: ignore[arg-type]


def at_the_middle(body: Manifold, asked: PocketCradle, z: float) -> Manifold:
    """A body put into the first pocket, its foot at a height."""
    placed = asked.pockets[0]
    return body.translate([placed.x, placed.y, z])


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda example: example.part.name)
def test_every_example_is_one_closed_body(bench: Bench, sound: Callable[..., None], example: Example) -> None:
    """Box from the origin, handles by the formula, plastic in closed form within three per cent."""
    part = example.part
    sound(bench, part, part.size)
    mesh = bench.mesh(part)
    assert (mesh.genus, mesh.components) == (example.genus, example.components)
    assert part.plastic.body_mm3 == pytest.approx(mesh.volume_mm3, rel=0.03)
    assert part.kind is Kind.CRADLE
    assert part.seated


def test_names_say_apart_what_is_not_alike() -> None:
    """No two examples have one name."""
    assert len({example.part.name for example in EXAMPLES}) == len(EXAMPLES)


@pytest.mark.parametrize(
    ("pocket", "make"),
    [
        (Round(26.8), lambda: Manifold.cylinder(60, 13.35, 13.35, 200)),
        (Tapered(30.0, 36.0, 20.0), lambda: Manifold.cylinder(20, 14.95, 17.95, 200)),
        (Boxed(26.0, 18.0), lambda: Manifold.cube([25.9, 17.9, 60]).translate([-12.95, -8.95, 0])),
        (Cornered(6, 20.0), lambda: Manifold.cylinder(60, 9.95 / math.cos(math.pi / 6), -1, 6).rotate([0, 0, 30])),
    ],
    ids=["round", "tapered", "box", "hexagon"],
)
def test_the_thing_goes_in_and_one_a_little_larger_does_not(
    bench: Bench, pocket: Pocket, make: Callable[[], Manifold]
) -> None:
    """A body a twentieth of a millimetre smaller all round touches nothing; one that much larger does."""
    asked, thing = one(pocket, 3, 3, 24.0), make()
    solid = bench.solid(pocket_cradle(MODULE, asked))
    assert bench.shared_mm3(solid, at_the_middle(thing, asked, FLOOR + 0.01)) < 1e-3
    wider = thing.scale([1.012, 1.012, 1.0])
    assert bench.shared_mm3(solid, at_the_middle(wider, asked, FLOOR + 0.01)) > 1e-2


def test_a_chamfer_leaves_a_line_of_rim(bench: Bench) -> None:
    """Just below the rim a lone sleeve is a line thick or more, and a line between two chamfers is left to each."""
    asked = one(Round(20.0), 4, 4, 24.0)
    plan = Plan(MODULE, asked)
    assert plan.thick == lines_thick(MODULE, 4)
    solid = bench.solid(pocket_cradle(MODULE, asked))
    ring = Manifold.cylinder(0.02, 11.0 + 0.42, 11.0 + 0.42, 128) - Manifold.cylinder(0.02, 11.0, 11.0, 128)
    rim = at_the_middle(ring, asked, 23.97)
    assert bench.shared_mm3(solid, rim) == pytest.approx(rim.volume(), rel=0.02)
    assert land_of(MODULE, 1.0) == pytest.approx(2 * (1.0 + 0.4286))


def test_sleeves_are_whole_lines() -> None:
    """The wall, and one line more at a time; each is what its lines make together."""
    assert thickness_of(MODULE, 0.5) == 1.2
    assert thickness_of(MODULE, 1.2) == 1.2
    assert thickness_of(MODULE, 1.21) == lines_thick(MODULE, 4)
    assert lines_thick(MODULE, 4) == pytest.approx(1.2 + 0.4286 - 0.2 * (1 - math.pi / 4), abs=2e-4)
    assert thickness_of(MODULE, 1.6) == lines_thick(MODULE, 5)


def test_a_hole_goes_through_between_the_sockets(bench: Bench) -> None:
    """A pin of the hole's width passes from above; it keeps a millimetre of floor to every socket's mouth."""
    asked = one(Round(30.0), 3, 3, 24.0, push_out=PushOut.HOLE, hole=6.0)
    solid = bench.solid(pocket_cradle(MODULE, asked))
    x, y = hole_place(MODULE, 3, 3, asked.pockets[0], 6.0)
    pin = Manifold.cylinder(40, 2.97, 2.97, 96).translate([x, y, -5])
    assert bench.shared_mm3(solid, pin) < 1e-3
    for ring in rings_of(3, 3, 18.0):
        mouth = MODULE.seat.cone_base + ring.clearance + 0.4
        assert all(math.hypot(x - u, y - v) >= 3.0 + mouth + 1.0 - 1e-9 for u, v in ring.places)
    assert math.hypot(x - asked.pockets[0].x, y - asked.pockets[0].y) <= 15 - 3


def test_a_hole_that_would_hit_a_socket_is_refused() -> None:
    """A pocket no wider than a socket, straight above one."""
    with pytest.raises(RecipeError, match=r"between the sockets.*take a rib"):
        pocket_cradle(MODULE, one(Round(9.0), 3, 3, 24.0, push_out=PushOut.HOLE))


def test_a_rib_tips_a_thing_up(bench: Bench) -> None:
    """It stands above the floor by whole layers, across the middle; beside it the floor is free."""
    asked = one(Round(20.0), 3, 3, 24.0, push_out=PushOut.RIB)
    part = pocket_cradle(MODULE, asked)
    solid = bench.solid(part)
    high = rib_height(MODULE)
    assert high / MODULE.seat.layer == pytest.approx(round(high / MODULE.seat.layer))
    coin = Manifold.cylinder(2, 9.9, 9.9, 96)
    assert bench.shared_mm3(solid, at_the_middle(coin, asked, FLOOR + high + 0.001)) < 1e-3
    assert bench.shared_mm3(solid, at_the_middle(coin, asked, FLOOR + high - 0.1)) > 1.0
    half = Manifold.cube([6, 6, 10]).translate([-3, 1, 0])
    assert bench.shared_mm3(solid, at_the_middle(half, asked, FLOOR + 0.001)) < 1e-3


def test_a_finger_gap_bares_half_of_the_thing(bench: Bench) -> None:
    """A bar half as wide as the pocket runs from wall to wall above the gap's floor; below it the sleeve is whole."""
    asked = one(Round(24.0), 3, 3, 30.0, finger_gap=12.0)
    solid = bench.solid(pocket_cradle(MODULE, asked))
    (x, y), inner = (asked.pockets[0].x, asked.pockets[0].y), MODULE.inner(3)
    bar = Manifold.cube([inner - 0.02, 11.98, 20]).translate([x - inner / 2 + 0.01, y - 5.99, 18.001])
    assert bench.shared_mm3(solid, bar) < 1e-3
    assert bench.shared_mm3(solid, bar.translate([0, 0, -0.3])) > 1.0
    wall = Manifold.cube([1, 1, 20]).translate([0.1, y, 18])
    assert bench.shared_mm3(solid, wall) == pytest.approx(12.0, rel=0.01)


@pytest.mark.parametrize("pocket", [Round, lambda size: Boxed(size, size)], ids=["round", "box"])
def test_strips_grip_with_their_pressed_thickness(bench: Bench, pocket: Callable[[float], Pocket]) -> None:
    """From strip to strip across the slots the pocket is as wide as the thing and both pressed strips."""
    strip = Strip(8.0, 2.0, 0.75)
    size = lined_size(24.0, strip)
    asked = one(pocket(size), 3, 3, 24.0, strip=strip)
    solid = bench.solid(pocket_cradle(MODULE, asked))
    reach = 12.0 + strip.pressed  # from the middle to the bottom of a slot
    assert reach == pytest.approx(size / 2 + SLOT)
    in_slot = Manifold.cube([8.0, reach - 0.01, 10]).translate([-4.0, 0, 0])
    assert bench.shared_mm3(solid, at_the_middle(in_slot, asked, FLOOR + 0.01)) < 1e-3
    deeper = Manifold.cube([8.0, reach + 0.05, 10]).translate([-4.0, 0, 0])
    assert bench.shared_mm3(solid, at_the_middle(deeper, asked, FLOOR + 0.01)) > 1.0


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"pockets": ()}, "has pockets"),
        ({"height": 24.1}, "whole number of layers"),
        ({"height": 9.0}, "deep enough"),
        ({"lead_in": 1.1}, "outer wall whole"),
        ({"lead_in": math.nan}, "outer wall whole"),
        ({"finger_gap": 18.0}, "still holds"),
        ({"strip": Strip(8.0, 2.0), "pockets": (Placed(Funnel(20.0, 14.0), 26.7, 26.7),)}, "upright walls"),
        ({"pockets": (Placed(Round(10), 12.0, 20.0), Placed(Round(10), 24.7, 20.0))}, "pockets 1 and 2"),
        ({"pockets": (Placed(Round(10), 7.3, 20.0),)}, "pocket 1 leaves a wall"),
        ({"pockets": (Placed(Boxed(10, 10), 7.5, 7.5),)}, "pocket 1 leaves a wall"),
    ],
)
def test_what_cannot_be_made_is_refused(change: dict[str, object], words: str) -> None:
    """Before any kernel sees it: the rule, the value, what is allowed, what to do."""
    asked: dict[str, object] = {"pockets": (Placed(Round(20.0), 26.7, 26.7),), "height": 24.0} | change
    with pytest.raises(RecipeError, match=rf"{words}.*found .*, allowed: .*\. [A-Z]"):
        pocket_cradle(MODULE, PocketCradle(3, 3, **asked))  # type: ignore[arg-type]


sizes = st.one_of(st.floats(3, 40), st.integers(3, 40).map(float), st.integers(30, 400).map(lambda n: n / 10))
shapes = st.one_of(
    st.builds(Round, sizes),
    st.builds(Boxed, sizes, sizes),
    st.builds(lambda a, b: Boxed(a, b, min(a, b) / 4), sizes, sizes),
    st.builds(Cornered, st.integers(3, 12), sizes),
    st.builds(lambda a, more, over: Tapered(a, a + more, over), sizes, st.floats(0, 6), sizes),
    st.builds(lambda a, less: Funnel(a + less, a), sizes, st.floats(0.1, 6)),
)


@st.composite
def fields(draw: st.DrawFn) -> PocketCradle:
    """Pockets in rows, staggered, of several sizes in a row, or strewn; on as many cells as they need, or one less."""
    height = draw(st.integers(60, 200)) / 5
    lead_in = draw(st.sampled_from([0.0, 0.6, 1.0]))
    mouth, land = height - FLOOR - lead_in, land_of(MODULE, lead_in) + draw(st.sampled_from([0.0, 0.0, 0.3, 1.2, 2.0]))
    kind, pocket = draw(st.sampled_from(["rows", "staggered", "sizes", "strewn"])), draw(shapes)
    if kind == "sizes":
        placed = in_row(draw(st.lists(shapes, min_size=1, max_size=4)), mouth, land=land, x=0.0, y=0.0)
    elif kind == "strewn":
        spots = st.tuples(st.floats(0, 60), st.floats(0, 60))
        placed = tuple(Placed(draw(shapes), *spot) for spot in draw(st.lists(spots, min_size=1, max_size=3)))
    elif kind == "staggered" and not isinstance(pocket, Boxed):
        placed = staggered(pocket, mouth, columns=draw(st.integers(2, 4)), lines=draw(st.integers(1, 3)), land=land)
    else:
        placed = lattice(pocket, mouth, columns=draw(st.integers(1, 3)), lines=draw(st.integers(1, 3)), land=land)
    boxes = [each.pocket.outline(mouth, each.x, each.y) for each in placed]
    wide = max(b.x + b.half_width for b in boxes) - min(b.x - b.half_width for b in boxes)
    deep = max(b.y + b.half_depth for b in boxes) - min(b.y - b.half_depth for b in boxes)
    less = draw(st.sampled_from([0, 0, 0, 1]))
    cols, rows = (max(1, MODULE.cells(size + 2.4) - less) for size in (wide, deep))
    middle = centred(placed, mouth, width=outer_size(cols, 18.0), depth=outer_size(rows, 18.0))
    return PocketCradle(
        cols, rows, height, middle, lead_in,
        push_out=draw(st.sampled_from(list(PushOut))), finger_gap=draw(st.sampled_from([0.0, 0.0, 2.0, 6.0])),
    )  # fmt: skip


def made(asked: PocketCradle) -> Part | None:
    """The part, or nothing where it is refused."""
    try:
        return pocket_cradle(MODULE, asked)
    except RecipeError:
        return None


@settings(max_examples=60, suppress_health_check=[HealthCheck.too_slow])
@given(fields())
def test_any_cradle_is_refused_or_sound(asked: PocketCradle) -> None:
    """One closed body with a handle for each hole, its box and its plastic as foretold; never a broken mesh."""
    part = made(asked)
    if part is None:
        return
    mesh = MeshKernel().mesh(part.recipe)
    assert (mesh.components, mesh.genus) == (1, genus_of(asked))
    assert mesh.bounds == pytest.approx((0, 0, 0, *part.size), abs=2e-4)
    assert part.plastic.body_mm3 == pytest.approx(mesh.volume_mm3, rel=0.05)


def test_most_fields_that_fit_are_made(module: Module) -> None:
    """Rows, staggered rows and mixed rows that have the cells they need are never refused."""
    for diameter in (6.8, 9.4, 13.0, 22.3, 31.7):
        for land in (land_of(module, 1.0), land_of(module, 1.0) + 0.7):
            for spread in (lattice, staggered):
                field = spread(Round(diameter), 18.6, columns=3, lines=2, land=land)
                cols, rows = (module.cells(count * (diameter + land) + 2.4) for count in (3, 2))
                middle = centred(field, 18.6, width=outer_size(cols, 18.0), depth=outer_size(rows, 18.0))
                assert pocket_cradle(module, PocketCradle(cols, rows, 24.0, middle)).size[2] == 24.0


def test_a_pocket_as_round_as_it_is_deep_is_made_whatever_its_digits(module: Module) -> None:
    """Half of an odd number of grid steps is rounded up; its sleeve is as round as it may be."""
    deep = 27.000134808833415
    asked = PocketCradle(4, 3, 30.0, (Placed(Boxed(32.9, deep, deep / 2), 35.7, 26.7),))
    assert pocket_cradle(module, asked).plastic.body_mm3 > 0


def test_finger_gaps_that_overlap_are_taken_off_once(bench: Bench, module: Module) -> None:
    """Three pockets whose rows are a millimetre apart: the plastic is that of the mesh."""
    placed = tuple(Placed(Round(20.0), x, y) for x, y in ((20.0, 26.0), (53.0, 27.0), (86.0, 28.0)))
    part = pocket_cradle(module, PocketCradle(6, 3, 42.0, placed, finger_gap=18.0))
    assert part.plastic.body_mm3 == pytest.approx(bench.mesh(part).volume_mm3, rel=0.03)
