"""Floors on cones, floors that are lifted, lids and roofs that carry."""

from __future__ import annotations

from typing import TYPE_CHECKING

import manifold3d
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.checks.conftest import box
from tests.checks.strength.conftest import NOTHING, vessel

from nookwright.checks.strength.floors import check_floors, on_columns, stiff
from nookwright.ground.findings import Severity
from nookwright.survey.plastic_sheet import PlasticKind, PlasticSheet

if TYPE_CHECKING:
    from tests.checks.strength.conftest import Bench

    from nookwright.ground.findings import Finding


def found(bench: Bench) -> dict[str, Finding]:
    """Findings on floors, by code."""
    return {one.code: one for one in check_floors(bench.carried, bench.shapes, NOTHING)}


def panel(spacing: float) -> manifold3d.Manifold:
    """A panel of 90 x 72 with cones at a spacing both ways."""
    cones = [
        manifold3d.Manifold.cylinder(3.0, 2.5, 1.7, 32).translate([9 + spacing * i, 9 + spacing * j, 0.6])
        for i in range(int(80 / spacing) + 1)
        for j in range(int(62 / spacing) + 1)
    ]
    return manifold3d.Manifold.batch_boolean([box(90, 72, 0.6), *cones], manifold3d.OpType.Add)


def seated(bench: Bench, spacing: float, floor: float, mass_g: float) -> Bench:
    """A tray with a mass on a panel."""
    ready = bench.part("panel", "panel", panel(spacing)).stands("panel", 0, 0, 0)
    tray = ready.part("tray", "tray", vessel(89.4, 71.4, 40, floor=floor)).stands(
        "tray", 0.3, 0.3, stands_on=("panel",)
    )
    return tray.holds("tray", mass_g, (80, 60, 30))


@pytest.mark.parametrize(("mass_g", "codes"), [(5000, []), (10_000, ["floor-weak"])])
def test_a_floor_spans_from_cone_to_cone(bench: Bench, mass_g: float, codes: list[str]) -> None:
    """A floor of 1.0 over cones 18 apart carries 5 kg for years, not twice that."""
    assert [code for code in found(seated(bench, 18, 1.0, mass_g)) if code == "floor-weak"] == codes


def test_fewer_cones_and_thinner_floors_carry_less(bench: Bench) -> None:
    """4 kg with cones twice as far apart, or with a floor that is half as thick: it stops the print."""
    for spacing, floor in ((36, 1.5), (18, 0.5)):
        one = found(seated(bench, spacing, floor, 4000))["floor-weak"]
        assert one.severity is Severity.STOP
        assert one.against is not None
        assert one.against.limit == pytest.approx(23.2 * 0.22, abs=0.01)


def test_the_floor_of_the_space_catches_what_hangs(bench: Bench) -> None:
    """A soft floor of TPU hangs 0.6 mm and no more: its stress is that of 0.6 mm."""
    soft = seated(bench.of(plastic=PlasticKind.TPU), 36, 0.6, 4000)
    assert "floor-weak" not in found(soft)


@pytest.mark.parametrize(("mass_g", "how"), [(1500, None), (14000, Severity.WARN)])
def test_a_floor_is_lifted_with_all_that_is_in_it(bench: Bench, mass_g: float, how: Severity | None) -> None:
    """It hangs on its walls and weighs twice for a moment."""
    one = found(bench.part("tray", "tray", vessel(200, 150, 50)).stands("tray").holds("tray", mass_g, (150, 100, 40)))
    assert (one["floor-lifted"].severity if "floor-lifted" in one else None) is how


@pytest.mark.parametrize(("roof", "codes"), [(2.2, []), (0.8, ["roof-sags", "roof-weak"])])
def test_a_riser_carries_on_its_roof(bench: Bench, roof: float, codes: list[str]) -> None:
    """1.2 kg on a hollow of 80 x 60: 2.2 mm do for years; 0.8 sags, and is too weak: stress goes by its square."""
    riser = box(100, 80, 30) - box(80, 60, 31 - roof, at=(10, 10, -1))
    ready = bench.part("riser", "riser", riser).stands("riser").part("block", "cradle", box(80, 60, 20), mass_g=1200)
    ready = ready.stands("block", 10, 10, 30.6, stands_on=("riser",))
    assert sorted(code for code in found(ready) if code in ("roof-weak", "roof-sags")) == codes


def test_a_roof_creeps(bench: Bench) -> None:
    """After years it hangs three times as far as at once; a plastic that did not creep would hang a third."""
    riser = box(100, 80, 30) - box(80, 60, 30.2, at=(10, 10, -1))
    sags = []
    for creep in (None, 100.0):
        ready = bench.of(sheet=PlasticSheet(creep_percent=creep)).part("riser", "riser", riser).stands("riser")
        ready = ready.part("block", "cradle", box(80, 60, 20), mass_g=1200).stands(
            "block", 10, 10, 30.6, stands_on=("riser",)
        )
        against = found(ready)["roof-sags"].against
        assert against is not None
        sags.append(against.computed)
    assert sags[0] / sags[1] == pytest.approx(3, rel=0.01)


@pytest.mark.parametrize(("plate", "codes"), [(1.2, []), (0.5, ["roof-pressed"])])
def test_a_hand_leans_on_a_lid(bench: Bench, plate: float, codes: list[str]) -> None:
    """2 kg on the middle of a lid of 90 x 70; it carries nothing else."""
    ready = bench.part("lid", "lid", box(90, 70, plate)).stands("lid", 0, 0, 40)
    assert list(found(ready)) == codes


def test_an_empty_tray_bears_nothing(bench: Bench) -> None:
    """However thin."""
    assert found(bench.part("tray", "tray", vessel(90, 70, 40, wall=0.4, floor=0.2)).stands("tray")) == {}


@given(pressure=st.floats(1e-6, 1e-2), spacing=st.floats(10, 60), thickness=st.floats(0.4, 5), times=st.floats(1.1, 4))
def test_a_slab_obeys_its_powers(pressure: float, spacing: float, thickness: float, times: float) -> None:
    """Sag goes by the fourth power of the spacing and the third of the thickness, stress by the second of both."""
    one = on_columns(pressure, spacing, thickness, 2000)
    wide, thick = (
        on_columns(pressure, spacing * times, thickness, 2000),
        on_columns(pressure, spacing, thickness * times, 2000),
    )
    assert (wide.sag / one.sag, one.sag / thick.sag) == pytest.approx((times**4, times**3))
    assert (wide.stress / one.stress, one.stress / thick.stress) == pytest.approx((times**2, times**2))


@given(thickness=st.floats(0.2, 20))
def test_infill_never_makes_a_floor_stiffer(thickness: float) -> None:
    """A thin floor is solid; a thick one counts for nine tenths."""
    assert stiff(thickness) == pytest.approx(thickness if thickness <= 2.4 else 0.9 * thickness)
