from __future__ import annotations

from collections import Counter
from itertools import combinations
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.making.bedfuls import HEAT_UP_S, Job, Load, bedfuls, fits, homeless
from nookwright.survey.models import Printer

if TYPE_CHECKING:
    from collections.abc import Sequence

PRINTERS = (
    Printer(id="small", bed_width=120, bed_depth=110, bed_height=100, materials=("white", "red")),
    Printer(id="large", bed_width=219.964, bed_depth=200.04, bed_height=60, margin=0, materials=("white",)),
)


def job(name: str, width: float, depth: float, *, count: int = 1, height: float = 20.0, material: str = "white") -> Job:
    """Copies of a piece of 2 g and 100 s each."""
    return Job(name, count, width, depth, height, material, mass_g=2.0, time_s=100.0)


@st.composite
def jobs(draw: st.DrawFn) -> tuple[Job, ...]:
    """Up to eight kinds of piece, some too large for one printer or both, in sizes that are no whole tenths."""
    side = st.floats(1, 225)
    return tuple(
        job(
            f"piece-{number}",
            draw(side),
            draw(side),
            count=draw(st.integers(1, 5)),
            height=draw(st.sampled_from([20.0, 80.0, 120.0])),
            material=draw(st.sampled_from(["white", "red", "blue"])),
        )
        for number in range(draw(st.integers(0, 8)))
    )


@given(some=jobs())
def test_every_copy_is_on_a_bed_exactly_once_or_homeless(some: tuple[Job, ...]) -> None:
    """What no printer can take is told; everything else is printed as often as it is needed."""
    loads = bedfuls(some, PRINTERS)
    lost = {one.piece for one in homeless(some, PRINTERS)}
    printed = Counter(item.piece for load in loads for item in load.items)
    assert printed == Counter({one.piece: one.count for one in some if one.piece not in lost})


@given(some=jobs())
def test_pieces_on_a_bed_are_apart_and_inside_its_margins(some: tuple[Job, ...]) -> None:
    """By 3 mm from each other, clear of the margins, low enough, in a material that the printer has loaded."""
    sizes = {one.piece: one for one in some}
    for load in bedfuls(some, PRINTERS):
        printer = next(one for one in PRINTERS if one.id == load.printer)
        assert load.material in printer.materials
        boxes = rectangles(load, sizes)
        for x0, y0, x1, y1 in boxes:
            assert min(x0, y0) >= printer.margin - 1e-6
            assert x1 <= printer.bed_width - printer.margin + 1e-6
            assert y1 <= printer.bed_depth - printer.margin + 1e-6
        for one, other in combinations(boxes, 2):
            apart = max(one[0] - other[2], other[0] - one[2], one[1] - other[3], other[1] - one[3])
            assert apart >= 3 - 1e-6
        assert all(sizes[item.piece].material == load.material for item in load.items)
        assert all(sizes[item.piece].height <= printer.bed_height for item in load.items)


def rectangles(load: Load, sizes: dict[str, Job]) -> list[tuple[float, float, float, float]]:
    """Where the pieces of a load lie."""
    found = []
    for item in load.items:
        width, depth = sizes[item.piece].width, sizes[item.piece].depth
        if item.turned:
            width, depth = depth, width
        found.append((item.x, item.y, item.x + width, item.y + depth))
    return found


@given(some=jobs())
def test_masses_and_times_add_up(some: tuple[Job, ...]) -> None:
    """A load weighs what is on it; its time is that of its pieces and heating up once."""
    for load in bedfuls(some, PRINTERS):
        assert load.mass_g == pytest.approx(2.0 * len(load.items))
        assert load.time_s == pytest.approx(HEAT_UP_S + 100.0 * len(load.items))


@given(some=jobs())
def test_the_same_jobs_give_the_same_loads_in_any_order(some: tuple[Job, ...]) -> None:
    """The order in which they are named does not matter."""
    assert bedfuls(some, PRINTERS) == bedfuls(tuple(reversed(some)), PRINTERS)


@pytest.mark.parametrize(
    ("one", "printers"),
    [
        (job("fits both", 100, 100, height=50), ("small", "large")),
        (job("turned", 90, 110), ("small", "large")),
        (job("tall", 100, 100, height=90), ("small",)),
        (job("wide", 219.9, 200), ("large",)),
        (job("between tenths", 219.95, 200), ()),
        (job("red and wide", 150, 150, material="red"), ()),
        (job("blue", 10, 10, material="blue"), ()),
    ],
    ids=lambda value: value.piece if isinstance(value, Job) else "",
)
def test_who_can_print_a_piece(one: Job, printers: Sequence[str]) -> None:
    """By bed, height and material; a bed counts in whole tenths, rounded down."""
    assert tuple(printer.id for printer in PRINTERS if fits(one, printer)) == tuple(printers)
    assert bool(homeless([one], PRINTERS)) is not bool(printers)


def test_work_is_shared_between_printers() -> None:
    """Two equal jobs that both printers can do go to one each."""
    loads = bedfuls([job("a", 50, 50), job("b", 50, 50)], PRINTERS)
    assert [(load.printer, [item.piece for item in load.items]) for load in loads] == [
        ("small", ["a"]),
        ("large", ["b"]),
    ]
