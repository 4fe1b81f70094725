"""Records of how sizes and pockets came about, and the documents that show them."""

from __future__ import annotations

import csv
import io
import statistics
from typing import TYPE_CHECKING, Any

import pytest
from scipy import optimize, stats

from nookwright.documents.page import page_html
from nookwright.documents.sizes import HEAD, pocket_rows, sizes_csv
from nookwright.exchange.lot_records import sizes_of
from nookwright.ground.findings import Severity
from nookwright.layout.wide_pockets import about_pockets
from nookwright.sizing.lot_sizes import Terms, drawn, pocket_of
from nookwright.survey.models import Lot
from nookwright.survey.readings import Published, Readings

if TYPE_CHECKING:
    from nookwright.build import Designed
    from nookwright.exchange.kit import Kit, KitSize

TERMS = Terms()


def jars(**keys: Any) -> Lot:  # noqa: ANN401 - any key of a lot
    """Six jars of glass, three of them measured."""
    usual = {"id": "jars", "count": 6, "shape": "round", "diameter": [50.1, 50.4, 49.9], "height": 60}
    return Lot.model_validate(usual | {"made": "moulded glass", "grow_percent": 0} | keys)


def records(lot: Lot) -> dict[str, KitSize]:
    """The records of a lot in its pockets, by dimension."""
    size = drawn(pocket_of(lot, TERMS, pockets=lot.count))
    return {one.dimension: one for one in sizes_of(lot, size, TERMS)}


def test_the_parts_of_a_pocket_add_up_to_it() -> None:
    """A person can follow the sum to the hundredth that is drawn."""
    pocket = records(jars())["diameter"].pocket
    assert pocket is not None
    total = pocket.measured + pocket.limit + pocket.printer + pocket.clearance + pocket.found
    assert total == pytest.approx(pocket.size, abs=0.0055)
    assert (pocket.measured, pocket.fit, pocket.calibrated) == (50.4, "easy", False)


def test_only_the_diameter_has_a_pocket_and_only_in_a_cradle() -> None:
    """A height is recorded with its limit alone, and so is everything in a tray."""
    assert records(jars())["height"].pocket is None
    assert all(one.pocket is None for one in sizes_of(jars(), 0.0, TERMS))


def test_a_record_says_what_its_limit_is_known_from() -> None:
    """The process with its tolerance and source, that all were measured, or the standard."""
    assert records(jars())["diameter"].source == "ISO 9058, from memory"
    every = records(jars(measured="all", count=3))["diameter"]
    assert (every.source, every.tolerance) == ("every one was measured", 0.0)
    published = jars(standard="R6").model_copy(update={"diameter": Published(floor=(14.5,))})
    found = records(published)["diameter"]
    assert (found.source, found.published, found.limit, found.confidence) == ("R6", True, 14.5, 1.0)


def test_the_samples_alone_are_shown_for_comparison() -> None:
    """Mean and k1 deviations, k1 by an independent inversion of the noncentral t; none from a single sample."""
    found = records(jars())["diameter"]
    share = found.confidence ** (1 / 6)
    factor = optimize.brentq(
        lambda k: stats.nct.cdf(k * 3**0.5, 2, stats.norm.ppf(share) * 3**0.5) - found.confidence, 1, 100
    )
    mean, deviation = statistics.mean([50.1, 50.4, 49.9]), statistics.stdev([50.1, 50.4, 49.9])
    assert found.samples_alone == pytest.approx(mean + factor * deviation, abs=1e-3)
    assert records(jars(diameter=50.1))["diameter"].samples_alone == 0.0


def with_sizes(kit: Kit, lot: Lot) -> Kit:
    """A kit whose first lot has the sizes of another."""
    first = kit.lots[0].model_copy(update={"sizes": tuple(records(lot).values()), "count": lot.count})
    return kit.model_copy(update={"lots": (first, *(one.model_copy(update={"sizes": ()}) for one in kit.lots[1:]))})


@pytest.fixture(scope="module")
def kit(tiny: Designed) -> Kit:
    """A kit with one lot in pockets."""
    from nookwright.build import sketch

    return with_sizes(sketch(tiny, "0" * 64), jars())


def test_the_table_has_a_row_for_each_dimension(kit: Kit) -> None:
    """Read back with the module of the standard library: the sum of the pocket, and nothing where there is none."""
    rows = list(csv.DictReader(io.StringIO(sizes_csv(kit), newline="")))
    assert tuple(rows[0]) == HEAD
    across, height = rows
    assert (across["dimension"], across["things"], across["readings"], across["measured_mm"]) == (
        "diameter",
        "6",
        "3",
        "50.4",
    )
    parts = [float(across[f"pocket_{part}_mm"]) for part in ("measured", "limit", "printer", "clearance", "found")]
    assert sum(parts) == pytest.approx(float(across["pocket_mm"]), abs=0.0055)
    assert height["pocket_mm"] == ""


def test_the_page_shows_the_sum_of_every_pocket(kit: Kit) -> None:
    """Measured, limit, printer, clearance and pocket stand in a row, with how many were measured."""
    (row,) = pocket_rows(kit)
    assert row.samples == "3 of 6"
    assert row.known.startswith("moulded glass: ±1.10")
    page = page_html(kit)
    assert "How each pocket got its size" in page
    assert f"{row.pocket.size:.2f}</td>" in page


def test_a_kit_without_pockets_has_no_table_of_them(kit: Kit) -> None:
    """Nothing is said of pockets where there are none."""
    bare = kit.model_copy(update={"lots": tuple(lot.model_copy(update={"sizes": ()}) for lot in kit.lots)})
    assert "How each pocket" not in page_html(bare)


def test_every_size_of_a_kit_is_recorded(tiny: Designed) -> None:
    """Each lot has its dimensions, and the thing in the plan is no larger than their limits say."""
    from nookwright.build import sketch

    made = sketch(tiny, "0" * 64)
    for lot in made.lots:
        assert lot.sizes, lot.id
        limits = sorted(size.limit for size in lot.sizes)
        for place in lot.places:
            assert max(place.size) <= limits[-1] + 1e-3


def test_pockets_with_little_play_get_no_note(tiny: Designed) -> None:
    """The tiny room's pockets are close, and nothing is said of them."""
    assert about_pockets(tiny.room, tiny.plan.layout, tiny.plan.terms) == ()


def test_pockets_with_much_play_say_what_would_be_better(tiny: Designed) -> None:
    """One large pot by hand of many: the note compares more readings, two sizes and ribs in mm and grams."""
    kept = {placed.candidate.lot: placed.candidate.way for placed in tiny.plan.layout.placed if placed.candidate}
    pocketed = [name for name, way in kept.items() if way.pocket]
    assert pocketed
    wide = {"diameter": Readings(floor=(120.0,)), "made": "ceramics", "count": 12}
    lots = tuple(lot.model_copy(update=wide) if lot.id == pocketed[0] else lot for lot in tiny.room.lot)
    (note,) = about_pockets(tiny.room.model_copy(update={"lot": lots}), tiny.plan.layout, tiny.plan.terms)
    assert (note.code, note.severity, note.subject) == ("pockets-wide", Severity.NOTE, pocketed[0])
    assert all(words in note.text for words in ("mm of play", "measuring ", "two sizes", "ribs", " g"))
    assert note.remedy.startswith("Measure ")
