from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from nookwright.checks.bed_pads import check_pads, check_trial_pads
from nookwright.checks.files import read_meshes
from nookwright.exchange.printing_models import BedPads
from nookwright.exchange.stl import read_stl
from nookwright.exchange.threemf import BaseMaterial, Body, Item, ThreeMF
from nookwright.ground.findings import Severity
from nookwright.making.pads import corner_pads
from nookwright.solids.triangles import Mesh
from nookwright.survey.bed_wishes import KeepOut

from .conftest import moved, turned

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.exchange.stl import Vertices
    from nookwright.ground.findings import Finding

    from .conftest import Trial

PLACES = (moved(20, 30), turned(110, 30))  # trays of 35.4: up to 55.4, and from 74.6 on


@pytest.fixture
def padded(trial: Trial) -> Trial:
    """The tiny kit with pads at the corners of its two trays."""
    (bedful,) = (one for one in trial.kit.bedfuls if one.id == "bed-2")
    items = tuple(one.model_copy(update={"bed_from_piece": at}) for one, at in zip(bedful.items, PLACES, strict=True))
    vertices, triangles = read_stl(trial.folder / "tray.stl")
    made = corner_pads(Mesh(np.array(vertices), np.array(triangles, np.uint32)), 8.0, 0.2)
    mass_g = made.area_mm2 * 0.2 / 1000 * trial.room.material[0].density_g_cm3
    pads = BedPads(piece="tray", reach=8.0, height=0.2, count=4, mass_g=mass_g)
    return trial.having("bedfuls", "bed-2", items=items, pads=(pads,))


def same(vertices: Vertices) -> Vertices:
    """Pads as they were made."""
    return vertices


def found(
    trial: Trial, change: Callable[[Vertices], Vertices] = same, *, places: object = PLACES, name: str = "tray-pads"
) -> list[Finding]:
    """What is found of its pads, after a change of their mesh, their places or their name."""
    vertices, triangles = read_stl(trial.folder / "tray.stl")
    made = corner_pads(Mesh(np.array(vertices), np.array(triangles, np.uint32)), 8.0, 0.2).mesh
    bodies = (
        Body("tray", "tray", vertices, triangles),
        Body("pads", name, change(np.array(made.vertices)), made.triangles),
    )
    items = (*(Item(0, at) for at in PLACES), *(Item(1, at) for at in places))  # type: ignore[attr-defined]
    content = ThreeMF(bodies, items, (BaseMaterial("grey", "#808080"),))
    (bedful,) = (one for one in trial.kit.bedfuls if one.id == "bed-2")
    shapes = read_meshes(trial.folder, trial.kit).shapes
    return list(check_pads(bedful, trial.kit, content, shapes, trial.room))


def codes(findings: list[Finding]) -> set[str]:
    """Their codes."""
    return {one.code for one in findings}


def test_pads_beside_their_piece_are_sound(padded: Trial) -> None:
    """They touch the first layer of the tray and are not in it, in both of its ways."""
    assert found(padded) == []


def test_a_bedful_without_pads_has_nothing_to_say(trial: Trial) -> None:
    """No pads in the kit, none in the file."""
    (bedful,) = (one for one in trial.kit.bedfuls if one.id == "bed-2")
    content = ThreeMF((), (), (BaseMaterial("grey", "#808080"),))
    assert list(check_pads(bedful, trial.kit, content, {}, trial.room)) == []


def test_pads_that_only_one_of_file_and_kit_has_are_found(padded: Trial) -> None:
    """Of a piece that is not there, and of none."""
    assert codes(found(padded, name="lid-pads")) == {"bed-file-differs"}
    (bedful,) = (one for one in padded.kit.bedfuls if one.id == "bed-2")
    bare = padded.having("bedfuls", "bed-2", pads=())
    assert bedful.pads
    assert codes(found(bare)) == {"bed-file-differs"}


def test_pads_that_lie_elsewhere_are_found(padded: Trial) -> None:
    """Beside one of the trays instead of at its corners, or only once."""
    assert "bed-file-differs" in codes(found(padded, places=(PLACES[0], moved(70, 40))))
    assert "bed-file-differs" in codes(found(padded, places=PLACES[:1]))


