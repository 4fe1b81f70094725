"""Parts made to order in section: what their orders say is typed there, and comes out as it was typed."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from nookwright.exchange.kit_file import read_kit
from nookwright.ground.progress import Silent
from nookwright.studio import work
from nookwright.studio.section import section_of
from nookwright.studio.section_orders import order_at, orders_of
from nookwright.survey.load import load_room

if TYPE_CHECKING:
    from nookwright.exchange.kit import Kit
    from nookwright.studio.section import Section
    from nookwright.studio.section_dimensions import Dimension
    from nookwright.survey.models import Room

ORDERS = """
[[part]]
id = "pots"
kind = "cradle"
keys = { outer_width = 50, outer_depth = 50, height = 24, pockets = [ { x = 26, y = 26, pocket = { shape = "round", diameter = 20 } } ] }

[[part]]
id = "step"
kind = "riser"
count = 2
keys = { outer_width = 50, outer_depth = 50, rises = 3 }

[[part]]
id = "deck"
kind = "deck-tray"
keys = { outer_width = 50, outer_depth = 70, height = 30 }

[[part]]
id = "odd"
kind = "tray"
[part.keys]
outer_width = 50
outer_depth = 50
height = 30
options = { inlay = 2 }

[[part]]
id = "label"
kind = "name-strip"
keys = { width = 40, height = 12, text = "odd" }
"""  # noqa: E501 - as a room file has it


@pytest.fixture(scope="module")
def room_file(tiny_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The tiny room, with parts that are made to order."""
    file = tmp_path_factory.mktemp("ordered") / "room.toml"
    file.write_text(tiny_file.read_text(encoding="utf-8") + ORDERS, encoding="utf-8")
    return file


@pytest.fixture(scope="module")
def room(room_file: Path) -> Room:
    """It, loaded."""
    return load_room(room_file)


@pytest.fixture(scope="module")
def kit(room_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Kit:
    """What is planned of it."""
    done = work.plan(room=room_file, out=tmp_path_factory.mktemp("planned"), progress=Silent())
    return read_kit(Path(done["kit"]))


def _sections(kit: Kit, room: Room | None) -> dict[str, Section]:
    found = {key: section_of(kit, key, room) for key, _ in orders_of(kit)}
    return {key.removeprefix("order:").partition("/")[0]: one for key, one in found.items() if one is not None}


def _dims(one: Section) -> dict[str, Dimension]:
    return {dim.key: dim for dim in one.dimensions}


def test_every_ordered_part_is_listed_once_with_how_many(kit: Kit) -> None:
    """Also those that go with another one."""
    said = [words for _, words in orders_of(kit)]
    assert len(said) == len(set(said)) == 6
    assert sum("step, riser" in words and words.endswith(": 2") for words in said) == 1


def test_what_is_typed_stands_in_the_order(kit: Kit, room: Room, room_file: Path) -> None:
    """Every path leads to its value in the file, or to a key that was left out; it is typed or says why not."""
    orders: dict[str, Any] = {one["id"]: one for one in tomllib.loads(room_file.read_text(encoding="utf-8"))["part"]}
    for key, _ in orders_of(kit):
        section = section_of(kit, key, room)
        assert section is not None
        for dim in section.dimensions:
            assert dim.typed == bool(dim.path) == (not dim.why)
            if dim.path:
                value: Any = orders[str(dim.path[1])]
                for step in dim.path[2:-1]:
                    value = value[step]
                assert isinstance(value, dict | list)


@pytest.mark.parametrize(
    ("order", "dim", "below"),
    [
        ("pots", "width", ("outer_width",)),
        ("pots", "depth", ("outer_depth",)),
        ("pots", "height", ("height",)),
        ("pots", "keys.pockets.0.pocket.diameter", ("pockets", 0, "pocket", "diameter")),
        ("step", "height", ("rises",)),
        ("odd", "inlay", ("options", "inlay")),
        ("odd", "inside.width", ("outer_width",)),
        ("label", "width", ("width",)),
    ],
)
def test_each_dimension_has_its_key(kit: Kit, room: Room, order: str, dim: str, below: tuple[str | int, ...]) -> None:
    """Drawn where there is a line for it, listed where there is none, and never both."""
    dims = _sections(kit, room)[order].dimensions
    (found,) = [one for one in dims if one.path[3:] == below and one.key == dim]
    assert found.typed
    assert f"keys.{'.'.join(map(str, below))}" not in {one.key for one in dims} - {dim}


def test_what_is_shown_typed_back_in_is_what_was_ordered(kit: Kit, room: Room) -> None:
    """Heights and steps come out as they are; whatever stands on top of a part is no height of the order."""
    sections = _sections(kit, room)
    step = _dims(sections["step"])["height"]
    assert (step.value + step.more) / step.step == pytest.approx(3)
    for order, height in (("pots", 24.0), ("odd", 30.0)):
        dim = _dims(sections[order])["height"]
        assert dim.value + dim.more == pytest.approx(height)


def test_what_goes_with_an_ordered_part_says_so(kit: Kit, room: Room) -> None:
    """The lid of a tray that is ordered is not typed; the tray is."""
    sections = [section_of(kit, key, room) for key, words in orders_of(kit) if words.startswith("deck, ")]
    typed = {one.kind: {dim.typed for dim in one.dimensions if dim.key == "width"} for one in sections if one}
    assert typed == {"tray": {True}, "lid": {False}}
    (lid,) = [one for one in sections if one is not None and one.kind == "lid"]
    assert {dim.why for dim in lid.dimensions} == {
        "It goes with the part that was ordered: type the sizes of that one."
    }


def test_while_something_is_wrong_with_the_room_nothing_is_typed(kit: Kit) -> None:
    """Nobody knows what the orders say then."""
    for one in _sections(kit, None).values():
        assert not any(dim.typed for dim in one.dimensions)


@pytest.mark.parametrize(
    "key", ["order:", "order:pots", "order:pots/", "order:nothing/1", "order:pots/0", "order:pots/2"]
)
def test_a_part_that_nobody_ordered_is_not_shown(kit: Kit, room: Room, key: str) -> None:
    """Keys may be forged."""
    assert order_at(kit, room, key) is None
    assert section_of(kit, key, room) is None
