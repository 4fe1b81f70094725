"""Stacks, rests, dividers, tongues and joints: each with a fault and a twin that is sound."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import manifold3d
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.checks.conftest import box, moved, turned
from tests.checks.strength.conftest import NOTHING, shape, vessel

from nookwright.checks.strength.dividers import check_dividers
from nookwright.checks.strength.joints import GLUE_MPA, check_joints, lifting_moment
from nookwright.checks.strength.outlines import outlines_at, solid_of
from nookwright.checks.strength.plastics import TABLE
from nookwright.checks.strength.plates import buckling_mpa
from nookwright.checks.strength.rests import check_rests, horns_of
from nookwright.checks.strength.snaps import check_snaps
from nookwright.checks.strength.stacks import check_stacks
from nookwright.checks.strength.tongues import leaves_of, pressing_tongues, sliding_tongues
from nookwright.ground.findings import Severity
from nookwright.survey.models import SpaceKind
from nookwright.survey.plastic_sheet import PlasticKind

if TYPE_CHECKING:
    from tests.checks.strength.conftest import Bench


# ------------------------------------------------------------------------------------------------- stacks


def stacked(bench: Bench, mass_g: float, wall: float) -> list[str]:
    """What is found about a tray under a mass."""
    ready = bench.part("tray", "tray", vessel(90, 70, 50, wall=wall)).stands("tray")
    ready = ready.part("block", "cradle", box(90, 70, 20), mass_g=mass_g).stands(
        "block", 0, 0, 50.6, stands_on=("tray",)
    )
    return [one.code for one in check_stacks(ready.carried, ready.shapes, NOTHING)]


@pytest.mark.parametrize(
    ("mass_g", "wall", "codes"),
    [(5000, 1.2, []), (5000, 0.5, ["stack-buckles"]), (8000, 1.2, []), (20000, 0.4, ["stack-buckles"])],
)
def test_thin_walls_buckle_under_a_stack(bench: Bench, mass_g: float, wall: float, codes: list[str]) -> None:
    """They buckle long before they are crushed: stress by thickness, what they bear by its third power."""
    assert stacked(bench, mass_g, wall) == codes


@pytest.mark.parametrize(("share", "codes"), [(0.97, []), (1.03, ["stack-buckles"])])
def test_a_third_of_what_theory_gives_is_allowed(bench: Bench, share: float, codes: list[str]) -> None:
    """The longest wall buckles first: 87.6 long and 49 high, of PLA that has crept for years."""
    modulus = TABLE[PlasticKind.PLA].creep_modulus_mpa
    load = buckling_mpa(49, 87.6, 1.2, modulus) / 3 * 2 * 1.2 * (87.6 + 67.6)
    assert stacked(bench, share * load / 9.80665 * 1000, 1.2) == codes


def test_a_stack_presses_what_is_below_through_all_that_is_between(bench: Bench) -> None:
    """Half the mass on each of two carriers, all of it on what carries both; a ring of parts ends nowhere."""
    ready = bench.part("low", "tray", vessel(90, 70, 20)).part("mid", "tray", vessel(40, 70, 20), mass_g=10)
    ready = ready.part("top", "cradle", box(90, 70, 10), mass_g=400).stands("low")
    ready = ready.stands("mid", named="a", stands_on=("low",)).stands("mid", named="b", stands_on=("low",))
    carried = ready.stands("top", stands_on=("a", "b")).carried
    assert carried.on_top_g == {"low": 420, "a": 200, "b": 200, "top": 0}
    ring = ready.kit.model_copy(
        update={"placements": tuple(one.model_copy(update={"stands_on": ("a",)}) for one in ready.kit.placements)}
    )
    assert type(ready)(ring, ready.room, ready.shapes).carried.on_top_g["a"] == 60


# -------------------------------------------------------------------------------------------------- rests


def rest(rib: float) -> manifold3d.Manifold:
    """A block with two ribs beside a slot, 40 long and 30 high over it."""
    ribs = [box(rib, 40, 46, at=(x, 0, 0)) for x in (26.0, 34.0)]
    return manifold3d.Manifold.batch_boolean([box(60, 40, 16), *ribs], manifold3d.OpType.Add)


@pytest.mark.parametrize(("rib", "codes"), [(1.8, []), (1.2, ["rest-weak"])])
def test_ribs_of_a_rest_bear_a_hand(bench: Bench, rib: float, codes: list[str]) -> None:
    """10 N at the top of a rib, 30 above its root, across the layers: 6 x 300 / (40 x 1.8^2) = 13.9 of 18.4 MPa."""
    ready = bench.part("rest", "rest", rest(rib)).stands("rest")
    assert [one.code for one in check_rests(ready.carried, ready.shapes, NOTHING)] == codes


def test_a_horn_is_a_beam_of_its_section() -> None:
    """W = b h^2 / 6 at every level above the block, and none in the block."""
    horns = horns_of(shape(rest(2.0)), NOTHING)
    assert all(horn.modulus == pytest.approx(40 * 2.0**2 / 6, rel=1e-6) for horn in horns)
    assert min(horn.level for horn in horns) > 16
    assert horns[0].stress(10, 100) == pytest.approx(10 * (46 - horns[0].level) / (40 * 4 / 6), rel=1e-6)


def test_a_heavy_tool_that_is_slammed_bends_a_horn(bench: Bench) -> None:
    """Turned by 90 degrees, its slots lie across the drawer's way: the tool goes at its ribs; not so on a shelf."""
    ready = bench.part("rest", "rest", rest(1.6)).stands("rest", space_from_part=turned(60, 5, 0.6))
    loaded = ready.holds("rest", 3500, (6, 200, 30))
    said = [one.text for one in check_rests(loaded.carried, loaded.shapes, NOTHING)]
    assert len(said) == 1
    assert "when it is slammed shut, bends" in said[0] or "against its stop, bends" in said[0]
    calm = loaded.in_space(kind=SpaceKind.SHELF)
    assert check_rests(calm.carried, calm.shapes, NOTHING) == ()


