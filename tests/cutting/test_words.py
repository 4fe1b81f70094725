from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.cutting.model import Bed
from nookwright.cutting.pieces import cut_part
from nookwright.cutting.words import guide, joined
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
