"""The nesting of beds against published bin packing instances, read in place from ``../shared/published/packing``.

Sources: J.O. Berkey, P.Y. Wang, J. Operational Research Society 38 (1987) 423-429 (classes 1 to 6); S. Martello,
D. Vigo, Management Science 44 (1998) 388-399 (classes 7 to 10); best known numbers of bins with and without turning,
and lower bounds by dual feasible functions (S.P. Fekete, J. Schepers, Mathematical Programming 91 (2001) 11-31), as
given with the instances.
Here by counts of tries; ``benchmarks/making/nesting.py`` does it by seconds, all 500, and beside another packer.
"""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from nookwright.making.nesting import Bin, least_bins, nested

FILE = Path(__file__).parents[2].parent / "shared" / "published" / "packing" / "bpp2d_classes.json"

pytestmark = pytest.mark.skipif(not FILE.is_file(), reason=f"published instances are not at {FILE}")


@cache
def instances() -> tuple[dict[str, Any], ...]:
    """All instances; none where the file is absent (then all tests skip)."""
    return tuple(json.loads(FILE.read_text(encoding="utf-8"))["instances"]) if FILE.is_file() else ()


def boxes(instance: dict[str, Any]) -> list[tuple[int, int]]:
    """The boxes of an instance."""
    return [(width, depth) for width, depth in instance["items"]]


def into(instance: dict[str, Any], *, may_turn: bool) -> Bin:
    """The bins of an instance."""
    return Bin(instance["container"]["width"], instance["container"]["height"], may_turn)


def test_bounds_are_as_good_as_those_published_and_never_above_the_best_known() -> None:
    """Without turning, every other instance: at least the bound that is given, at most the best known."""
    for one in instances()[::2]:
        bound = least_bins(boxes(one), into(one, may_turn=False))
        assert one["best_known"]["lower_bound_fixed"] <= bound <= one["best_known"]["bins_fixed"], one["name"]


def test_bounds_with_turning_are_never_above_the_best_known() -> None:
    """Every fifth instance."""
    for one in instances()[::5]:
        assert least_bins(boxes(one), into(one, may_turn=True)) <= one["best_known"]["bins_rotation"] + (
            1 if one.get("uncertain") else 0
        )


def test_without_turning_nearly_all_are_as_good_as_the_best_known() -> None:
    """Instances of up to 60 boxes, every seventh, 4000 tries: at least 19 of 20, no other more than one bin above."""
    some = [one for one in instances() if one["n"] <= 60][::7]
    assert len(some) > 40
    above = {
        one["name"]: nested(boxes(one), into(one, may_turn=False), tries=4000).bins - one["best_known"]["bins_fixed"]
        for one in some
    }
    assert set(above.values()) <= {0, 1}
    assert sum(above.values()) <= len(some) / 20, above


def test_with_turning_nearly_all_are_as_good_as_the_best_known() -> None:
    """The same with turning; those whose best known value is given as uncertain are left out."""
    some = [one for one in instances() if one["n"] <= 40 and not one.get("uncertain")][::7]
    assert len(some) > 25
    above = {
        one["name"]: nested(boxes(one), into(one, may_turn=True), tries=3000).bins - one["best_known"]["bins_rotation"]
        for one in some
    }
    assert set(above.values()) <= {0, 1}
    assert sum(above.values()) <= len(some) / 10, above