# ----------------------------------------------------------------------------------------------- dividers


@pytest.mark.parametrize(("thickness", "how"), [(1.2, None), (0.7, Severity.NOTE), (0.6, Severity.WARN)])
def test_a_loose_divider_bears_a_hand(bench: Bench, thickness: float, how: Severity | None) -> None:
    """60 x 60, printed lying and standing in grooves on three sides."""
    upright = ((1, 0, 0, 5), (0, 0, -1, 30), (0, 1, 0, 0.6), (0, 0, 0, 1))
    ready = bench.part("divider", "divider", box(60, 60, thickness), printed=moved())
    found = check_dividers(ready.stands("divider", space_from_part=upright).carried)
    assert [one.severity for one in found] == [how] * (how is not None)


def test_what_lies_beside_a_divider_is_shared_by_all_of_them(bench: Bench) -> None:
    """8 kg in a tray bulge its only divider, across the way, more than one of two; along the way they leave it be."""
    across = ((1, 0, 0, 5), (0, 0, -1, 30), (0, 1, 0, 0.6), (0, 0, 0, 1))
    along = ((0, 0, 1, 30), (1, 0, 0, 5), (0, 1, 0, 0.6), (0, 0, 0, 1))
    made = bench.part("tray", "tray", vessel(90, 70, 58)).stands("tray").part("divider", "divider", box(60, 55, 1.2))
    made = made.holds("tray", 8000, (40, 40, 50))
    one = made.stands("divider", space_from_part=across, stands_on=("tray",))
    two = one.stands("divider", named="other", space_from_part=across, stands_on=("tray",))
    beside = made.stands("divider", space_from_part=along, stands_on=("tray",))
    found = [check_dividers(each.carried) for each in (one, two, beside)]
    stress = [each[0].against.computed if each and each[0].against else 0.0 for each in found]
    assert stress[0] > stress[1] >= 0
    assert stress[2] == 0


# ------------------------------------------------------------------------------------------------ tongues


def sliding_lid(tongue: float, nose: float = 0.8) -> manifold3d.Manifold:
    """A plate of 2.0 with a tongue that is cut out on three sides, its root to the front, a nose on its end."""
    gap = box(7.4, tongue + 4, 4, at=(30, 20, -1)) - box(5, tongue + 2.8, 4, at=(31.2, 19.9, -1))
    return box(70, 90, 2.0) - gap + box(5, 2, 2.0 + nose, at=(31.2, 20 + tongue, 0))


@given(tongue=st.floats(10, 40), nose=st.floats(0.3, 2.0))
def test_a_tongue_is_read_off_its_plate(tongue: float, nose: float) -> None:
    """From the open end of the gap to the face of the nose; a slot beside it is no tongue."""
    slotted = sliding_lid(tongue, nose) - box(20, 10, 4, at=(5, 75, -1))
    (found,) = sliding_tongues(shape(slotted))
    assert (found.thickness, found.deflection, found.length) == pytest.approx((2.0, nose, tongue), abs=1e-4)


