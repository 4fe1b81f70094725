from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.build import estimate_pieces, make_solid
from nookwright.ground.findings import Severity
from nookwright.ground.progress import Silent
from nookwright.ground.slugs import slug
from nookwright.making.jobs import make, unique

if TYPE_CHECKING:
    from nookwright.build import Designed
    from nookwright.cutting.model import Piece
    from nookwright.making.estimate.many import Estimates
    from nookwright.making.jobs import Making


def closed_form(piece: Piece) -> float:
    """The volume of a piece without any mesh."""
    return piece.plastic.body_mm3


@pytest.fixture(scope="module")
def making(tiny: Designed) -> Making:
    """What the tiny room has to print, in closed form."""
    return make(tiny.room, tiny.copies, tiny.cut, closed_form)


def test_ids_are_unique_and_plain(making: Making) -> None:
    """Lower case letters, digits, hyphens; a piece's id names its part and its material."""
    parts = [part.id for part in making.parts]
    pieces = [piece.id for piece in making.pieces]
    assert len(set(parts)) == len(parts)
    assert len(set(pieces)) == len(pieces)
    assert all(re.fullmatch(r"[a-z0-9-]+", name) for name in parts)
    assert all(piece.id.startswith(piece.part) and piece.id.endswith(f"_{piece.material}") for piece in making.pieces)


def test_every_copy_needs_all_pieces_of_its_part(tiny: Designed, making: Making) -> None:
    """Counts: for each copy one of each of its pieces, in its material."""
    needed: Counter[tuple[str, str]] = Counter()
    for copy in tiny.copies:
        needed[making.part_ids[copy.part.recipe.digest], copy.material] += 1
    for piece in making.pieces:
        assert piece.count == needed[piece.part, piece.material]
    assert {(piece.part, piece.material) for piece in making.pieces} == set(needed)
    assert sum(piece.count for piece in making.pieces) == sum(
        len(tiny.cut[copy.part.recipe.digest].pieces) for copy in tiny.copies
    )


def test_every_piece_is_on_a_bed_as_often_as_it_is_needed(making: Making) -> None:
    """And nothing else is."""
    printed = Counter(item.piece for load in making.loads for item in load.items)
    assert printed == Counter({piece.id: piece.count for piece in making.pieces})
    assert making.findings == ()


def test_mass_follows_from_volume_and_density(tiny: Designed, making: Making) -> None:
    """A piece that is solid throughout weighs its volume times its density."""
    density = {material.id: material.density_g_cm3 for material in tiny.room.material}
    for piece in making.pieces:
        solid_g = piece.volume_mm3 / 1000 * density[piece.material]
        assert piece.mass_g <= solid_g + 1e-9
        if not piece.piece.plastic.sparse_mm3:
            assert piece.mass_g == pytest.approx(solid_g)


def test_the_volume_that_is_measured_counts(tiny: Designed, making: Making) -> None:
    """With meshes twice as large everything solid weighs twice as much."""
    double = make(tiny.room, tiny.copies, tiny.cut, lambda piece: 2 * piece.plastic.body_mm3)
    for one, other in zip(making.pieces, double.pieces, strict=True):
        if not one.piece.plastic.sparse_mm3:
            assert other.mass_g == pytest.approx(2 * one.mass_g)


def test_the_same_part_in_two_materials_is_two_pieces_of_one_part(tiny: Designed) -> None:
    """A material more is a row more, not a part more."""
    some = next(copy for copy in tiny.copies if copy.part.seated)
    both = make(
        tiny.room,
        [replace(some, material="white"), replace(some, material="red")],
        {some.part.recipe.digest: tiny.cut[some.part.recipe.digest]},
        closed_form,
    )
    assert len(both.parts) == 1
    assert [piece.material for piece in both.pieces] == ["red", "white"]


