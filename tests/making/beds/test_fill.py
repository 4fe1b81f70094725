from __future__ import annotations

from collections import Counter
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely.affinity import rotate, translate
from shapely.geometry import Polygon, box

from nookwright.making.beds.fill import fill_beds
from nookwright.making.beds.model import Filled, Group, Job, Load
from nookwright.making.beds.share import fits
from nookwright.survey.bed_wishes import KeepOut, OneByOne
from nookwright.survey.models import Printer
from nookwright.survey.printer_profile import PrinterProfile

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.making.beds.model import Contours, Item

FRAME = Polygon([(0, 0), (100, 0), (100, 90), (0, 90)], [[(10, 10), (10, 80), (90, 80), (90, 10)]])
BENT = Polygon([(0, 0), (80.5, 0), (80.5, 30.2), (30.2, 30.2), (30.2, 90.3), (0, 90.3)])
DEPTHS = st.sampled_from([1.5, 12.0])
SHAPES = {"frame": FRAME, "bent": BENT}


def outlines(piece: str) -> Contours | None:
    """The outline of a frame or a bent piece; nothing is known of others."""
    shape = SHAPES.get(piece.split("-", maxsplit=1)[0])
    if shape is None:
        return None
    rings = [shape.exterior, *shape.interiors]
    return [np.array(ring.coords)[:-1] for ring in rings]


def job(name: str, width: float, depth: float, *, count: int = 1, height: float = 20.0, **more: object) -> Job:
    """Copies of a piece of 2 g and 100 s each."""
    return Job(name, count, width, depth, height, "white", 2.0, 100.0, **more)  # type: ignore[arg-type]


def frame(count: int = 1) -> Job:
    """A frame."""
    return job("frame", 100, 90, count=count)


def bent(count: int = 1) -> Job:
    """A piece round a corner."""
    return job("bent", 80.5, 90.3, count=count)


def printer(**more: object) -> Printer:
    """A bed of 130 x 120."""
    return Printer(id="one", bed_width=130, bed_depth=120, bed_height=100, materials=("white",), **more)


def lies(item: Item, one: Job) -> Polygon:
    """What an item covers of its bed."""
    shape = SHAPES.get(one.piece.split("-", maxsplit=1)[0], box(0, 0, one.width, one.depth))
    turned = rotate(shape, 90 * item.turns, origin=(0, 0))
    x0, y0, _, _ = turned.bounds
    return translate(turned, item.x - x0, item.y - y0)


def assert_sound(filled: Filled, jobs: Sequence[Job], printers: Sequence[Printer]) -> None:
    """Every copy once; apart by the spacing and two brims; inside the margins; off the places that stay free."""
    by_name = {one.piece: one for one in jobs}
    printed = Counter(item.piece for load in filled.loads for item in load.items)
    assert printed == Counter({one.piece: one.count for one in jobs})
    for load in filled.loads:
        on = next(one for one in printers if one.id == load.printer)
        shapes = [lies(item, by_name[item.piece]) for item in load.items]
        brim = on.profile.brim
        room = box(on.margin, on.margin, on.bed_width - on.margin, on.bed_depth - on.margin)
        apart = on.spacing + 2 * brim
        if on.one_by_one:
            apart = max(apart, on.one_by_one.radius + brim)
            tall = [by_name[item.piece].height > on.one_by_one.height for item in load.items]
            assert sum(tall) <= 1
            assert tall == sorted(tall)
        for shape in shapes:
            assert room.buffer(1e-6).contains(shape)
            for zone in on.keep_out:
                place = box(zone.x, zone.y, zone.x + zone.width, zone.y + zone.depth)
                assert shape.distance(place) >= brim - 1e-6
                assert not shape.intersects(place) or shape.intersection(place).area < 1e-6
        for one, other in combinations(shapes, 2):
            assert one.distance(other) >= apart - 1e-6


@st.composite
def some_jobs(draw: st.DrawFn) -> list[Job]:
    """A few kinds of piece, some with outlines that leave room."""
    found = [
        job(
            f"piece-{number}",
            draw(st.floats(3, 60)),
            draw(st.floats(3, 60)),
            count=draw(st.integers(1, 4)),
            height=draw(st.sampled_from([10.0, 50.0])),
            spaces=tuple(draw(st.lists(st.sampled_from(["left", "right"]), max_size=2))),
        )
        for number in range(draw(st.integers(1, 5)))
    ]
    if draw(st.booleans()):
        found.append(frame(draw(st.integers(1, 2))))
    if draw(st.booleans()):
        found.append(bent(draw(st.integers(1, 2))))
    return found


@st.composite
def some_printers(draw: st.DrawFn) -> list[Printer]:
    """One printer or two, with brims, places that stay free, and heads that must pass beside what is finished."""
    found = []
    for number in range(draw(st.integers(1, 2))):
        zones = [
            KeepOut(
                x=draw(st.sampled_from([0.0, 4.5])), y=draw(st.sampled_from([4.0, 8.2])), width=9.5, depth=draw(DEPTHS)
            )
            for _ in range(draw(st.integers(0, 1)))
        ]
        head = OneByOne(radius=20, height=30) if draw(st.integers(0, 3)) == 0 else None
        found.append(
            Printer(
                id=f"printer-{number}",
                bed_width=draw(st.sampled_from([130.0, 141.7])),
                bed_depth=130,
                bed_height=100,
                materials=("white",),
                profile=PrinterProfile(brim=draw(st.sampled_from([0.0, 2.5]))),
                spacing=draw(st.sampled_from([3.0, 1.3])),
                keep_out=tuple(zones),
                one_by_one=head,
            )
        )
    return found