@pytest.mark.parametrize(
    ("tongue", "kind", "codes"), [(18, "pla", []), (12, "pla", ["snap-strained"]), (13, "petg", [])]
)
def test_a_short_tongue_is_strained_too_much(bench: Bench, tongue: float, kind: str, codes: list[str]) -> None:
    """1.5 x 2.0 x 0.8 / 18^2 = 0.74 % of 0.75 %; at two thirds of that length 1.67 %, and PETG bears 1.5 %."""
    ready = bench.of(plastic=PlasticKind(kind)).part("lid", "lid", sliding_lid(tongue), called="sliding lid 70x90")
    found = check_snaps(ready.carried, ready.shapes, NOTHING)
    assert [one.code for one in found] == codes
    assert all(one.severity is Severity.STOP and one.against and one.against.unit == "%" for one in found)


def spring(travel: float, free: float, leaf: float = 1.2) -> manifold3d.Manifold:
    """A strip behind one leaf spring on a post in its middle, the wall at y = 0."""
    half = 3 + free + 1  # to the end of the leaf: the force acts in the middle of a nub of 2
    long, back = 2 * half, travel + leaf + travel + 0.5
    parts = [
        box(long + 10, 6, 2.6, at=(-long / 2 - 5, back, 0)),
        box(long, leaf, 2.6, at=(-long / 2, travel, 0)),
        box(6, back - travel, 2.6, at=(-3, travel, 0)),
        *(box(2, travel + 0.2, 2.6, at=(x, 0, 0)) for x in (-half, half - 2)),
    ]
    return manifold3d.Manifold.batch_boolean(parts, manifold3d.OpType.Add).translate([long / 2 + 5, 0, 0])


@given(travel=st.floats(0.8, 3.0), free=st.floats(12, 40))
def test_a_leaf_is_read_off_its_filler(travel: float, free: float) -> None:
    """From post to the middle of its nub, to the step at which it is looked at, at both ends."""
    found = list(leaves_of(shape(spring(travel, free)), travel))
    assert len(found) == 2
    for leaf in found:
        assert (leaf.thickness, leaf.deflection) == pytest.approx((1.2, travel), abs=1e-4)
        assert leaf.length == pytest.approx(free, abs=0.5)


@pytest.mark.parametrize(("free", "codes"), [(24.0, []), (16.0, ["snap-strained"])])
def test_a_short_leaf_is_strained_too_much(bench: Bench, free: float, codes: list[str]) -> None:
    """1.5 x 1.2 x 1.6 / 24^2 = 0.50 % of 0.75 %; over two thirds of that length 1.1 %."""
    ready = bench.part("filler", "filler", spring(1.6, free)).stands("filler", 0, 0, 0, travel=1.6)
    assert [one.code for one in check_snaps(ready.carried, ready.shapes, NOTHING)] == codes


def press_lid(press: float, skirt: float = 6.0, thick: float = 1.2) -> manifold3d.Manifold:
    """A lid as it is printed: a plate of 90 x 70, its skirt inside walls of 1.2, a ridge near the end of each side."""
    inside = [87.6, 67.6]
    ring = box(inside[0] - 0.6, inside[1] - 0.6, skirt, at=(1.5, 1.5, 1.6))
    hollow = box(
        inside[0] - 0.6 - 2 * thick, inside[1] - 0.6 - 2 * thick, skirt + 1, at=(1.5 + thick, 1.5 + thick, 1.6)
    )
    ridges = [
        box(inside[0] + 2 * press, 10, 0.4, at=(1.2 - press, 30, 1.6 + skirt - 1)),
        box(10, inside[1] + 2 * press, 0.4, at=(40, 1.2 - press, 1.6 + skirt - 1)),
    ]
    return box(90, 70, 1.6) + (ring + ridges[0] + ridges[1] - hollow)


def test_a_pressing_tongue_is_read_off_its_skirt() -> None:
    """How far its ridge stands into the wall, and how far that is from the plate."""
    found = list(pressing_tongues(shape(press_lid(0.1)), (87.6, 67.6)))
    assert len(found) == 2
    for tongue in found:
        assert (tongue.thickness, tongue.deflection) == pytest.approx((1.2, 0.1), abs=1e-4)
        assert tongue.length == pytest.approx(5.2, abs=0.21)


@pytest.mark.parametrize(("press", "thick", "codes"), [(0.1, 1.2, []), (1.5, 0.6, ["snap-strained"])])
def test_a_lid_that_presses_is_strained_again_and_again(
    bench: Bench, press: float, thick: float, codes: list[str]
) -> None:
    """The wall of its tray gives way too and takes its share; a soft tongue against it bends alone."""
    ready = bench.part("tray", "tray", vessel(90, 70, 20)).stands("tray")
    lid: dict[str, Any] = {"parameters": {"fit": "press"}}
    ready = ready.part("lid", "lid", press_lid(press, thick=thick), **lid)
    ready = ready.stands("lid", 0, 0, 22, stands_on=("tray",))
    assert [one.code for one in check_snaps(ready.carried, ready.shapes, NOTHING)] == codes


