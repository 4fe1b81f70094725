from __future__ import annotations

from typing import TYPE_CHECKING

import manifold3d
import numpy as np
import pytest
from tests.checks.room_fit.scene import Scene, box, matrix, ways

from nookwright.checks.room_fit.printed import Largest
from nookwright.checks.room_fit.sliding import held_down
from nookwright.checks.room_fit.ways_out import check_ways_out
from nookwright.module.choice import module_of
from nookwright.parts.lids.sliding_lid import closed
from nookwright.parts.lids.sliding_rim import SlidingRim, SlidingSpec, Slot
from nookwright.parts.lids.sliding_tray import sliding_tray
from nookwright.solids.mesh import build

if TYPE_CHECKING:
    from manifold3d import Manifold as Solid

    from nookwright.ground.findings import Finding
    from nookwright.shapes.solids import Solid as Recipe

USUAL = Largest(0.002, 0.16, 0.26, (0.0, 0.05, 0.15))
MODULE = module_of(18.0, 6.0, 0.2, "for the test")
SPEC = SlidingSpec(4, 6, 30.0, smooth=True)


def of(scene: Scene, largest: Largest = USUAL) -> list[Finding]:
    space = scene.built()
    return check_ways_out((space,), {one.part.id: largest for one in space.stood}, ways())


def made(recipe: Recipe) -> Solid:
    """A recipe as a solid."""
    mesh = build(recipe)
    raw = manifold3d.Mesh64(np.array(mesh.vertices, order="C"), np.array(mesh.triangles, dtype=np.uint64, order="C"))
    return manifold3d.Manifold(raw)


def ours(spec: SlidingSpec = SPEC, *, wider: float = 0.0, turn: int = 0) -> Scene:
    """A tray of ours with its lid, with room before it; the lid wider by so much, both turned by quarters."""
    rim = SlidingRim(MODULE, spec)
    lid = made(closed(MODULE, spec))
    lid = lid.translate([-rim.width / 2, 0, 1e-4]).scale([1 + wider / rim.lid_width, 1, 1])
    body, lid = made(sliding_tray(MODULE, spec).recipe), lid.translate([rim.width / 2, 0, 0])
    scene, at = Scene(size=(900, 900)), matrix(450, 450, 0, turn)
    scene.put("tray", body, matrix_=at).put("lid", lid, matrix_=at, kind="lid", on=("tray",))
    return scene


@pytest.mark.parametrize("spec", [SPEC, SlidingSpec(1, 3, 18.0), SlidingSpec(4, 6, 30.0, slot=Slot(30.0, 16.0, 4.0))])
def test_lids_of_ours_slide_open_stop_and_stay(spec: SlidingSpec) -> None:
    """Small, plain, with a slot: nothing to say, as drawn and as tight as they may come out."""
    assert of(ours(spec)) == []


@pytest.mark.parametrize("turn", [1, 2, 3])
def test_a_lid_slides_however_its_tray_is_turned(turn: int) -> None:
    """To the side where its tray's front is."""
    assert of(ours(turn=turn)) == []


@pytest.mark.parametrize(("wider", "codes"), [(0.5, []), (1.2, ["lid-stuck"]), (3.2, ["lid-stuck"])])
def test_a_lid_that_is_too_wide_is_found(wider: float, codes: list[str]) -> None:
    """It has 0.73 to each side and comes up by as much: wider by 1.2 its catch does not pass the front wall."""
    assert [one.code for one in of(ours(wider=wider))] == codes


def slider(
    *, nose: float = 0.8, nose_at: float = 30.0, kept_from: float = 0.0, wide: float = 45.0, length: float = 80.0
) -> Scene:
    """A channel 46 wide inside under two rails that begin somewhere; in it a plate with a nose under it."""
    body = box(50, length, 24) - box(46, length - 4, 24, at=(2, 2, 20)) - box(40, length - 4, 24, at=(5, 2, 2))
    body -= box(46, 4, 24, at=(2, -1, 20))
    rails = [box(3, length - kept_from, 2, at=(x, kept_from, 22.3)) for x in (1.5, 45.5)]
    lid = box(wide, length - 2.5, 2, at=(25 - wide / 2, 0, 20)) + box(20, 2, nose + 0.1, at=(15, nose_at, 20 - nose))
    scene = Scene(size=(400, 600))
    scene.put("tray", (body + rails[0] + rails[1]).translate([200, 300, 0]))
    return scene.put("lid", lid.translate([200, 300, 0]), kind="lid", on=("tray",))


def test_a_plain_channel_with_a_stop_is_sound() -> None:
    """Its nose stands 30 from the front: it slides 28 of 78, and 45 of it stay between the rails."""
    assert of(slider()) == []
    space = slider().built()
    assert held_down(space.by_id["lid"], space.by_id["tray"], ways())


@pytest.mark.parametrize(
    ("scene", "codes"),
    [
        (slider(nose_at=10), ["lid-stuck"]),  # stops after 8
        (slider(nose=0.0), ["lid-no-stop"]),  # slides right out
        (slider(nose_at=60), ["lid-jams"]),  # 15 stay between the rails, 27 are needed at a width of 45
        (slider(kept_from=58, nose_at=40), ["lid-loose"]),  # rails only at its rear
    ],
)
def test_lids_that_stop_too_soon_too_late_or_fall_off_are_found(scene: Scene, codes: list[str]) -> None:
    """Each with the right code."""
    assert [one.code for one in of(scene)] == codes


@pytest.mark.parametrize(("wide", "codes"), [(45.5, []), (45.7, ["lid-may-stick"]), (46.1, ["lid-stuck"])])
def test_a_lid_needs_play_for_what_printers_err(wide: float, codes: list[str]) -> None:
    """In a channel of 46, where printers may take 0.38: 0.5 of play are enough, 0.3 are not; 46.1 do not go in."""
    assert [one.code for one in of(slider(wide=wide))] == codes


def test_a_lid_that_opens_into_its_neighbour_is_noted() -> None:
    """A tray as high as it right before it, and a wall: lift the tray out first."""
    beside = slider().put("before", box(50, 50, 30), at=(200, 249, 0))
    (finding,) = of(beside)
    assert finding.code == "lid-opens-outside"
    assert "before is before it" in finding.text
    walled = slider()
    walled.planned["usable"] = [
        {"z": 0.0, "width": 400, "depth": 600, "y": 290.0},
        {"z": 60.0, "width": 400, "depth": 600, "y": 290.0},
    ]
    assert [one.code for one in of(walled)] == ["lid-opens-outside"]