def test_pads_in_the_piece_are_found(padded: Trial) -> None:
    """Moved by half a millimetre towards its middle on one side."""
    findings = found(padded, lambda vertices: vertices + np.array([0.5, 0.0, 0.0]))
    assert "pads-in-piece" in codes(findings)
    assert {one.severity for one in findings if one.code == "pads-in-piece"} == {Severity.STOP}


def test_pads_that_touch_nothing_are_a_warning(padded: Trial) -> None:
    """Spread from the middle of the tray by a tenth."""
    middle = np.array([17.7, 17.7, 0.0])
    findings = found(padded, lambda vertices: middle + (vertices - middle) * np.array([1.1, 1.1, 1.0]))
    loose = [one for one in findings if one.code == "pads-loose"]
    assert [one.severity for one in loose] == [Severity.WARN]
    assert "of which 4 touch nothing" in loose[0].text


def test_fewer_pads_than_kit_json_says_are_found(padded: Trial) -> None:
    """It says five."""
    assert codes(found(_saying(padded, count=5))) == {"pads-loose"}


def _saying(padded: Trial, **changes: Any) -> Trial:  # noqa: ANN401 - any key of pads
    """The kit with its pads told otherwise."""
    (bedful,) = (one for one in padded.kit.bedfuls if one.id == "bed-2")
    return padded.having("bedfuls", "bed-2", pads=(bedful.pads[0].model_copy(update=changes),))


@pytest.mark.parametrize(("key", "value"), [("reach", 7.0), ("reach", 12.0), ("mass_g", 0.2), ("mass_g", 0.05)])
def test_pads_of_another_reach_or_mass_are_found(padded: Trial, key: str, value: float) -> None:
    """They reach some millimetres beyond a side, and weigh what their discs do."""
    assert codes(found(_saying(padded, **{key: value}))) == {"pads-otherwise"}


def test_pads_that_are_listed_twice_are_found(padded: Trial) -> None:
    """One entry a piece."""
    (bedful,) = (one for one in padded.kit.bedfuls if one.id == "bed-2")
    assert "bed-file-differs" in codes(found(padded.having("bedfuls", "bed-2", pads=(*bedful.pads, *bedful.pads))))


def test_pads_of_two_layers_are_found(padded: Trial) -> None:
    """They could not be torn off."""
    assert "pads-height" in codes(found(padded, lambda vertices: vertices * np.array([1.0, 1.0, 2.0])))


def test_pads_beyond_the_bed_are_found(padded: Trial) -> None:
    """The bed ends at 110."""
    (printer,) = padded.room.printer
    assert codes(found(padded.with_room(printer=(printer.model_copy(update={"bed_width": 115}),)))) == {"pads-off-bed"}


def test_pads_that_come_near_to_another_piece_are_found(padded: Trial) -> None:
    """19.2 mm are between the trays, 3.2 between their pads: less than a spacing of 4."""
    (printer,) = padded.room.printer
    assert codes(found(padded.with_room(printer=(printer.model_copy(update={"spacing": 4.0}),)))) == {"items-near"}


def test_pads_on_a_place_that_stays_free_are_found(padded: Trial) -> None:
    """A clip in front of the first tray, 5 mm from its corner."""
    (printer,) = padded.room.printer
    clip = KeepOut(x=15, y=20, width=10, depth=5)
    assert codes(found(padded.with_room(printer=(printer.model_copy(update={"keep_out": (clip,)}),)))) == {
        "item-kept-free"
    }


def tried(trial: Trial, shift: float, name: str = "tray-pads") -> list[Finding]:
    """What is found of a bedful of trials with a tray whose pads are shifted."""
    vertices, triangles = read_stl(trial.folder / "tray.stl")
    made = corner_pads(Mesh(np.array(vertices), np.array(triangles, np.uint32)), 8.0, 0.2).mesh
    bodies = (
        Body("tray", "tray", vertices, triangles),
        Body("pads", name, np.array(made.vertices) + np.array([shift, 0.0, 0.0]), made.triangles),
    )
    return list(check_trial_pads("trial.3mf", ThreeMF(bodies, (), (BaseMaterial("grey", "#808080"),))))


def test_pads_of_trials_are_looked_at_beside_the_piece_of_their_file(trial: Trial) -> None:
    """Beside it they are sound; half a millimetre in it, or without it, they are not."""
    assert tried(trial, 0.0) == []
    assert "pads-in-piece" in codes(tried(trial, 0.5))
    assert codes(tried(trial, 0.0, "lid-pads")) == {"bed-file-differs"}
