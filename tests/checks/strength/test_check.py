"""Strength in the round: through ``prove``, on a kit that is sound, and with one thing wrong."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from manifold3d import Manifold, Mesh64
from tests.checks.strength.conftest import vessel

from nookwright.checks.strength.check import check_strength
from nookwright.checks.strength.worst import SURELY, Case, worst_of
from nookwright.checks.verdicts import Verdicts
from nookwright.ground.findings import Severity
from nookwright.parts.lids import deck_lid, lid, sliding_lid
from nookwright.parts.rests import rest_examples
from nookwright.parts.risers import drawer_riser, hollow_riser, riser
from nookwright.parts.trays import divider
from nookwright.solids.mesh import MeshKernel
from nookwright.survey.models import SpaceKind

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path
    from types import ModuleType

    from tests.checks.conftest import Trial
    from tests.checks.strength.conftest import Bench

    from nookwright.module.module import Module

OURS = {
    "material-softens", "liner-grows", "spring-slack", "wall-leant-on", "wall-pushed", "wall-slammed", "divider-weak",
    "floor-weak", "floor-lifted", "roof-weak", "roof-pressed", "roof-sags", "stack-presses", "stack-buckles",
    "rest-weak", "snap-strained", "joint-weak", "rack-thin", "rack-on-site",
}  # fmt: skip


def test_a_sound_kit_has_nothing_weak(trial: Trial, tmp_path: Path) -> None:
    """The tiny kit, read back from its files, the second time from its verdicts."""
    for _ in range(2):
        assert not OURS & {one.code for one in trial.proved(cache=tmp_path / "cache")}


def test_proving_asks_for_warmth(trial: Trial) -> None:
    """PLA in a space that gets warm is a stop on the way that a kit is proven."""
    warm = trial.with_room(space=tuple(one.model_copy(update={"warm": True}) for one in trial.room.space))
    found = {one.code: one.severity for one in warm.proved()}
    assert found["material-softens"] is Severity.STOP


def test_each_mesh_is_looked_at_once(bench: Bench) -> None:
    """However many checks ask about it, and in however many places it stands."""
    asked: list[str] = []

    class Counting(Verdicts):
        def of(self, question: str, reach: Callable[[], tuple[float, ...]]) -> tuple[float, ...]:
            asked.append(question)
            return reach()

    ready = bench.part("tray", "tray", vessel(40, 30, 30)).stands("tray").stands("tray", 45, named="other")
    ready = ready.holds("tray", 100, (12, 12, 12)).holds("other", 50, (12, 12, 12))
    check_strength(ready.kit, ready.room, ready.shapes, Counting(None))
    assert len(asked) == len(set(asked)) == 1


def test_an_empty_kit_is_strong(bench: Bench) -> None:
    """Nothing is loaded."""
    assert check_strength(bench.kit, bench.room, {}, Verdicts(None)) == ()


FAMILY = (sliding_lid, deck_lid, lid, riser, hollow_riser, drawer_riser, divider, rest_examples)


@pytest.mark.parametrize("family", FAMILY, ids=lambda one: str(one.__name__).rpartition(".")[2])
def test_our_own_parts_are_strong(bench: Bench, module: Module, family: ModuleType) -> None:
    """Small and middle examples of the family, on a shelf, 100 g in what holds things: no stop and no warning."""
    kernel = MeshKernel()
    for example in family.examples(module):
        if example.size == "largest":
            continue
        mesh = kernel.mesh(example.part.recipe)
        solid = Manifold(Mesh64(np.array(mesh.vertices, np.float64), np.array(mesh.triangles, np.uint64)))
        keys = {"parameters": dict(example.part.parameters), "called": example.part.name}
        ready = bench.part("part", example.part.kind.value, solid, **keys).stands("part").in_space(kind=SpaceKind.SHELF)
        if example.part.kind in ("tray", "rest"):
            ready = ready.holds("part", 100, (12, 12, 12))
        found = check_strength(ready.kit, ready.room, ready.shapes, Verdicts(None))
        assert [one for one in found if one.severity is not Severity.NOTE] == []


@pytest.mark.parametrize(
    ("shares", "bound", "severity"),
    [
        ([0.4, 1.0005], False, None),
        ([0.4, 1.01], False, Severity.WARN),
        ([1.4], True, Severity.NOTE),
        ([1.2, SURELY + 0.01], True, Severity.WARN),
    ],
)
def test_the_worst_speaks_for_all(shares: list[float], bound: bool, severity: Severity | None) -> None:  # noqa: FBT001
    """At most one finding, none for what a file rounds off; a note where every figure may be more than the real one."""
    cases = [Case(f"part-{n}", "", "floor", 10 * share, 10.0, bound=bound) for n, share in enumerate(shares)]
    found = list(worst_of("weak", Severity.WARN, cases, "Its {what} bears {stress:.1f} of {limit:.1f}.", "Do less."))
    assert [one.severity for one in found] == ([severity] if severity else [])
    if found:
        assert found[0].subject == f"part-{len(shares) - 1}"
        assert f"Its floor bears {10 * max(shares):.1f} of 10.0." in found[0].text
        assert found[0].against is not None
        assert found[0].against.computed == pytest.approx(10 * max(shares), abs=0.01)
