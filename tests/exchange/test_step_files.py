"""A STEP file of every part of a kit."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import pytest

from nookwright.build import build
from nookwright.cutting.model import uncut
from nookwright.exchange.step import read_step, write_step
from nookwright.exchange.step_files import require_step, step_names, write_steps
from nookwright.ground.digest import digest
from nookwright.ground.errors import MissingExtraError, SolidError
from nookwright.ground.findings import Severity
from nookwright.ground.progress import Silent
from nookwright.making.jobs import MadePart
from nookwright.parts.trays.divider import examples

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.exchange.kit import Kit
    from nookwright.layout.place import Effort
    from nookwright.module.module import Module


@pytest.fixture(scope="module")
def parts(module: Module) -> tuple[MadePart, ...]:
    """Three plain parts, and the first once more under another id; not in the order of their ids."""
    found = [example.part for example in examples(module)]
    return tuple(MadePart(name, uncut(part)) for name, part in zip("dbca", [*found, found[0]], strict=True))


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where a kit with STEP files is built."""
    return tmp_path_factory.mktemp("step") / "kit"


@pytest.fixture(scope="module")
def kit(folder: Path, tiny_file: Path, quick: Effort) -> Kit:
    """The kit of the tiny room, with STEP files."""
    return build(tiny_file, folder, progress=Silent(), effort=quick, step=True)


def test_every_part_of_a_kit_has_its_step_file(kit: Kit, folder: Path) -> None:
    """Named in kit.json with its hash, nothing else in the folder, nothing left out."""
    assert [one.part for one in kit.steps] == [part.id for part in kit.parts]
    assert {one.file for one in kit.steps} == {path.relative_to(folder).as_posix() for path in folder.glob("step/*")}
    assert [digest((folder / one.file).read_bytes()) for one in kit.steps] == [one.sha256 for one in kit.steps]
    assert [found for found in kit.findings if found.code == "step-left-out"] == []


def test_a_step_file_holds_the_part_that_is_printed(kit: Kit, folder: Path) -> None:
    """Read back, one valid solid of the size and, to a two-hundredth, the volume that kit.json tells of the mesh."""
    parts = {part.id: part for part in kit.parts}
    for one in kit.steps:
        found, part = read_step(folder / one.file), parts[one.part]
        low, high = found.bounds[:3], found.bounds[3:]
        assert found.valid
        assert found.components == 1
        assert [b - a for a, b in zip(low, high, strict=True)] == pytest.approx(part.size, abs=1e-5)
        assert found.volume_mm3 == pytest.approx(part.volume_mm3, rel=5e-3)


def test_without_being_asked_for_there_are_none(tiny_file: Path, tmp_path: Path, quick: Effort) -> None:
    """A plain build writes no STEP file; and it replaces a kit that has some."""
    for step in (True, False):
        kit = build(tiny_file, tmp_path / "kit", progress=Silent(), effort=quick, step=step, cache=tmp_path / "cache")
        assert bool(kit.steps) is step
        assert (tmp_path / "kit" / "step").exists() is step


def test_who_makes_them_does_not_show(parts: tuple[MadePart, ...], tmp_path: Path) -> None:
    """Here or in two processes: the same names and bytes, in the order of the parts, equal sizes told apart."""
    made = []
    for processes in (1, 2):
        (tmp_path / str(processes)).mkdir()
        made.append(write_steps(tmp_path / str(processes), parts, processes=processes, progress=Silent()))
    assert made[0] == made[1]
    assert [one.part for one in made[0].steps] == [part.id for part in parts]
    assert len(set(step_names(parts).values())) == len(parts)


def test_a_part_that_the_exact_kernel_cannot_make_is_left_out(
    parts: tuple[MadePart, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The others are written; the finding names the part and the reason."""
    real = write_step

    def sometimes(path: Path, recipe: object, name: str) -> str:
        if recipe is parts[1].part.recipe:
            raise SolidError("the two kernels disagree")
        return real(path, recipe, name)  # type: ignore[arg-type]

    monkeypatch.setattr("nookwright.exchange.step_files.write_step", sometimes)
    made = write_steps(tmp_path, parts, processes=1, progress=Silent())
    assert [one.part for one in made.steps] == ["d", "c", "a"]
    (found,) = made.findings
    assert (found.code, found.severity, found.subject) == ("step-left-out", Severity.WARN, "b")
    assert "the two kernels disagree" in found.text
    assert len(list((tmp_path / "step").iterdir())) == len(made.steps)


def test_without_the_extra_nothing_begins(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It is refused before the room file is opened: there is none here."""
    for name in [name for name in sys.modules if name == "OCP" or name.startswith("OCP.")]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setitem(sys.modules, "OCP", None)
    with pytest.raises(MissingExtraError, match=r"nookwright\[step\]"):
        require_step()
    with pytest.raises(MissingExtraError):
        build(tmp_path / "no.toml", tmp_path / "kit", progress=Silent(), step=True)
    assert list(tmp_path.iterdir()) == []