def test_a_piece_without_a_bed_is_named(tiny: Designed) -> None:
    """With its size and material; it is on no bed."""
    printer = tiny.room.printer[0].model_copy(update={"bed_height": 20.0})
    low = make(tiny.room.model_copy(update={"printer": (printer,)}), tiny.copies, tiny.cut, closed_form)
    named = {finding.subject for finding in low.findings}
    assert {(finding.code, finding.severity) for finding in low.findings} == {("piece-no-bed", Severity.STOP)}
    assert named == {piece.id for piece in low.pieces if piece.piece.size[2] > 20}
    assert named.isdisjoint(item.piece for load in low.loads for item in load.items)


@given(names=st.lists(st.sampled_from(["a", "b", "a-b", "a-c", "b-b"]), max_size=40))
def test_names_become_unique_and_keep_their_beginning(names: list[str]) -> None:
    """In order, the first of each unchanged where it is not taken."""
    made = unique(names)
    assert len(set(made)) == len(names)
    assert all(new == old or new.startswith(f"{old}-") for new, old in zip(made, names, strict=True))


def test_many_of_one_name_are_lettered() -> None:
    """After z comes aa."""
    made = unique(["x"] * 28)
    assert (made[0], made[1], made[25], made[26], made[27]) == ("x", "x-b", "x-z", "x-aa", "x-ab")


@pytest.mark.parametrize(("text", "expected"), [("Tray 107x143 h4.5", "tray-107x143-h4-5"), ("--a--", "a"), ("", "")])
def test_slugs(text: str, expected: str) -> None:
    """Whatever is no letter or digit becomes one hyphen, none at the ends."""
    assert slug(text) == expected


@pytest.fixture(scope="module")
def estimated(tiny: Designed) -> tuple[Making, Estimates]:
    """The same by estimates from meshes."""
    meshes = make_solid(tiny, cache=None, processes=1, progress=Silent())
    estimates = estimate_pieces(tiny, meshes, cache=None, processes=1, progress=Silent())
    volumes = {digest: mesh.volume_mm3 for digest, mesh in meshes.items()}
    made = make(tiny.room, tiny.copies, tiny.cut, lambda piece: volumes[piece.recipe.digest], estimates=estimates)
    return made, estimates


def test_pieces_weigh_and_take_what_their_estimate_says(
    tiny: Designed, estimated: tuple[Making, Estimates], making: Making
) -> None:
    """On the first printer that takes them, in their material; near to the closed form, never heavier than solid."""
    density = {material.id: material.density_g_cm3 for material in tiny.room.material}
    made, estimates = estimated
    assert [piece.id for piece in made.pieces] == [piece.id for piece in making.pieces]
    for piece, closed in zip(made.pieces, making.pieces, strict=True):
        found = estimates.of(piece.piece.recipe.digest, tiny.room.printer[0].id)
        assert piece.estimate == found
        assert piece.mass_g == found.mass_g(density[piece.material])
        assert piece.time_s == found.time_in_company_s
        assert piece.mass_g <= piece.volume_mm3 / 1000 * density[piece.material]
        assert piece.mass_g == pytest.approx(closed.mass_g, rel=0.25)


def test_a_bedful_weighs_what_its_pieces_weigh_and_heats_once(estimated: tuple[Making, Estimates]) -> None:
    """Its time is that of its pieces together on its printer."""
    made, estimates = estimated
    mass = {piece.id: piece.mass_g for piece in made.pieces}
    moving = {piece.id: piece.estimate.moving_s for piece in made.pieces if piece.estimate}
    assert len(made.estimates) == len(made.loads) > 0
    for load, bed in zip(made.loads, made.estimates, strict=True):
        assert load.mass_g == pytest.approx(sum(mass[item.piece] for item in load.items))
        assert load.time_s == bed.time_s > bed.heating_s == estimates.settings[load.printer].machine.heat_up_s
        assert bed.moving_s >= sum(moving[item.piece] for item in load.items) - 1e-6
