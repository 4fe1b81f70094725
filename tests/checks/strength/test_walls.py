"""Walls of trays: leant on, pushed, and met by what is thrown against them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from tests.checks.conftest import box, moved, turned
from tests.checks.strength.conftest import NOTHING, vessel

from nookwright.checks.strength.backing import Behind, behind
from nookwright.checks.strength.impact import bulge, energy_n_mm
from nookwright.checks.strength.walls import check_walls
from nookwright.checks.weights import weight_n
from nookwright.ground.findings import Severity
from nookwright.survey.models import SpaceKind

if TYPE_CHECKING:
    from tests.checks.strength.conftest import Bench

    from nookwright.ground.findings import Finding

WIDE = {"kind": SpaceKind.SHELF}  # no slam, so that one load is looked at


def found(bench: Bench) -> dict[str, Finding]:
    """Findings on walls, by code."""
    return {one.code: one for one in check_walls(bench.carried, bench.shapes, NOTHING)}


def tray(bench: Bench, wall: float = 1.2, **size: float) -> Bench:
    """A tray on the bench."""
    return bench.part("tray", "tray", vessel(**{"width": 90, "depth": 70, "height": 50, **size}, wall=wall)).stands(
        "tray"
    )


@pytest.mark.parametrize(("mass_g", "codes"), [(2250, []), (4600, ["wall-leant-on"])])
def test_loose_things_lean_on_a_wall_for_years(bench: Bench, mass_g: float, codes: list[str]) -> None:
    """Half their weight presses sideways: 2.25 kg in a tray of 1.2 are borne across its layers, twice that is not."""
    ready = tray(bench).in_space(**WIDE).holds("tray", mass_g, (80, 60, 45), stance="heaped")
    assert [code for code in found(ready) if code == "wall-leant-on"] == codes
    standing = tray(bench).in_space(**WIDE).holds("tray", mass_g, (80, 60, 45))
    assert "wall-leant-on" not in found(standing)


def test_a_wall_that_is_too_thin_for_years_stops_the_print(bench: Bench) -> None:
    """The figure, the limit, and where it stands."""
    ready = tray(bench, wall=0.6).in_space(**WIDE).holds("tray", 3000, (80, 60, 45), stance="heaped")
    one = found(ready)["wall-leant-on"]
    assert one.severity is Severity.STOP
    assert one.subject == "tray"
    assert one.text.startswith("tray: ")
    assert one.against is not None
    assert one.against.computed > one.against.limit == pytest.approx(23.2 * 0.53 * 0.22, abs=0.01)


@pytest.mark.parametrize(("wall", "how"), [(1.2, None), (1.0, Severity.NOTE), (0.8, Severity.WARN)])
def test_a_hand_bends_a_rim(bench: Bench, wall: float, how: Severity | None) -> None:
    """A wall that bends beyond half its thickness is only noted up to half as much again as it bears."""
    one = found(tray(bench, wall=wall).in_space(**WIDE)).get("wall-pushed")
    assert (one.severity if one else None) is how


def test_like_walls_are_one_finding(bench: Bench) -> None:
    """The worst, and how many more there are."""
    thin = bench.part("thin", "tray", vessel(90, 35, 50, wall=0.6)).part("mean", "tray", vessel(90, 35, 50, wall=0.7))
    ready = thin.stands("thin").stands("mean", 0, 40).stands("mean", 0, 80, named="again").in_space(**WIDE)
    one = found(ready)["wall-pushed"]
    assert one.subject == "thin"
    assert "The same holds for 2 more, by less." in one.text


@pytest.mark.parametrize(
    ("turn", "side"),
    [(False, "back"), (True, "right")],  # turned to the left by 90 degrees its right side faces the back
)
def test_what_is_slammed_meets_the_wall_that_faces_the_way(bench: Bench, turn: bool, side: str) -> None:  # noqa: FBT001
    """Shut, things are thrown to the back; a soft close throws nothing, and the front has the wall of the drawer."""
    made = bench.part("tray", "tray", vessel(70, 70, 58, wall=0.9)).in_space(soft_close=False)
    at = turned(70.3, 0.1, 0.6) if turn else moved(0.3, 0.1, 0.6)
    placed = made.stands("tray", space_from_part=at)
    one = found(placed.holds("tray", 1500, (60, 60, 55)))["wall-slammed"]
    assert f"its {side} wall when it is slammed shut" in one.text
    assert "wall-slammed" not in found(placed.in_space(**WIDE).holds("tray", 1500, (60, 60, 55)))


def test_what_is_pulled_open_meets_the_wall_in_front(bench: Bench) -> None:
    """Close to the back, a tray bulges to the front when the drawer meets its stop; its back has a wall behind it."""
    placed = bench.part("tray", "tray", vessel(70, 70, 58, wall=0.9)).stands("tray", 0.3, 8.9)
    one = found(placed.holds("tray", 1500, (60, 60, 55)))["wall-slammed"]
    assert "its front wall when it is pulled open against its stop" in one.text


def test_a_neighbour_takes_half_and_a_wall_all() -> None:
    """Of a bulge of 2.6 mm that meets something after 0.6 mm."""
    assert Behind(0.6, gives=True).held(2.6) == pytest.approx(1.6)
    assert Behind(0.6, gives=False).held(2.6) == pytest.approx(0.6)
    assert Behind(0.6, gives=False).held(0.4) == pytest.approx(0.4)


def test_a_neighbour_close_behind_helps_a_wall(bench: Bench) -> None:
    """What it bears is less with a block 0.6 mm behind it, and less again with the wall of the drawer there."""
    alone = bench.part("tray", "tray", vessel(70, 50, 58, wall=0.6)).part("block", "riser", box(70, 20, 58))
    stress = []
    for y in (None, 50.7):
        placed = alone.stands("tray", 0.3, 0.1)
        placed = placed if y is None else placed.stands("block", 0.3, y)
        one = found(placed.holds("tray", 1500, (60, 40, 55)))["wall-slammed"]
        assert one.against is not None
        stress.append(one.against.computed)
    space = bench.kit.spaces[0]
    to_wall = behind(alone.stands("tray", 0.3, 28.9).carried, "tray", space, 1, 1)
    assert stress[1] < stress[0]
    assert to_wall.gap == pytest.approx(0.1)
    assert not to_wall.gives


def test_what_stands_beside_only_a_corner_holds_nothing(bench: Bench) -> None:
    """A low block, and one beside a third of the wall, leave it as free as before."""
    placed = bench.part("tray", "tray", vessel(60, 40, 50)).stands("tray", 10, 10, 0)
    low = placed.part("block", "riser", box(60, 10, 20)).stands("block", 10, 50.6, 0)
    aside = placed.part("block", "riser", box(20, 10, 50)).stands("block", 10, 50.6, 0)
    full = placed.part("block", "riser", box(60, 10, 50)).stands("block", 10, 50.6, 0)
    gaps = [behind(one.carried, "tray", one.kit.spaces[0], 1, 1).gap for one in (low, aside, full)]
    assert gaps == pytest.approx([29, 29, 0.6])


@given(
    mass_g=st.floats(1, 5000),
    soft=st.floats(1e-3, 5),
    there=st.builds(Behind, st.floats(0, 20), gives=st.booleans()),
    accel=st.floats(0.1, 8),
    speed=st.floats(0.05, 1),
)
def test_a_wall_takes_no_more_than_force_and_energy(
    mass_g: float, soft: float, there: Behind, accel: float, speed: float
) -> None:
    """Never more than either alone; something behind it never makes it worse; a rigid wall is the end of the way."""
    alone = bulge(mass_g, soft, accel_g=accel, speed_m_s=speed)
    held = bulge(mass_g, soft, accel_g=accel, speed_m_s=speed, behind=there)
    assert alone <= accel * weight_n(mass_g) * soft * (1 + 1e-9)
    assert alone**2 / soft / 2 <= energy_n_mm(mass_g, speed) * (1 + 1e-9)
    assert held <= alone * (1 + 1e-9)
    if not there.gives:
        assert held <= there.gap or held == pytest.approx(alone)


@given(gap=st.floats(0, 10), free=st.floats(0.1, 40))
def test_the_energy_goes_into_both_walls(gap: float, free: float) -> None:
    """Of two like walls: k w^2 / 2 + k (w - gap)^2 / 2 is the energy that one alone would take up at ``free``."""
    assume(free > gap * 1.01)
    stiffness, mass_g = 2.0, 1000.0
    speed = (stiffness * free**2 / mass_g) ** 0.5  # m v^2 = k w^2 in g, mm and N: the thousands cancel
    held = bulge(mass_g, 1 / stiffness, accel_g=1e6, speed_m_s=speed, behind=Behind(gap, gives=True))
    assert stiffness * (held**2 + (held - gap) ** 2) / 2 == pytest.approx(energy_n_mm(mass_g, speed), rel=1e-6)
