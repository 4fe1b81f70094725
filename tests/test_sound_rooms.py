"""Rooms that are sound by construction are built, written and proven without one stop."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from benchmarks.proving.extras import EXTRAS
from benchmarks.proving.rooms import MOST_PARTS, chosen
from benchmarks.proving.sound_rooms import EFFORT, built, parts_of
from benchmarks.proving.toml_text import toml_text

from nookwright.build import build
from nookwright.ground.findings import Severity
from nookwright.ground.progress import Silent

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.exchange.kit import Kit

SEEDS = (14, 21, 69, 80, 5004, 5032, 5102, 5110, 5118, 5136)  # each of the twenty sorts of extras in one of them
DRAWER = {"id": "drawer", "kind": "drawer", "width": 120, "depth": 110, "height": 60, "floor_height": 700, "load_kg": 8}
DICE = {"id": "dice", "shape": "box", "width": 16, "depth": 16, "height": 16, "count": 4, "mass_g": 5}
PRINTER = {"id": "printer", "bed_width": 220, "bed_depth": 220, "bed_height": 220, "materials": ["grey"]}
SMALL = PRINTER | {"bed_width": 130, "bed_depth": 125}
RULERS = {"id": "rulers", "shape": "round", "diameter": 8, "height": 185, "stands": ["lying"], "count": 6, "mass_g": 3}
ROOM: dict[str, Any] = {
    "format": 1,
    "room": {"name": "One drawer"},
    "module": {"pitch": 18},
    "space": [DRAWER],
    "lot": [DICE],
    "printer": [PRINTER],
    "material": [{"id": "grey", "colour": "#808080", "density_g_cm3": 1.24}],
}
LEANING = {"width": {"floor": 120.0, "rim": 116.0}, "corner_radius": 11.8}


def stops(kit: Kit) -> list[str]:
    """What keeps a kit from being printed, in words."""
    return [f"{one.code} {one.subject}: {one.text}" for one in kit.findings if one.severity is Severity.STOP]


def test_the_rooms_have_every_sort_of_extra() -> None:
    """Two of the twenty each, none twice."""
    assert sorted(one.__name__ for seed in SEEDS for one in chosen(seed)) == sorted(one.__name__ for one in EXTRAS)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_sound_room_is_not_stopped(seed: int, tmp_path: Path) -> None:
    """Ten of the rooms of the benchmark: small, and nothing of severity stop."""
    kit = built(seed, tmp_path)
    assert parts_of(kit) <= MOST_PARTS
    assert stops(kit) == []


@pytest.mark.parametrize(
    "changes",
    [
        {"choices": {"grip": "hand hole"}},
        {"printer": [PRINTER | {"layer": 0.24}, PRINTER | {"id": "fine", "layer": 0.16}]},
        {"space": [DRAWER | LEANING]},
        {
            "space": [DRAWER | {"width": 220}],
            "lot": [RULERS],
            "printer": [SMALL | {"layer": 0.24}, SMALL | {"id": "fine", "layer": 0.16}],
        },
    ],
    ids=[
        "trays too low for a hand hole",
        "printers with two layers",
        "walls that lean and round corners",
        "cut faces that step out by more than a thin layer",
    ],
)
def test_what_once_failed_is_built_and_proven(changes: dict[str, Any], tmp_path: Path) -> None:
    """Rooms whose like could not be built, or were stopped by a panel's edge or a filler's end."""
    file = tmp_path / "room.toml"
    file.write_text(toml_text(ROOM | changes), encoding="utf-8")
    assert stops(build(file, tmp_path / "kit", progress=Silent(), effort=EFFORT)) == []
