"""How likely parts go on, by the clearances in their files."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, TypeVar

import numpy as np
import pytest

from nookwright.checks.seats.check import check_seats
from nookwright.checks.seats.drawn import footprint_of
from nookwright.checks.seats.going_on import Case, check_going_on, most_met
from nookwright.checks.seats.sockets import matched
from nookwright.checks.verdicts import Verdicts
from nookwright.ground.progress import Silent
from nookwright.module.pattern import Pattern, fewest_cones
from nookwright.module.seating import UNCALIBRATED, Turn, probability_of_seating, seating_of
from nookwright.parts.trays.tray import tray

from .conftest import cell, cylinder

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator
    from pathlib import Path

    import manifold3d

    from nookwright.module.module import Module
    from nookwright.parts.model import Part

    from .conftest import Bench

T = TypeVar("T")


def bare(cells: tuple[int, int], pattern: Pattern, clearance: float = 0.3) -> Case:
    """A part with equal sockets on a pitch of 18."""
    col, row = np.divmod(np.arange(cells[0] * cells[1]), cells[0])[::-1]
    places = 18.0 * np.column_stack([col + 0.5 - cells[0] / 2, row + 0.5 - cells[1] / 2])
    return Case(places, np.full(len(places), clearance), cells, pattern, 10, UNCALIBRATED)


def test_sockets_that_were_found_go_on_as_often_as_those_that_were_drawn(lined: Bench, module: Module) -> None:
    """Read back from the file, the same trials give the same share as the module's formula: 97 % and more."""
    bench = lined.having("tray", tray(module, cols=8, rows=6, height=24.0), cell(0, 0))
    member = bench.members["tray"]
    footprint = footprint_of(member.part, module.pitch)
    nearest, _ = matched(member.sockets, footprint.places, 9.0)
    found = seating_of(
        member.sockets.places[nearest] - np.array(footprint.middle),
        member.sockets.wide[nearest] - module.seat.cone_base,
        (8, 6), panel_cells=8, spread=UNCALIBRATED, trials=400, seed=5, turn=Turn.QUARTER,
    )  # fmt: skip
    drawn = probability_of_seating(
        module, 8, 6, panel_cells=8, spread=UNCALIBRATED, trials=400, seed=5, turn=Turn.QUARTER
    )
    assert abs(found.fits - drawn.fits) <= 2
    assert drawn.probability >= 0.97


def test_a_sound_tray_is_said_to_go_on(stood: Bench) -> None:
    """One note for the kit, with its share as a number, and the least likely part by its name."""
    said = stood.said("seats-go-on")
    assert said.against is not None
    assert said.against.computed >= 0.999
    assert "the least likely is tray" in said.text


def narrow(
    module: Module, cells: tuple[int, int], clearance: float
) -> tuple[Part, Callable[[manifold3d.Manifold], manifold3d.Manifold]]:
    """A tray whose sockets are all bored anew with one small clearance."""
    part = tray(module, cols=cells[0], rows=cells[1], height=24.0)

    def spoil(solid: manifold3d.Manifold) -> manifold3d.Manifold:
        width, depth = (18.0 * n - 0.6 for n in cells)
        for col in range(cells[0]):
            for row in range(cells[1]):
                place = (width / 2 + 18 * (col + 0.5 - cells[0] / 2), depth / 2 + 18 * (row + 0.5 - cells[1] / 2))
                wide = 2.5 + clearance
                bore = cylinder(-1, 3.4, wide + 0.268, wide - 0.911, place)
                solid = solid + cylinder(0, 4.4, 6.0, 6.0, place) - bore
        return solid

    return part, spoil


@pytest.mark.parametrize(("clearance", "found"), [(0.02, True), (0.5, False)])
def test_sockets_without_room_are_unlikely_to_go_on(
    lined: Bench, module: Module, clearance: float, found: bool  # noqa: FBT001
) -> None:  # fmt: skip
    """All at 0.02 mm a tray of 6 x 4 cells hardly goes on; all at 0.5 mm it does, though its rings are wrong."""
    part, spoil = narrow(module, (6, 4), clearance)
    bench = lined.having("tray", part, cell(0, 0), spoil=spoil)
    codes = [code for _, code, _ in bench.wrong()]
    assert ("seat-unlikely" in codes) is found
    if found:
        assert ("stop", "seat-unlikely", "tray") in bench.wrong()
        assert "it should in 97" in bench.said("seat-unlikely").text