@settings(max_examples=60)
@given(jobs=some_jobs(), printers=some_printers())
def test_every_copy_lies_once_apart_from_the_others_and_off_what_stays_free(
    jobs: list[Job], printers: list[Printer]
) -> None:
    """By outline, measured with shapely."""
    filled = fill_beds(jobs, printers, spaces=("left", "right"), outlines=outlines)
    assert_sound(filled, jobs, printers)
    counted = Counter((load.printer, load.material) for load in filled.loads)
    assert counted == Counter({(one.printer, one.material): one.bedfuls for one in filled.groups})
    assert all(one.gap >= 0 for one in filled.groups)


@settings(max_examples=15)
@given(jobs=some_jobs(), printers=some_printers())
def test_the_same_jobs_fill_the_same_beds(jobs: list[Job], printers: list[Printer]) -> None:
    """In whatever order they are named."""
    one = fill_beds(jobs, printers, outlines=outlines)
    assert one == fill_beds(list(reversed(jobs)), printers, outlines=outlines)


def test_a_place_that_stays_free_costs_a_bedful_and_nothing_lies_on_it() -> None:
    """Four pieces fill the bed; with a clip in its front left corner only three go beside it."""
    jobs = [job("a", 58, 53, count=4)]
    assert len(fill_beds(jobs, [printer()]).loads) == 1
    one = printer(keep_out=(KeepOut(x=0, y=0, width=10, depth=10),))
    filled = fill_beds(jobs, [one])
    assert len(filled.loads) == 2
    assert_sound(filled, jobs, [one])


def test_small_pieces_lie_in_the_middle_of_a_frame_where_that_saves_a_bedful() -> None:
    """As boxes they need two beds; one is enough by outline, and the bound knows it."""
    jobs = [frame(), job("inside", 70, 60)]
    one = printer()
    assert len(fill_beds(jobs, [one]).loads) == 2
    filled = fill_beds(jobs, [one], outlines=outlines)
    assert len(filled.loads) == 1
    assert_sound(filled, jobs, [one])
    assert filled.groups == (Group("one", "white", 1, 1),)


def test_two_bent_pieces_interlock() -> None:
    """Turned by half a turn, each lies in the corner of the other."""
    jobs = [bent(2)]
    one = printer()
    filled = fill_beds(jobs, [one], outlines=outlines)
    assert len(filled.loads) == 1
    assert_sound(filled, jobs, [one])
    assert sorted(item.turns for item in filled.loads[0].items) != [0, 0]


def test_one_by_one_nothing_lies_in_a_frame() -> None:
    """The head could not go in there; the frame and what would fit into it take two beds."""
    head = OneByOne(radius=10, height=50)
    filled = fill_beds([frame(), job("inside", 70, 60)], [printer(one_by_one=head)], outlines=outlines)
    assert len(filled.loads) == 2
    assert all(load.one_by_one for load in filled.loads)


def test_one_by_one_what_is_higher_than_the_head_clears_is_printed_last_and_alone_of_its_kind() -> None:
    """Two tall pieces need two beds, each with the tall one at the end of its items."""
    head = OneByOne(radius=20, height=30)
    jobs = [job("a-tall", 20, 20, count=2, height=60), job("low", 20, 20, count=2)]
    filled = fill_beds(jobs, [printer(one_by_one=head)])
    assert [[item.piece for item in load.items][-1] for load in filled.loads] == ["a-tall", "a-tall"]
    assert_sound(filled, jobs, [printer(one_by_one=head)])


def test_pieces_of_a_space_come_together_where_that_costs_no_bedful() -> None:
    """Two spaces that each fill a bed: the first space has the first bed to itself, whatever its pieces are called."""
    jobs = [
        job("a", 55, 50, count=4, spaces=("left", "left", "right", "right")),
        job("b", 55, 50, count=4, spaces=("left", "left", "right", "right")),
    ]
    filled = fill_beds(jobs, [printer()], spaces=("left", "right"))
    assert [Counter(item.piece for item in load.items) for load in filled.loads] == [{"a": 2, "b": 2}] * 2


def test_lengths_are_evened_out_within_a_space() -> None:
    """Five alike on two beds are three and two, not four and one."""
    filled = fill_beds([job("a", 55, 50, count=5, spaces=("left",) * 5)], [printer()], spaces=("left",))
    assert sorted(len(load.items) for load in filled.loads) == [2, 3]


def loads_of(jobs: Sequence[Job]) -> tuple[Load, ...]:
    """On the one printer."""
    return fill_beds(jobs, [printer()]).loads


def test_a_bedful_with_something_tall_and_thin_does_not_run_at_night_where_a_day_is_enough() -> None:
    """A longer one must, and a stout one may."""
    thin = Job("thin", 1, 10, 10, 60, "white", 2.0, 3600.0)
    assert [load.night for load in loads_of([thin])] == [False]
    assert [load.night for load in loads_of([Job("thin", 1, 10, 10, 60, "white", 2.0, 40000.0)])] == [True]
    assert [load.night for load in loads_of([Job("stout", 1, 30, 30, 60, "white", 2.0, 3600.0)])] == [True]


@given(wide=st.floats(60, 75), less=st.floats(-0.5, 1.5), spacing=st.floats(0, 4))
@example(wide=65.7, less=0.2, spacing=3.0)
def test_what_is_said_to_fit_beside_a_free_place_finds_its_place(wide: float, less: float, spacing: float) -> None:
    """Also where neither bed nor piece nor spacing are whole cells; what does not fit is said not to."""
    zone = KeepOut(x=0, y=110.3, width=4.7, depth=5)
    on = printer(spacing=spacing, keep_out=(zone,)).model_copy(update={"bed_width": wide})
    one = job("piece", wide - 10 - less, 95.0)
    printed = [item.piece for load in fill_beds([one], [on]).loads for item in load.items]
    assert printed == (["piece"] if fits(one, on) else [])
