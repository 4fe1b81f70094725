"""bill.csv, read back with the module of the standard library."""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING

import pytest

from nookwright.documents.bill import HEAD, bill_csv, price_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.exchange.kit import Kit


def rows(kit: Kit) -> list[dict[str, str]]:
    """The rows of the bill."""
    return list(csv.DictReader(io.StringIO(bill_csv(kit), newline="")))


def test_one_row_a_piece(kit: Kit) -> None:
    """Each piece has one row, with its file and how many of it there are."""
    read = rows(kit)
    assert [row["piece"] for row in read] == [piece.id for piece in kit.pieces]
    for row, piece in zip(read, kit.pieces, strict=True):
        assert (row["file"], int(row["count"]), row["material"]) == (piece.file, piece.count, piece.material)


def test_head_is_the_promised_one(kit: Kit) -> None:
    """The names of the columns carry their units."""
    assert tuple(rows(kit)[0]) == HEAD
    assert {"mass_g_each", "time_min_each", "width_mm"} <= set(HEAD)


def test_sums_are_the_kit_s(kit: Kit) -> None:
    """Copies, grams, minutes and price add up to the totals, within the rounding of their cells."""
    read = rows(kit)
    half = len(read) / 2
    assert sum(int(row["count"]) for row in read) == kit.totals.pieces
    assert sum(float(row["mass_g_all"]) for row in read) == pytest.approx(kit.totals.mass_g, abs=0.01 * half)
    assert sum(float(row["time_min_all"]) for row in read) == pytest.approx(kit.totals.time_s / 60, abs=0.1 * half)
    assert sum(float(row["price_all"]) for row in read) == pytest.approx(kit.totals.price, abs=0.01 * half)


def test_bedfuls_hold_every_copy(kit: Kit) -> None:
    """The counts beside the bedfuls of a row add up to its copies."""
    for row in rows(kit):
        counts = [int(bed.rsplit("(", 1)[1].rstrip(")")) for bed in row["bedfuls"].split("; ")]
        assert sum(counts) == int(row["count"])


def test_a_name_is_never_a_formula(make_kit: Callable[..., Kit]) -> None:
    """OWASP, CSV injection: a label that begins like a formula is led in by an apostrophe."""
    labels = ["=1+1", "+1", "-1", "@now", "\tx", "plain"]
    kit = make_kit(400, 200, [(3 * n, 0, 3, n + 1, label) for n, label in enumerate(labels)])
    what = [row["what"] for row in rows(kit)]
    assert not [cell for cell in what if cell[:1] in set("=+-@\t\r\n")]
    assert "'=1+1" in what
    assert "plain" in what


def test_price_of_an_unused_material_is_nothing(kit: Kit) -> None:
    """A material of which the kit needs nothing costs nothing, an unknown one too."""
    assert price_of(kit, "no such", 10.0) == 0
    assert price_of(kit, "moss", 10.0) == pytest.approx(0.2)
    unused = kit.materials[0].model_copy(update={"mass_g": 0.0, "price": 0.0})
    assert price_of(kit.model_copy(update={"materials": (unused,)}), unused.id, 10.0) == 0