# ------------------------------------------------------------------------------------------------- joints


def jointed(bench: Bench, mass_g: float, *, dry: bool = False, height: float = 30.0) -> list[Any]:
    """What is found about a long tray that is glued in its middle, with a mass in it."""
    joint = {"hold": "faces", "axis": "x", "at": 150.0, "span": (0.0, 60.0), "dry": dry}
    ready = bench.part("tray", "tray", vessel(300, 60, height), joints=(joint,)).stands("tray")
    loaded = ready.holds("tray", mass_g, (280, 50, 20))
    return list(check_joints(loaded.carried, loaded.shapes, NOTHING))


@pytest.mark.parametrize(("mass_g", "count"), [(1500, 0), (9000, 1)])
def test_glue_bears_what_is_lifted_with_a_part(bench: Bench, mass_g: float, count: int) -> None:
    """A long tray, taken by its ends with its things: the moment in its middle pulls the lower edge of the joint."""
    found = jointed(bench, mass_g)
    assert [one.code for one in found] == ["joint-weak"] * count
    assert all(one.against.limit == GLUE_MPA and "at 150 mm along its width" in one.text for one in found)
    assert jointed(bench, mass_g, dry=True) == []


def test_a_level_joint_holds_what_hangs_from_it(bench: Bench) -> None:
    """Cut across its height, a tray of 100 x 60 hangs from the glue on 2 x 1.2 x (100 + 57.6) mm2 of its walls."""
    joint = {"hold": "laps", "axis": "z", "at": 20.0, "span": (0.0, 100.0)}
    made = bench.part("tray", "tray", vessel(100, 60, 40), joints=(joint,), mass_g=50).stands("tray")
    area, counts = 2 * 1.2 * (100 + 57.6), []
    for share in (0.95, 1.05):
        mass_g = share * area * GLUE_MPA / 2 / 9.80665 * 1000 - 50
        loaded = made.holds("tray", mass_g, (90, 50, 20))
        found = check_joints(loaded.carried, loaded.shapes, NOTHING)
        counts.append(len(found))
    assert counts == [0, 1]
    assert "along its height" in found[0].text


def test_a_joint_is_the_section_of_its_part() -> None:
    """The same stress as by the second moment of a U of floor 1.0 and walls 1.2 by 30, by hand."""
    (one,) = outlines_at(solid_of(shape(vessel(300, 60, 30)), 0), 150.0)
    area = 2 * 1.2 * 30 + 57.6 * 1.0
    middle = (2 * 1.2 * 30 * 15 + 57.6 * 0.5) / area
    second = 2 * (1.2 * 30**3 / 12 + 36 * (15 - middle) ** 2) + 57.6 / 12 + 57.6 * (middle - 0.5) ** 2
    assert (one.area, one.middle[1], one.about_u) == pytest.approx((area, middle, second), rel=1e-6)


@given(width=st.floats(1, 50), height=st.floats(1, 50), x=st.floats(-30, 30), y=st.floats(-30, 30))
def test_an_outline_knows_its_moments_wherever_it_lies(width: float, height: float, x: float, y: float) -> None:
    """A rectangle: b h^3 / 12 about its middle, b h^2 / 6 against bending, both ways."""
    (one,) = outlines_at(solid_of(shape(box(width, height, 10, at=(x, y, 0)))), 5.0)
    assert (one.about_u, one.about_v) == pytest.approx((width * height**3 / 12, height * width**3 / 12), rel=1e-4)
    assert (one.modulus(0), one.modulus(1)) == pytest.approx((height * width**2 / 6, width * height**2 / 6), rel=1e-4)


@given(at=st.floats(0, 1), length=st.floats(10, 500), weight=st.floats(0.1, 100))
def test_a_beam_bears_most_in_its_middle(at: float, length: float, weight: float) -> None:
    """W L / 8 there, nothing at its ends, and the same from either end."""
    most = weight * length / 8
    here = lifting_moment(weight, length, at * length)
    assert -1e-9 <= here <= most * (1 + 1e-9)
    assert here == pytest.approx(lifting_moment(weight, length, (1 - at) * length), abs=1e-6)
    assert lifting_moment(weight, length, length / 2) == pytest.approx(most)
