"""From a room file to a coupon, to its readings, and back into the kit."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from typing import TYPE_CHECKING

import numpy as np
import pytest
from benchmarks.sizing.printers import repeated

from nookwright.build import check, plan_and_design
from nookwright.cli import Exit, main
from nookwright.documents import style
from nookwright.documents.coupon_sheet import coupon_sheet
from nookwright.documents.lettering import width
from nookwright.exchange.stl import read_stl
from nookwright.exchange.threemf import read_3mf
from nookwright.ground.progress import Silent
from nookwright.layout.place import Effort
from nookwright.module.seating import COUPON_GROWTH
from nookwright.sizing.printers.coupon import features
from nookwright.sizing.printers.errors import ERRORS, Error
from nookwright.survey.origins import CouponForm

if TYPE_CHECKING:
    from pathlib import Path

ROOM = """format = 1
room = { name = "a room" }
[[space]]
id = "drawer"
kind = "drawer"
width = 300
depth = 240
height = 70
floor_height = 700
load_kg = 20
[[lot]]
id = "reels"
count = 6
shape = "round"
diameter = 22
height = 40
mass_g = 12
keep = "cradle"
[[material]]
id = "pla"
colour = "#808080"
density_g_cm3 = 1.24
[[printer]]
id = "one"
bed_width = 220
bed_depth = 220
bed_height = 200
materials = ["pla"]
"""
FORMS = pytest.mark.parametrize("form", CouponForm)


def run(*arguments: str) -> int:
    """Run the command line and hand back its exit code."""
    with pytest.raises(SystemExit) as left:
        main(arguments)
    assert isinstance(left.value.code, int)
    return left.value.code


@pytest.fixture
def room(tmp_path: Path) -> Path:
    """A room file with one printer."""
    path = tmp_path / "room.toml"
    path.write_text(ROOM, encoding="utf-8")
    return path


@FORMS
def test_it_writes_the_coupon_its_sheet_and_its_table(room: Path, form: CouponForm) -> None:
    """The 3MF holds the same body as the STL, on the middle of the bed, in its material."""
    out = room.parent / "coupon"
    options = ["--long"] if form is CouponForm.LONG else []
    assert run("coupon", str(room), "--out", str(out), *options) == Exit.DONE
    names = {path.name for path in out.iterdir() if not path.name.startswith(".")}
    assert names == {"coupon_one.stl", "coupon_one_pla.3mf", "sheet_one.svg", "readings_one.csv"}
    laid, (vertices, triangles) = read_3mf(out / "coupon_one_pla.3mf"), read_stl(out / "coupon_one.stl")
    assert (len(vertices), len(triangles)) == (len(laid.bodies[0].vertices), len(laid.bodies[0].triangles))
    at = np.array(laid.items[0].bed_from_body)[:2, 3] + laid.bodies[0].vertices[:, :2].max(axis=0) / 2
    assert at == pytest.approx([110, 110])
    assert laid.materials[0].colour == "#808080"


def test_a_table_that_was_filled_in_is_never_lost(room: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Asked again, the folder is replaced while nothing in it was changed, and refused afterwards."""
    out = room.parent / "coupon"
    assert [run("coupon", str(room), "--out", str(out)) for _ in range(2)] == [Exit.DONE, Exit.DONE]
    table = out / "readings_one.csv"
    table.write_text(table.read_text(encoding="utf-8") + "x", encoding="utf-8")
    assert run("coupon", str(room), "--out", str(out)) == Exit.FOLDER
    assert "readings_one.csv" in capsys.readouterr().err
    assert table.read_text(encoding="utf-8").endswith("x")


@pytest.mark.parametrize(
    ("change", "options", "words"),
    [
        (("bed_width = 220", "bed_width = 150"), [], "at least 158 mm: the short coupon"),
        (("bed_depth = 220", "bed_depth = 205"), ["--long"], "at least 208 mm: the long coupon"),
        (("", ""), ["--printer", "two"], 'found "two"'),
        (("count = 6", "count = -6"), [], "lot.reels.count"),
    ],
)
def test_what_cannot_be_made_is_said(
    room: Path, capsys: pytest.CaptureFixture[str], change: tuple[str, str], options: list[str], words: str
) -> None:
    """A bed that is too small, a printer that is not there, a room file with faults; nothing is written."""
    room.write_text(ROOM.replace(*change), encoding="utf-8")
    assert run("coupon", str(room), "--out", str(room.parent / "coupon"), *options) == Exit.ROOM
    assert words in capsys.readouterr().err
    assert not (room.parent / "coupon").exists()


@FORMS
def test_the_sheet_names_every_feature_and_stays_on_its_page(form: CouponForm) -> None:
    """Each id once in the list; no text runs out of an A4 sheet, in the widths of its lettering."""
    root = ET.fromstring(coupon_sheet(form, title="a printer, grey"))  # noqa: S314 - our own file
    texts = [element for element in root.iter() if element.tag.endswith("text")]
    for one in features(form):
        assert one.id in {text.text for text in texts}
    _, wide, high = style.SHEETS[0]
    for text in texts:
        size, x = float(text.get("font-size", 0)), float(text.get("x", 0))
        long = width(text.text or "", size, bold=text.get("font-weight") == "bold")
        left = x - {"end": long, "middle": long / 2}.get(text.get("text-anchor", ""), 0)
        assert "transform" in text.attrib or (left >= 4 and left + long <= wide - 4), text.text
        assert 4 <= float(text.get("y", 0)) <= high - 4, text.text


def test_readings_reach_the_pockets_and_the_sockets(room: Path) -> None:
    """A printer that prints insides 0.4 small makes pockets wider by as much more than usual, sockets grow by half."""
    errors = np.zeros((1, len(ERRORS)))
    errors[0, ERRORS.index(Error.INSIDE)] = -0.4
    sizes = repeated(errors, CouponForm.SHORT)[0]
    lines = ["id,reading 1,reading 2"] + [
        f"{one.id},{size:.2f},{size:.2f}" for one, size in zip(features(), sizes, strict=True)
    ]
    (room.parent / "readings.csv").write_text("\n".join(lines), encoding="utf-8")
    plain, faults = check(room)
    coupon = '[[coupon]]\nprinter = "one"\nmaterial = "pla"\ncsv = "readings.csv"\n'
    room.write_text(ROOM + coupon, encoding="utf-8")
    measured, more = check(room)
    assert plain is not None, faults
    assert measured is not None, more
    before, after = (plan_and_design(each, effort=Effort(moves=200), progress=Silent()) for each in (plain, measured))
    assert before.plan.terms.errors.value(Error.INSIDE) == pytest.approx(-0.15)
    assert after.plan.terms.errors.value(Error.INSIDE) == pytest.approx(-0.4, abs=0.03)
    assert after.plan.module.seat.growth == COUPON_GROWTH
    assert {one.code for one in before.findings} >= {"printer-not-measured"}
    assert {one.code for one in after.findings} >= {"printer-measured"}
