from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from nookwright.cutting.cut import bed_for, bed_of, cut_all, longest_strip
from nookwright.cutting.model import Bed
from nookwright.ground.findings import Severity
from nookwright.parts.workshop import TraySpec, Workshop
from nookwright.survey.models import Printer

from .joining import rejoined

if TYPE_CHECKING:
    from nookwright.build import Designed
    from nookwright.parts.design import Copy
    from nookwright.solids.mesh import MeshKernel


def printer(name: str, width: float, depth: float, height: float, *materials: str, margin: float = 5.0) -> Printer:
    """A printer."""
    return Printer(
        id=name, bed_width=width, bed_depth=depth, bed_height=height, margin=margin, materials=materials or ("white",)
    )


@pytest.fixture
def tray_copy(tiny: Designed) -> Copy:
    """A tray of 10 x 4 cells and 36 high, in white."""
    spec = TraySpec(10, 4, 36.0, smooth=False, pockets=None)
    some = next(copy for copy in tiny.copies if copy.part.seated)
    return replace(some, spec=spec, part=Workshop(tiny.plan.module).part(spec), material="white", contents=None)


def test_a_bed_is_less_its_margins_in_whole_tenths() -> None:
    """Nesting works in tenths, so what cutting says fits is what fits there."""
    assert bed_of(printer("a", 219.964, 200, 180)) == Bed(209.9, 190, 180)
    assert bed_of(printer("a", 200, 200, 180, margin=0)) == Bed(200, 200, 180)


def test_a_part_is_cut_for_the_largest_bed_of_its_material() -> None:
    """In two materials, for the smaller of the two; no bed where no printer has a material."""
    small, large = printer("s", 120, 120, 100, "red", "white"), printer("l", 300, 250, 300, "white")
    assert bed_for(["white"], [small, large]) == bed_of(large)
    assert bed_for(["white", "red"], [small, large]) == bed_of(small)
    assert bed_for(["blue"], [small, large]) is None
    assert bed_for(["red", "white"], [small, large], height=200) is None


def test_the_longest_strip_is_that_of_its_own_material() -> None:
    """A long bed that has not the liner's material loaded takes no filler."""
    small, large = printer("s", 120, 130, 100, "white"), printer("l", 300, 250, 300, "red")
    assert longest_strip("white", [small, large]) == 120
    assert longest_strip("red", [small, large]) == 290
    assert longest_strip("blue", [small, large]) == 0


def test_what_fits_some_bed_is_not_cut(tiny: Designed, tray_copy: Copy) -> None:
    """179 x 71 lies on the long narrow bed, although the other one is larger; a tall part on the tall one."""
    square, narrow = printer("s", 160, 160, 100), printer("n", 200, 90, 100)
    cut, findings = cut_all([tray_copy], tiny.plan.module, [square, narrow])
    assert [len(part.pieces) for part in cut.values()] == [1]
    assert findings == ()
    low, tall = printer("low", 300, 300, 30), printer("tall", 100, 200, 100)
    cut, findings = cut_all([tray_copy], tiny.plan.module, [low, tall])
    assert [len(part.pieces) for part in cut.values()] == [1]
    assert findings == ()


def test_a_part_in_two_materials_is_cut_for_both(tiny: Designed, tray_copy: Copy) -> None:
    """The pieces are the same in both, so that either can replace the other."""
    small, large = printer("s", 120, 120, 100, "red"), printer("l", 300, 250, 300, "white")
    cut, _ = cut_all([tray_copy, replace(tray_copy, material="red")], tiny.plan.module, [small, large])
    assert len(cut) == 1
    assert len(next(iter(cut.values())).pieces) == 2


def test_a_part_that_no_bed_takes_is_named(tiny: Designed, tray_copy: Copy) -> None:
    """It stays whole, and the finding says stop, with the reason that it cannot be cut."""
    cut, findings = cut_all([tray_copy], tiny.plan.module, [printer("low", 300, 300, 19)])
    assert [len(part.pieces) for part in cut.values()] == [1]
    assert [(found.code, found.severity) for found in findings] == [("part-too-large", Severity.STOP)]
    assert "onto a bed of 19 mm" in findings[0].text


def test_every_part_of_a_room_is_cut_to_its_beds(tiny: Designed) -> None:
    """All parts have pieces, each on the bed; fillers are short enough as they are."""
    bed = bed_of(tiny.room.printer[0])
    assert set(tiny.cut) == {copy.part.recipe.digest for copy in tiny.copies}
    for part in tiny.cut.values():
        assert all(bed.holds(*piece.size) for piece in part.pieces)
    assert len(tiny.plan.spaces[0].liner.fillers) > 2
    assert {one.code for one in tiny.findings} - {one.code for one in tiny.plan.findings} == {"printer-not-measured"}


def test_strips_that_are_too_long_are_named(tiny: Designed) -> None:
    """A filler is never cut: it is planned short enough, and else said to be too long."""
    strip = next(copy for copy in tiny.copies if copy.label.startswith("filler"))
    _, findings = cut_all([strip], tiny.plan.module, [printer("s", 60, 60, 60)])
    assert [found.code for found in findings] == ["part-too-large"]


def test_all_cuts_of_a_room_rejoin(tiny: Designed, kernel: MeshKernel) -> None:
    """On a bed that takes none of its trays whole: every part but panels, put back together, is the part."""
    cut, findings = cut_all(tiny.copies, tiny.plan.module, [printer("s", 75, 90, 100, "white", "red", margin=2)])
    parts = [part for part in cut.values() if part.joints]
    assert len(parts) >= 2
    assert {one.subject for one in findings if one.code == "part-in-pieces"} == {part.part.name for part in parts}
    for part in parts:
        joined = rejoined(part, kernel)
        far, missing = joined.missing_mm3(part, 8.5)
        noise_mm3 = 1e-6 * joined.whole.volume()
        assert max(joined.outside_mm3, joined.shared_mm3, far) < noise_mm3
        assert joined.box_error < 1e-6
        assert missing > 0
