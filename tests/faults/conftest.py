"""The sound kit that faults are sown into, built once."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from nookwright.build import build
from nookwright.checks import bed_files
from nookwright.exchange.threemf import parse_3mf
from nookwright.ground.progress import Silent
from nookwright.survey.load import load_room

from .harness import Sample

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.exchange.threemf import ThreeMF
    from nookwright.layout.place import Effort

ROOM = Path(__file__).parent / "room.toml"


@pytest.fixture(scope="session")
def sound(tmp_path_factory: pytest.TempPathFactory, quick: Effort) -> Sample:
    """A kit with liners, trays, cradles, lids, a stack, a rest, a dispenser, a shoe, a rack and more, all sound."""
    scratch = tmp_path_factory.mktemp("faults")
    kit = build(ROOM, scratch / "sound", progress=Silent(), effort=quick, cache=scratch / "cache")
    return Sample(scratch / "sound", kit, load_room(ROOM), scratch, scratch / "cache")


@pytest.fixture(scope="session", autouse=True)
def _bedfuls_parsed_once() -> Iterator[None]:
    """A 3MF that is linked into many kits is parsed once: nearly half of the time of proving them again."""
    known: dict[tuple[int, ...], tuple[ThreeMF, str]] = {}

    def parse(path: Path) -> tuple[ThreeMF, str]:
        found = path.stat()
        key = found.st_dev, found.st_ino, found.st_size, found.st_mtime_ns
        if key not in known:
            known[key] = parse_3mf(path)
        return known[key]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(bed_files, "parse_3mf", parse)
        yield
