"""The whole way in a wet drawer with a pipe: built, and proven from the files that were written."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.build import build
from nookwright.ground.findings import Severity
from nookwright.ground.progress import Silent

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from nookwright.exchange.kit import Kit
    from nookwright.layout.place import Effort


@pytest.fixture(scope="module")
def cache(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Meshes and proofs that the builds share."""
    return tmp_path_factory.mktemp("cache")


@pytest.fixture
def built(tiny_file: Path, tmp_path: Path, quick: Effort, cache: Path) -> Callable[..., Kit]:
    """Builds the tiny room with some lines of it changed."""

    def make(**changes: str) -> Kit:
        text = tiny_file.read_text(encoding="utf-8")
        for old, new in changes.items():
            line = f"{old} = "
            assert line in text
            start = text.index(line)
            text = f"{text[:start]}{new}{text[text.index(chr(10), start) :]}"
        room = tmp_path / "room.toml"
        room.write_text(text, encoding="utf-8")
        return build(room, tmp_path / "kit", progress=Silent(), effort=quick, cache=cache)

    return make


def codes(kit: Kit, severity: Severity) -> dict[str, str]:
    """Codes of a severity, with their texts."""
    return {one.code: one.text for one in kit.findings if one.severity is severity}


def test_trays_in_a_wet_drawer_are_drained(built: Callable[..., Kit]) -> None:
    """Water gets out of each and off the liner; of a cradle, which has no drains, it is said."""
    kit = built(load_kg="load_kg = 6\nwet = true")
    assert codes(kit, Severity.STOP) == {}
    trays = [part for part in kit.parts if part.kind == "tray"]
    assert trays
    assert all(len(str(part.parameters["drains"])) > 2 for part in trays)
    assert all("drained" in part.name for part in trays)
    warned = codes(kit, Severity.WARN)
    assert "liner-undrained" not in warned
    assert "corks has no hole" in warned["floor-undrained"]
    assert "more" not in warned["floor-undrained"]


def test_drains_may_be_refused_and_wished_for(built: Callable[..., Kit]) -> None:
    """Refused where it is wet they are missed; wished for where it is dry they are there."""
    drained = 'game = "red"\n[choices.tray]\ndrained = {}'
    wet = built(game=drained.format("false"), load_kg="load_kg = 6\nwet = true")
    assert not [part for part in wet.parts if "drains" in part.parameters]
    assert "1 more have no hole" in codes(wet, Severity.WARN)["floor-undrained"]
    dry = built(game=drained.format("true"))
    assert {part.kind for part in dry.parts if "drains" in part.parameters} == {"tray"}
    assert "floor-undrained" not in codes(dry, Severity.WARN)


def test_a_pipe_that_stays_keeps_all_behind_it_free(built: Callable[..., Kit]) -> None:
    """The lock in the back as a pipe in the front: nothing stands behind it, nor is anything found in its way."""
    lock = "y = 0\nservice = true\nstays = true"
    kit = built(y=lock)
    (box,) = kit.spaces[0].blocked
    assert box.high[1] >= kit.spaces[0].usable[0].depth
    assert not {"service-filled", "service-passed", "service-forgotten"} & {one.code for one in kit.findings}
    assert "service-path" in codes(kit, Severity.NOTE)
