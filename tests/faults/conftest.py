"""The sound kit that faults are sown into, built once a run, and what of proving it again need not be done again."""

from __future__ import annotations

import time
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from nookwright.build import build
from nookwright.exchange.kit_file import read_kit
from nookwright.ground.progress import Silent
from nookwright.survey.load import load_room

from .harness import Sample
from .seen import Seen

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from nookwright.layout.place import Effort

ROOM = Path(__file__).parent / "room.toml"
KIT_FILE = "kit.json"
PATIENCE_S = 900  # that one worker waits for the kit of another
LOOK_AGAIN_S = 0.5


@pytest.fixture(scope="session")
def sound(tmp_path_factory: pytest.TempPathFactory, quick: Effort, request: pytest.FixtureRequest) -> Sample:
    """A kit with liners, trays, cradles, lids, a stack, a rest, a dispenser, a shoe, a rack and more, all sound."""
    base = tmp_path_factory.getbasetemp()
    shared = base.parent if hasattr(request.config, "workerinput") else base  # by all workers of a run
    folder, cache = shared / "faults-sound" / "kit", shared / "faults-cache"
    _once(folder, lambda: build(ROOM, folder, progress=Silent(), effort=quick, cache=cache))
    return Sample(folder, read_kit(folder / KIT_FILE), load_room(ROOM), tmp_path_factory.mktemp("faults"), cache)


def _once(folder: Path, make: Callable[[], object]) -> None:
    """Let the first worker that comes make a folder, and the others wait for it; what fails there fails here too."""
    failed = folder.parent / "failed"
    try:
        folder.parent.mkdir()
    except FileExistsError:
        for _ in range(int(PATIENCE_S / LOOK_AGAIN_S)):
            if (folder / KIT_FILE).exists():
                return
            if failed.exists():
                break
            time.sleep(LOOK_AGAIN_S)
        pytest.fail("the worker that builds the sound kit did not get it built")
    try:
        make()
    except BaseException:
        failed.touch()
        raise


@pytest.fixture(scope="session")
def seen() -> Seen:
    """What was read in the tests of this folder so far."""
    return Seen()


@pytest.fixture(autouse=True)
def _looked_at_once(seen: Seen) -> Iterator[None]:
    """What does not change from kit to kit is read once: nearly half of the time of proving them again."""
    with seen.believed():
        yield
