from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.checks import verdicts as module
from nookwright.checks.verdicts import Verdicts

if TYPE_CHECKING:
    from pathlib import Path


class Asked:
    """Counts how often a verdict is reached."""

    def __init__(self, verdict: tuple[float, ...]) -> None:
        self.verdict, self.times = verdict, 0

    def __call__(self) -> tuple[float, ...]:
        """Reach it."""
        self.times += 1
        return self.verdict


def test_a_verdict_is_reached_once(tmp_path: Path) -> None:
    """The second question, in another run too, is answered from the folder with the same numbers."""
    asked = Asked((0.1, 2.0, 1e-17))
    for _ in range(3):
        assert Verdicts(tmp_path / "new").of("is it", asked) == (0.1, 2.0, 1e-17)
    assert asked.times == 1
    assert Verdicts(tmp_path / "new").of("is it else", Asked((5.0,))) == (5.0,)


def test_without_a_folder_nothing_is_remembered() -> None:
    """Each question is answered anew."""
    asked = Asked((1.0,))
    for _ in range(2):
        assert Verdicts(None).of("is it", asked) == (1.0,)
    assert asked.times == 2


@pytest.mark.parametrize(
    "damage", [b"", b"{", b"[]", b"\xff", b'{"question": "other", "verdict": [7]}', b'{"question": "is it"}']
)
def test_a_damaged_verdict_is_reached_anew(tmp_path: Path, damage: bytes) -> None:
    """A file that is not whole, or is about something else, is not believed, and is put right."""
    asked = Asked((1.0,))
    Verdicts(tmp_path).of("is it", asked)
    (file,) = tmp_path.iterdir()
    file.write_bytes(damage)
    assert [Verdicts(tmp_path).of("is it", asked) for _ in range(2)] == [(1.0,), (1.0,)]
    assert asked.times == 2


def test_a_folder_that_cannot_be_made_costs_only_time(tmp_path: Path) -> None:
    """A file in the way: the verdict is reached all the same."""
    (tmp_path / "file").write_text("mine")
    assert Verdicts(tmp_path / "file" / "cache").of("is it", Asked((1.0,))) == (1.0,)


def test_another_checker_does_not_believe_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """When a check changes, verdicts from before are left alone."""
    Verdicts(tmp_path).of("is it", Asked((1.0,)))
    monkeypatch.setattr(module, "CHECKER", "later")
    assert Verdicts(tmp_path).of("is it", Asked((2.0,))) == (2.0,)
