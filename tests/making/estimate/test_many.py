from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from tests.making.estimate.solids import block, cones, peg, printer, settings

from nookwright.ground.progress import Silent
from nookwright.making.estimate import many
from nookwright.making.estimate.many import estimate_all
from nookwright.making.estimate.memory import EstimateStore
from nookwright.making.estimate.piece import estimate
from nookwright.making.estimate.settings import settings_of

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.making.estimate.many import Estimates

MESHES = {"a": block(), "b": cones(5), "c": peg()}


def of(folder: Path | None = None, processes: int = 1) -> Estimates:
    """All three on two printers, of which one is quicker."""
    quick = printer(outer_mm_s=100).model_copy(update={"id": "quick"})
    twin = printer().model_copy(update={"id": "twin"})
    return estimate_all(
        MESHES, MESHES, [printer(), quick, twin], wall=1.2, folder=folder, processes=processes, progress=Silent()
    )


def test_each_printer_has_its_own_estimates_and_twins_share_them() -> None:
    """By settings, not by name."""
    found = of()
    assert len(found.pieces) == 6
    assert found.of("a", "bench") is found.of("a", "twin")
    assert found.of("a", "quick").time_s < found.of("a", "bench").time_s
    assert found.of("b", "bench") == estimate(MESHES["b"], settings_of(printer(), 1.2))


def test_what_is_remembered_is_what_was_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """To the last bit, and nothing is estimated a second time."""
    first = of(tmp_path)
    monkeypatch.setattr(many, "estimate", lambda *_: pytest.fail("estimated again"))
    assert of(tmp_path) == first


def test_a_spoilt_memory_is_only_slower(tmp_path: Path) -> None:
    """Files that are cut short, empty or of another kind are passed over and written anew."""
    first = of(tmp_path)
    files = sorted(tmp_path.rglob("*.json"))
    assert len(files) == 6
    for content, file in zip(("", "{", "[]", '{"laid_mm3": {}}', "null"), files[:5], strict=True):
        file.write_text(content, encoding="utf-8")
    assert of(tmp_path) == first
    assert of(tmp_path) == first


def test_a_memory_that_cannot_be_written_is_no_fault(tmp_path: Path) -> None:
    """A file stands where its folder would be."""
    (tmp_path / "estimates").write_text("in the way", encoding="utf-8")
    store = EstimateStore(tmp_path)
    store.keep("a", settings().key, estimate(MESHES["a"], settings()))
    assert store.load("a", settings().key) is None


def test_who_estimates_does_not_show(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two processes find what this one finds."""
    here = of()
    monkeypatch.setattr(many, "WORTH_A_POOL_S", 0.0)
    assert of(processes=2) == here
