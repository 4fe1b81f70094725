from __future__ import annotations

from types import SimpleNamespace

import numpy as np
import pytest
from tests.making.estimate.solids import block
from tests.making.estimate.solids import printer as bench

from nookwright.ground.findings import Severity
from nookwright.making.coarser import Coarser, coarser, coarser_findings, on_layers, stroke_of
from nookwright.making.estimate.piece import estimate
from nookwright.making.estimate.settings import settings_of
from nookwright.parts.model import Kind as PartKind
from nookwright.solids.triangles import Feature, Mesh

PRINTER = bench()


def stepped(*levels: float) -> Mesh:
    """A flat triangle at each level and an upright one between the first two."""
    flat = [[(0, 0, z), (1, 0, z), (0, 1, z)] for z in levels]
    upright = [[(0, 0, levels[0]), (1, 0, levels[0]), (0, 0, levels[0] + 0.13)]]
    corners = np.array([*flat, *upright], np.float64)
    return Mesh(corners.reshape(-1, 3), np.arange(3 * len(corners), dtype=np.uint32).reshape(-1, 3))


@pytest.mark.parametrize(
    ("levels", "layer", "fits"),
    [
        ((0.0, 0.6, 3.6), 0.3, True),
        ((0.0, 0.6, 3.6), 0.4, False),
        ((0.0, 3.4, 24.0), 0.2, True),
        ((0.0, 3.4, 24.0), 0.3, False),
        ((0.0, 1.0, 1.4), 0.2, True),
    ],
)
def test_flat_faces_lie_on_whole_layers_or_not(levels: tuple[float, ...], layer: float, fits: bool) -> None:  # noqa: FBT001
    """A roof of a socket at 3.4 is on the 17th layer of 0.2, and between two of 0.3; upright faces are no matter."""
    assert on_layers(stepped(*levels), layer) is fits


def proposal(saved_h: float, *, off_layer: int = 0, blurred: int = 0) -> Coarser:
    """A nozzle of 0.6 for twelve pieces that take ten hours."""
    return Coarser("one", 0.6, 0.4, 36000.0, saved_h * 3600, 12, off_layer, blurred, 0.62)


def test_only_what_is_worth_it_is_proposed() -> None:
    """A note with its figures; under two hours nothing is said."""
    (note,) = coarser_findings([proposal(1.9), proposal(4.0)])
    assert (note.code, note.severity, note.subject) == ("coarser-prints", Severity.NOTE, "one")
    assert "(12 pieces) would save about 4 h of 10 h" in note.text
    assert "as they are" in note.remedy


def test_what_lies_between_layers_and_what_is_lettered_is_said() -> None:
    """Then the room must be built again for that layer."""
    (note,) = coarser_findings([proposal(4.0, off_layer=7, blurred=2)])
    assert "7 of them have socket roofs" in note.text
    assert "Lettering on 2 of them is thinner than its line of 0.62 mm" in note.text
    assert note.remedy == "Set layer = 0.4 and nozzle = 0.6 for this printer and build again."


def wall_of_letters(width: float) -> Mesh:
    """A plate with one stroke of lettering, 40 long, as triangles of its top."""
    z = 1.4
    corners = np.array([(0, 0, z), (40, 0, z), (40, width, z), (0, width, z), (0, 0, 0)], np.float64)
    faces = np.array([(0, 1, 4), (0, 1, 2), (0, 2, 3)], np.uint32)
    return Mesh(corners, faces, (Feature("text", 1, 2),))


def test_the_stroke_of_lettering_is_measured_in_its_faces() -> None:
    """2 A / P of a long stroke is its width, a little less at its ends; without lettering there is none."""
    assert stroke_of(wall_of_letters(0.8)) == pytest.approx(0.8 * 40 / 40.8)
    assert stroke_of(stepped(0.0, 1.0)) == 0.0


def planned(mesh: Mesh, copies: int) -> SimpleNamespace:
    """A making of one piece of a liner's panel, all copies on one printer."""
    printer_settings = settings_of(PRINTER, 1.2)
    found = estimate(mesh, printer_settings)
    piece = SimpleNamespace(
        id="panel",
        part="panel",
        piece=SimpleNamespace(recipe=SimpleNamespace(digest="panel"), size=(40.0, 30.0, 6.0)),
        time_s=found.time_in_company_s,
        estimate=found,
    )
    items = tuple(SimpleNamespace(piece="panel") for _ in range(copies))
    return SimpleNamespace(
        pieces=(piece,),
        parts=(SimpleNamespace(id="panel", part=SimpleNamespace(kind=PartKind.PANEL)),),
        loads=(SimpleNamespace(printer="bench", items=items),),
    )


def test_hours_saved_are_those_of_second_estimates() -> None:
    """Of the same solid, in thicker layers and on a wider nozzle; nothing is scaled."""
    mesh = block(40, 30, 6)
    room = SimpleNamespace(printer=(PRINTER,))
    found = coarser(room, planned(mesh, 40), {"panel": mesh}, 1.2)  # type: ignore[arg-type]
    assert [(one.nozzle, one.layer) for one in found] == [(0.4, 0.3), (0.6, 0.4)]
    now = estimate(mesh, settings_of(PRINTER, 1.2))
    for one in found:
        other = PRINTER.model_copy(update={"nozzle": one.nozzle, "layer": one.layer})
        then = estimate(mesh, settings_of(other, 1.2))
        assert one.now_s == pytest.approx(40 * now.time_in_company_s)
        assert one.saved_s == pytest.approx(40 * (now.time_in_company_s - then.time_in_company_s))
        assert one.copies == 40
    assert [one.off_layer for one in found] == [0, 0]


def test_what_saves_little_is_not_even_looked_at() -> None:
    """One block is not worth another estimate, nor is a printer that prints none of them."""
    mesh = block(40, 30, 6)
    room = SimpleNamespace(printer=(PRINTER, PRINTER.model_copy(update={"id": "idle"})))
    assert coarser(room, planned(mesh, 1), {"panel": mesh}, 1.2) == ()  # type: ignore[arg-type]
