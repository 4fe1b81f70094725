"""What keeps the time of proving in proportion to the parts: nothing is looked at twice, and only what is near."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from nookwright.checks.shared import Overlaps
from nookwright.checks.verdicts import Verdicts

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.checks.bodies import Body
    from nookwright.exchange.kit import Kit

    from .harness import Sample


def twice(sample: Sample) -> Sample:
    """A household with every space, and all in it, a second time; printed parts stay as many as they are."""
    kit, room = sample.kit, sample.room
    spaces = tuple(one.model_copy(update={"id": f"{one.id}-2"}) for one in kit.spaces)
    surveyed = tuple(one.model_copy(update={"id": f"{one.id}-2"}) for one in room.space)
    lots = tuple(one.model_copy(update={"id": f"{one.id}-2", "near": (), "shares": None}) for one in room.lot)
    more = room.model_copy(update={"space": (*room.space, *surveyed), "lot": (*room.lot, *lots)})
    return replace(sample, room=more, kit=_doubled(kit).model_copy(update={"spaces": (*kit.spaces, *spaces)}))


def _doubled(kit: Kit) -> Kit:
    """Placements and lots a second time, each in the second space."""
    placements = tuple(
        one.model_copy(
            update={
                "id": f"{one.id}-2",
                "space": f"{one.space}-2",
                "stands_on": tuple(f"{name}-2" for name in one.stands_on),
            }
        )
        for one in kit.placements
    )
    lots = tuple(
        lot.model_copy(
            update={
                "id": f"{lot.id}-2",
                "places": tuple(
                    place.model_copy(
                        update={
                            "placement": f"{place.placement}-2",
                            "held_by": tuple(f"{name}-2" for name in place.held_by),
                        }
                    )
                    for place in lot.places
                ),
            }
        )
        for lot in kit.lots
    )
    return kit.model_copy(update={"placements": (*kit.placements, *placements), "lots": (*kit.lots, *lots)})


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> Counter[str]:
    """Counts every question that is put to the memory of verdicts."""
    questions: Counter[str] = Counter()
    before = Verdicts.of

    def of(self: Verdicts, question: str, reach: Callable[[], tuple[float, ...]]) -> tuple[float, ...]:
        questions[question] += 1
        return before(self, question, reach)

    monkeypatch.setattr(Verdicts, "of", of)
    return questions


def of_kind(questions: Counter[str], *kinds: str) -> Counter[str]:
    """Those that begin with some words."""
    return Counter({question: count for question, count in questions.items() if question.startswith(kinds)})


def test_each_mesh_and_each_seat_is_asked_about_once(sound: Sample, asked: Counter[str]) -> None:
    """Soundness and crossings once a distinct mesh, prints once a mesh and setting, seats once a set of sockets."""
    assert replace(sound, cache=sound.cache).findings
    meshes = {part.stl_sha256 for part in sound.kit.parts} | {piece.stl_sha256 for piece in sound.kit.pieces}
    meshes |= {piece.sha256 for trial in sound.kit.first.trials for piece in trial.pieces}
    assert {question.split()[1] for question in of_kind(asked, "sound ")} == meshes
    for kind in ("sound ", "crossing ", "how ", "shared ", "going on "):
        counts = of_kind(asked, kind)
        assert counts
        assert set(counts.values()) == {1}, kind


def test_a_second_household_of_equals_asks_nothing_new(sound: Sample, asked: Counter[str]) -> None:
    """With every space twice, not one question about a mesh, a pair or a seat is added."""
    assert replace(sound).findings
    kinds = ("sound ", "crossing ", "how ", "shared ", "going on ")
    once = of_kind(asked, *kinds)
    asked.clear()
    assert twice(sound).findings
    assert of_kind(asked, *kinds) == once


def test_pairs_grow_as_spaces_do(sound: Sample, monkeypatch: pytest.MonkeyPatch) -> None:
    """With every space twice, twice as many pairs in spaces are looked at, not four times; those on beds stay."""
    pairs: list[tuple[str, str]] = []
    before = Overlaps.shared_mm3

    def shared(self: Overlaps, some: Body, other: Body) -> float:
        pairs.append((some.owner, other.owner))
        return before(self, some, other)

    monkeypatch.setattr(Overlaps, "shared_mm3", shared)
    pieces = {piece.id for piece in sound.kit.pieces}
    counts = []
    for sample in (replace(sound), twice(sound)):
        pairs.clear()
        assert sample.findings
        counts.append(sum(not pieces & set(pair) for pair in pairs))
    assert 0 < counts[1] <= 2 * counts[0]
