from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.cutting.model import Bed
from nookwright.cutting.pieces import cut_part
from nookwright.cutting.words import GLUE_N_MM2, guide, joined
from nookwright.ground.findings import Severity
from nookwright.parts.lids.lid import LidSpec, lid
from nookwright.parts.risers.riser import RiserInside, RiserSpec, riser
from nookwright.parts.trays.tray import tray

if TYPE_CHECKING:
    from nookwright.cutting.holds import Fit
    from nookwright.cutting.model import CutPart
    from nookwright.module.module import Module
    from nookwright.parts.model import Part


def cut(part: Part, fit: Fit) -> CutPart:
    """A part in two."""
    done = cut_part(part, Bed(0.62 * part.size[0], 1.02 * part.size[1], 300), fit)
    assert done is not None
    assert len(done.pieces) == 2
    return done


def test_a_tray_is_glued_on_its_liner_or_stays_dry(module: Module, fit: Fit) -> None:
    """The finding is a note, counts the dovetails, and says that the glue may be left out there."""
    found = joined(cut(tray(module, cols=12, rows=6, height=36, smooth=False), fit))
    assert found.severity is Severity.NOTE
    assert "2 pieces" in found.text
    assert "dovetails" in found.text
    assert "on the liner" in found.remedy
    assert "may stay unglued" in found.remedy


def test_a_riser_says_which_pins_to_cut(module: Module, fit: Fit) -> None:
    """How many, how long, and from what."""
    done = cut(riser(module, RiserSpec(9, 5, 5, inside=RiserInside.FULL)), fit)
    count = sum(len(joint.places) for joint in done.joints)
    assert f"Cut {count} pins of 29 mm from 6 mm dowel" in guide(done)


def test_a_lid_is_glued_on_a_board(module: Module, fit: Fit) -> None:
    """It does not stand on cones, so nothing but the glue holds it."""
    text = guide(cut(lid(module, LidSpec(12, 7)), fit))
    assert "flat board" in text
    assert "unglued" not in text


def test_a_seam_says_what_its_glue_carries(module: Module, fit: Fit) -> None:
    """By the area of its faces: two walls of 1.2 mm, 36 high, and the floor between them."""
    done = cut(tray(module, cols=12, rows=6, height=36, smooth=False), fit)
    (joint,) = done.joints
    walls, floor = 2 * 1.2 * 36, 1.0 * 107.4
    assert walls + 0.8 * floor < joint.area_mm2 < walls + 3 * floor
    assert f"{joint.area_mm2:.0f} mm2 to glue and carries some {joint.area_mm2 * GLUE_N_MM2:.0f} N" in guide(done)


def test_pieces_on_each_other_say_how_they_go_together(module: Module, fit: Fit) -> None:
    """Over laps, on pins, or between boards where nothing else holds them in line; never unglued."""
    tall = tray(module, cols=8, rows=6, height=120)
    inside = (1.4, 1.4, tall.size[0] - 1.4, tall.size[1] - 1.4, 3.0)
    full = riser(module, RiserSpec(5, 4, 10, inside=RiserInside.FULL))
    for part, spots, said in (
        (tall, (), "slide the upper piece down over them"),
        (tall, (inside,), "between two flat boards"),
        (full, (), "on the pins of the lower one"),
    ):
        done = cut_part(part, Bed(200, 200, 0.65 * part.size[2]), fit, spots=spots)
        assert done is not None
        assert said in guide(done)
        assert "unglued" not in guide(done)
        assert "weakest seam" not in guide(done)
