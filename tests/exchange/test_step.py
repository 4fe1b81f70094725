"""STEP files."""

from __future__ import annotations

import subprocess
import sys
from typing import TYPE_CHECKING

import pytest

from nookwright.exchange.step import part21, read_step, write_step
from nookwright.ground.digest import digest
from nookwright.ground.errors import FileFormatError, SolidError
from nookwright.shapes.regions import Circle, Rect
from nookwright.shapes.solids import Bowl, Difference, Move, Prism, Repeat, Solid, Taper, Union
from nookwright.solids.exact import exact

if TYPE_CHECKING:
    from pathlib import Path

TRAY = Difference(
    Prism(Rect(54, 36, 5), 20),
    (
        Move(Bowl(51.6, 33.6, 3.8, 3, 20), 1.2, 1.2, 4),
        Move(Repeat(Taper(Circle(4), 3.5, 0.9), ((9, 9), (27, 9), (45, 27))), z=-0.5),
    ),
)
PEGS = Union((Prism(Rect(20, 20), 2), Repeat(Prism(Circle(2), 9), ((5, 5), (15, 15)))))
HOLLOW = Difference(Prism(Rect(9, 9), 9), (Move(Prism(Rect(4, 3), 2), 2, 2, 2),))
APART = Repeat(Prism(Rect(4, 3), 2), ((0, 0), (9, 0)))


@pytest.mark.parametrize("solid", [TRAY, PEGS, HOLLOW, APART, Move(TRAY, 3, 4, 5, 1)])
def test_what_is_read_back_is_what_was_written(tmp_path: Path, solid: Solid) -> None:
    """Valid, with the same volume, box, closed surfaces and handles."""
    path, before = tmp_path / "part.step", exact(solid)
    write_step(path, solid, "part")
    after = read_step(path)
    assert after.valid
    assert after.volume_mm3 == pytest.approx(before.volume_mm3, rel=1e-9)
    assert after.area_mm2 == pytest.approx(before.area_mm2, rel=1e-9)
    assert after.bounds == pytest.approx(before.bounds, abs=1e-6)
    assert (after.components, after.genus) == (before.components, before.genus)


def test_the_header_is_ours(tmp_path: Path) -> None:
    """AP242, millimetres, the name as given, a fixed time, no path of this machine, no curves on surfaces."""
    path = tmp_path / "part.step"
    assert write_step(path, TRAY, "tray 54x36 'h20'") == digest(path.read_bytes())
    text = path.read_text(encoding="ascii")
    assert text.startswith("ISO-10303-21;\nHEADER;")
    assert text.rstrip().endswith("END-ISO-10303-21;")
    assert "AP242_MANAGED_MODEL_BASED_3D_ENGINEERING_MIM_LF" in text
    assert "FILE_NAME('tray 54x36 ''h20''','2000-01-01T00:00:00',(''),('')" in text
    assert "PRODUCT('tray 54x36 ''h20'''," in text
    assert "SI_UNIT(.MILLI.,.METRE.)" in text
    assert str(tmp_path) not in text
    assert "PCURVE" not in text
    assert "B_SPLINE" not in text


def test_the_same_part_gives_the_same_bytes_in_every_process(tmp_path: Path) -> None:
    """After other files have been written, under other hash seeds, in fresh processes."""
    first = write_step(tmp_path / "a.step", TRAY, "tray")
    write_step(tmp_path / "b.step", PEGS, "pegs")
    assert write_step(tmp_path / "c.step", exact(TRAY), "tray") == first
    code = (
        "import sys; sys.path.insert(0, sys.argv[1]); from pathlib import Path; import test_step\n"
        "print(test_step.write_step(Path(sys.argv[2]), test_step.TRAY, 'tray'))"
    )
    for seed in ("1", "2"):
        command = [sys.executable, "-c", code, __file__.rpartition("/")[0], str(tmp_path / f"{seed}.step")]
        ran = subprocess.run(command, capture_output=True, text=True, check=True, env={"PYTHONHASHSEED": seed})
        assert ran.stdout.strip() == first


def test_nothing_is_said_on_standard_output(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    """The library likes to talk; whoever pipes our output does not want to hear it."""
    write_step(tmp_path / "part.step", TRAY, "tray")
    read_step(tmp_path / "part.step")
    assert capfd.readouterr().out == ""


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("plain 'x'", "plain 'x'"),
        ("22×40", r"22\X2\00D7\X0\40"),
        ("a\\b", r"a\\b"),
        ("𝒜", r"\X4\0001D49C\X0\\"[:-1]),
        ("a\nb", r"a\X2\000A\X0\b"),
    ],
)
def test_names_keep_to_the_characters_of_the_standard(text: str, written: str) -> None:
    """ISO 10303-21 knows printable ASCII; everything else goes by its number."""
    assert part21(text) == written


def test_names_with_other_letters_survive(tmp_path: Path) -> None:
    """The name stands in the file as the standard says, once for the part."""
    path = tmp_path / "part.step"
    write_step(path, PEGS, "Größe 22×40")
    text = path.read_text(encoding="ascii").replace("\n", "").replace("  ", "")
    assert r"PRODUCT('Gr\X2\00F6\X0\\X2\00DF\X0\e 22\X2\00D7\X0\40'," in text


def test_what_is_no_step_file_is_refused(tmp_path: Path) -> None:
    """Garbage, an empty file and no file, each by its name."""
    (tmp_path / "bad.step").write_text("no such thing", encoding="utf-8")
    (tmp_path / "empty.step").write_text("", encoding="utf-8")
    for name in ("bad.step", "empty.step", "none.step"):
        with pytest.raises(FileFormatError, match=name):
            read_step(tmp_path / name)


def test_a_folder_that_is_not_there_is_an_error(tmp_path: Path) -> None:
    """The library does not raise; we do."""
    with pytest.raises(FileFormatError, match="could not write"):
        write_step(tmp_path / "nowhere" / "part.step", PEGS, "pegs")


def test_kernels_that_disagree_write_no_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The library finds valid what is wrong now and then; the mesh kernel has to say the same."""
    monkeypatch.setattr("nookwright.exchange.step.exact", lambda _: exact(PEGS))
    with pytest.raises(SolidError, match=r"Difference .*the two kernels disagree; volume"):
        write_step(tmp_path / "part.step", TRAY, "tray")
    assert not (tmp_path / "part.step").exists()