@pytest.mark.parametrize("pattern", [Pattern.EVERY_CELL, Pattern.CHESSBOARD, Pattern.EVERY_SECOND])
@pytest.mark.parametrize("cells", [(1, 1), (1, 2), (2, 2), (3, 2), (4, 4)])
def test_the_most_cones_are_no_fewer_than_the_fewest(pattern: Pattern, cells: tuple[int, int]) -> None:
    """Over all places; and a cell more never meets fewer."""
    most = most_met(bare(cells, pattern))
    assert most >= fewest_cones(*cells, pattern)
    assert most_met(bare((cells[0] + 1, cells[1]), pattern)) >= most


@pytest.mark.parametrize(
    ("cells", "pattern"), [((1, 2), Pattern.CHESSBOARD), ((2, 2), Pattern.EVERY_SECOND), ((1, 1), Pattern.EVERY_CELL)]
)
def test_one_cone_is_always_met(cells: tuple[int, int], pattern: Pattern) -> None:
    """A part that never meets two goes on in every trial, however small its clearance: the shortcut is true."""
    case = bare(cells, pattern, clearance=0.001)
    assert most_met(case) == 1
    for turn in Turn:
        tried = seating_of(
            case.places, case.clearances, cells, panel_cells=3, spread=UNCALIBRATED, trials=200, seed=2, turn=turn,
            pattern=pattern,
        )  # fmt: skip
        assert tried.probability == 1


def test_a_half_turn_is_the_first_case_again(module: Module) -> None:
    """Scales and skew stay as they are, so the share is the same within its confidence."""
    shares = [
        probability_of_seating(
            module, 12, 8, panel_cells=6, spread=UNCALIBRATED, trials=1500, seed=seed, turn=turn, growth=0.001
        ).probability
        for seed, turn in ((3, Turn.NONE), (8, Turn.HALF))
    ]
    assert 0.5 < min(shares) < 0.99
    assert abs(shares[0] - shares[1]) < 0.04  # three standard deviations of a difference


def test_each_set_of_sockets_is_tried_once(lined: Bench, module: Module, tmp_path: Path) -> None:
    """Four equal trays, two of them as high again: one case; from a cache none is tried."""
    bench = lined
    for number, (col, row) in enumerate(((0, 0), (4, 0), (0, 4), (4, 4))):
        part = tray(module, cols=4, rows=4, height=24.0 if number < 2 else 48.0)
        bench = bench.having(f"tray-{number}", part, cell(col, row))
    heard: list[str] = []

    class Listening(Silent):
        def track(self, items: Iterable[T], total: int, what: str) -> Iterator[T]:
            heard.append(f"{what}: {total}")
            yield from items

    args = bench.kit, tuple(bench.stands.values()), bench.drawn
    first = list(check_going_on(*args, Verdicts(tmp_path), Listening()))
    kept = sorted(tmp_path.iterdir())
    assert heard == ["trying seats: 1"]
    assert list(check_going_on(*args, Verdicts(tmp_path), Silent())) == first
    assert sorted(tmp_path.iterdir()) == kept


def test_the_same_kit_gives_the_same_findings(stood: Bench) -> None:
    """Twice, each time from nothing."""
    again = replace(stood, shapes=dict(stood.shapes))
    assert check_seats(again.kit, again.room, again.shapes, Verdicts(None)) == stood.findings()


def test_a_bow_changes_clearances_by_what_hangs_and_leans(lined: Bench, module: Module) -> None:
    """In a hollow the middle hangs and gets room; at the ends cones lean and take some."""
    from nookwright.checks.seats.going_on import _by_bow

    bench = lined.having("tray", tray(module, cols=8, rows=2, height=24.0), cell(0, 3)).in_space(bow=2.0)
    stand, space = bench.stands["tray"], bench.kit.spaces[0]
    places = np.array([(0.0, 0.0), (63.0, 9.0)])
    middle, end = _by_bow(stand, space, places, bench.drawn)
    assert middle == pytest.approx(2.0 * bench.drawn.draw, abs=0.01)
    lean = 3.0 * 8 * 2.0 * np.hypot(63, 9) / 146**2
    hang = 4 * 2.0 * ((72**2 - 63**2) + (18**2 - 9**2)) / 146**2
    assert end == pytest.approx(hang * bench.drawn.draw - lean, abs=0.001)
