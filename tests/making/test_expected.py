"""What bedfuls are expected to take."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.build import estimate_pieces, make_solid
from nookwright.ground.progress import Silent
from nookwright.making.expected import Batch, expected
from nookwright.making.jobs import make
from nookwright.making.records import Outcome, PrintRecord
from nookwright.making.schedule.model import Stage

if TYPE_CHECKING:
    from nookwright.build import Designed


@pytest.fixture(scope="module")
def batches(tiny: Designed) -> tuple[Batch, ...]:
    """The trials of the tiny room, and the room itself, estimated from their solids."""
    meshes = make_solid(tiny, cache=None, processes=1, progress=Silent())
    estimates = estimate_pieces(tiny, meshes, cache=None, processes=1, progress=Silent())
    made = [
        make(tiny.room, copies, cut, lambda piece: meshes[piece.recipe.digest].volume_mm3, estimates=estimates)
        for copies, cut in ((tiny.trials.copies, tiny.trials.cut), (tiny.all_copies, tiny.cut))
    ]
    return Batch(made[0], tiny.trials.copies, Stage.TRIAL), Batch(made[1], tiny.all_copies, Stage.KIT)


def slow(batch: Batch, times: float, number: int = 8) -> list[PrintRecord]:
    """Prints of the first bedful that took so many times its estimate."""
    load = batch.making.loads[0]
    return [
        PrintRecord(
            id=f"{n}",
            when=f"2031-05-{n + 1:02d}",
            printer=load.printer,
            material=load.material,
            bedful=batch.ids[0],
            time_s=batch.making.estimates[0].time_s * times,
        )
        for n in range(number)
    ]


def test_trials_come_first_and_every_bedful_has_its_interval(tiny: Designed, batches: tuple[Batch, ...]) -> None:
    """Ids count from one in each batch; without any print the likely time is the estimate's."""
    found = expected(tiny.room, batches)
    assert [one.id for one in found.bedfuls] == [*batches[0].ids, *batches[1].ids]
    assert {one.id[:6] for one in found.bedfuls if one.stage is Stage.TRIAL} == {"trial-"}
    for one, estimate in zip(found.bedfuls, (*batches[0].making.estimates, *batches[1].making.estimates), strict=True):
        way = one.ways[0]
        assert way.low_s < way.likely_s < way.high_s
        assert way.likely_s == pytest.approx(estimate.time_s)
        assert one.mass_g < one.high_g
    assert found.spoilage == pytest.approx(0.05)


def test_a_slow_printer_is_believed_to_stay_slow(tiny: Designed, batches: tuple[Batch, ...]) -> None:
    """Eight prints that took half as long again: the next is expected to, and its interval is narrower."""
    before, after = (expected(tiny.room, batches, records) for records in ((), slow(batches[1], 1.5)))
    one, other = (found.bedfuls[len(batches[0].ids)].ways[0] for found in (before, after))
    assert other.likely_s == pytest.approx(1.5 * one.likely_s, rel=0.05)
    assert other.high_s / other.low_s < one.high_s / one.low_s
    assert not after.strange


def test_failures_raise_the_share_that_is_expected_to_fail(tiny: Designed, batches: tuple[Batch, ...]) -> None:
    """Five failed prints of one printer and material; a print that no bedful is known for is named."""
    load = batches[1].making.loads[0]
    failed = [
        PrintRecord(
            id=f"{n}",
            when="2031-05-01",
            printer=load.printer,
            material=load.material,
            bedful="?",
            outcome=Outcome.FAILED,
        )
        for n in range(5)
    ]
    lost = PrintRecord(
        id="x", when="2031-05-01", printer=load.printer, material=load.material, bedful="other", time_s=9.0
    )
    found = expected(tiny.room, batches, [*failed, lost])
    assert found.spoilage > 0.1
    assert [one.id for one in found.strange] == ["x"]
