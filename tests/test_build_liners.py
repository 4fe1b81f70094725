"""The whole way with every liner that a room file can ask for: built, and proven from the files that were written."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.build import build
from nookwright.ground.findings import Severity
from nookwright.ground.progress import Silent
from nookwright.survey.models import ConesFor, LinerLevel
from nookwright.terminal import say_forecast

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from nookwright.exchange.kit import Kit, KitSpace, LinerOffer
    from nookwright.layout.place import Effort
    from nookwright.making.forecast import SpaceForecast
    from nookwright.making.savings.model import Saving

    Tell = Callable[[tuple[SpaceForecast, ...], tuple[Saving, ...]], None]

LARGE = {"width = 200": "width = 310", "depth = 150": "depth = 270"}


@pytest.fixture(scope="module")
def cache(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Meshes and proofs that the builds share."""
    return tmp_path_factory.mktemp("cache")


LOCK = """
[[space.blocked]]
reason = "the lock"
x = 80
y = 135
width = 30
depth = 15
"""


def built(
    tiny_file: Path, folder: Path, quick: Effort, cache: Path, *keys: str, tell: Tell = lambda _, __: None
) -> Kit:
    """The tiny room with a larger drawer, without the lock, that has these keys, built."""
    text = tiny_file.read_text(encoding="utf-8")
    assert LOCK in text
    text = text.replace(LOCK, "")
    for old, new in {**LARGE, "load_kg = 6": "\n".join(("load_kg = 6", *keys))}.items():
        assert old in text
        text = text.replace(old, new, 1)
    room = folder / "room.toml"
    room.write_text(text, encoding="utf-8")
    return build(room, folder / "kit", progress=Silent(), effort=quick, cache=cache, tell=tell)


def stops(kit: Kit) -> list[str]:
    """What keeps a kit from being printed, in words."""
    return [f"{found.subject}: {found.text}" for found in kit.findings if found.severity is Severity.STOP]


def chosen(space: KitSpace) -> LinerOffer:
    """The one liner that a space has."""
    (one,) = (offer for offer in space.liners if offer.chosen)
    return one


@pytest.mark.parametrize("level", LinerLevel)
def test_every_level_is_built_without_a_stop(
    tiny_file: Path, tmp_path: Path, quick: Effort, cache: Path, level: LinerLevel
) -> None:
    """All lots placed; the kit says which liner it is, what that keeps, and what the other levels would cost."""
    kit = built(tiny_file, tmp_path, quick, cache, f'liner = "{level}"')
    assert stops(kit) == []
    assert kit.totals.lots_placed == 3
    space = kit.spaces[0]
    assert chosen(space).level == level
    assert {offer.level for offer in space.liners} == set(LinerLevel)
    assert any(part.kind == "panel" for part in kit.parts) is (level is not LinerLevel.NONE)
    said = [found.text for found in kit.findings if found.code == "liner-lean"]
    assert bool(said) is (level is not LinerLevel.FULL)
    assert all(chosen(space).keeps in text for text in said)


@pytest.mark.parametrize("pattern", ConesFor)
def test_every_pattern_is_built_without_a_stop(
    tiny_file: Path, tmp_path: Path, quick: Effort, cache: Path, pattern: ConesFor
) -> None:
    """Each with its own number of cones, as many as the panels in the kit have been offered with."""
    kit = built(tiny_file, tmp_path, quick, cache, f'pattern = "{pattern}"')
    assert stops(kit) == []
    space = kit.spaces[0]
    cells = space.cols * space.rows
    trays = sum(placement.part in {p.id for p in kit.parts if p.kind != "panel"} for placement in kit.placements)
    bounds = {
        ConesFor.SINGLE: (0.9 * cells, cells),
        ConesFor.PAIR: (0.4 * cells, 0.5 * cells + 1),
        ConesFor.SQUARE: (0.2 * cells, 0.3 * cells),
        ConesFor.LAYOUT: (2, 2 * trays),
    }[pattern]
    assert bounds[0] <= chosen(space).cones <= bounds[1]


def test_what_is_offered_is_what_was_built(tiny_file: Path, tmp_path: Path, quick: Effort, cache: Path) -> None:
    """With plain fillers, to within a twentieth of the mass of panels and fillers before they are cut."""
    kit = built(tiny_file, tmp_path, quick, cache, 'liner = "sparse"', 'fillers = "plain"')
    density = 1.24e-3  # g/mm3, of the room's white
    volume = {part.id: part.volume_mm3 for part in kit.parts if part.kind in ("panel", "filler")}
    made_g = sum(density * volume[placement.part] for placement in kit.placements if placement.part in volume)
    assert chosen(kit.spaces[0]).mass_g == pytest.approx(made_g, rel=0.05)


@pytest.mark.parametrize("liner", ["full", "none"])
def test_a_cove_and_rounded_corners_are_kept_clear(
    tiny_file: Path, tmp_path: Path, quick: Effort, cache: Path, liner: str
) -> None:
    """The proof looks at the round foot of the walls in the files as written; on the bare floor it reaches farther."""
    kit = built(tiny_file, tmp_path, quick, cache, "cove_radius = 7", "corner_radius = 10", f'liner = "{liner}"')
    assert stops(kit) == []
    assert kit.spaces[0].cove_radius == 7


def test_a_sprung_filler_is_proven_pressed_in(tiny_file: Path, tmp_path: Path, quick: Effort, cache: Path) -> None:
    """One side has travel; unpressed it reaches past the wall, which is no fault of it."""
    kit = built(tiny_file, tmp_path, quick, cache, "sprung_filler = true")
    assert stops(kit) == []
    sprung = [placement for placement in kit.placements if placement.travel]
    assert sprung
    assert len({placement.label for placement in sprung}) == 1
    names = {part.id: part.name for part in kit.parts}
    assert all(names[placement.part].startswith("sprung filler") for placement in sprung)


def test_liners_are_priced_on_the_page_and_before_the_build(
    tiny_file: Path, tmp_path: Path, quick: Effort, cache: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Each level with its grams; the chosen one is marked in both places."""
    kit = built(tiny_file, tmp_path, quick, cache, 'liner = "cross"', tell=say_forecast)
    page = (tmp_path / "kit" / "index.html").read_text(encoding="utf-8")
    told = " ".join(capsys.readouterr().err.split())
    for offer in kit.spaces[0].liners:
        assert offer.keeps in page
        assert offer.level in told
        assert (f"[{offer.mass_g:.0f}]" if offer.chosen else f" {offer.mass_g:.0f} ") in told
    assert "cross (chosen)" in page


def test_no_panel_carries_what_stands_in_its_hole(tiny_file: Path, tmp_path: Path, quick: Effort, cache: Path) -> None:
    """Beside the arms of a cross, within its box, a part is carried by nothing."""
    kit = built(tiny_file, tmp_path, quick, cache, 'liner = "cross"')
    loose = [found for found in kit.findings if found.code == "part-not-held"]
    bare = [one for one in kit.placements if one.space_from_part[2][3] > 0 and not one.stands_on]
    assert bool(loose) is bool(bare)
    assert bare
