from __future__ import annotations

import numpy as np
import pytest
from tests.checks.forces.scene import PITCH, Scene, cube, matrix, mesh, panel_solid, tray_solid

from nookwright.checks.forces.cones import Seated, Seats, cones_of, mouths_at
from nookwright.checks.forces.stands import Loads


def seated(scene: Scene, name: str) -> Seated:
    """The cones in the sockets of a stand."""
    loads = Loads(scene.kit(), scene.surveyed(), scene.shapes)
    stand = next(one for one in loads.stands["here"] if one.name == name)
    return Seats(loads, PITCH).of(stand)


def test_cones_are_found_in_a_mesh_and_measured() -> None:
    """Half of the cells of a panel have one: 3 high on 0.6, from radius 2.5 to 1.696, at 75 degrees."""
    cones = cones_of(mesh(panel_solid(5, 4), "panel"), PITCH)
    assert cones is not None
    wanted = {(col, row) for col in range(5) for row in range(4) if (col + row) % 2 == 0}
    assert {tuple(cell) for cell in np.round(cones.middles / PITCH - 0.5).astype(int).tolist()} == wanted
    assert (cones.foot, cones.height) == pytest.approx((0.6, 3.0))
    assert (cones.base_radius, cones.top_radius) == pytest.approx((2.5, 1.696), abs=0.01)
    assert cones.slope_deg == pytest.approx(75, abs=0.1)


def test_a_plate_has_no_cones() -> None:
    """What reaches highest is its whole face."""
    assert cones_of(mesh(cube((90, 72, 0.6)), "plate"), PITCH) is None


def test_sockets_are_found_where_they_are_and_nowhere_else() -> None:
    """All cells of a tray have one, wider towards its corners; a plain block has none."""
    middles = np.array([[(c + 0.5) * PITCH - 0.3, (r + 0.5) * PITCH - 0.3] for r in range(3) for c in range(4)])
    radii = mouths_at(mesh(tray_solid(4, 3, 30), "tray"), middles, PITCH)
    assert (radii > 2.7).all()
    assert radii[5] == pytest.approx(radii[6])
    assert radii[0] > radii[5]
    assert not mouths_at(mesh(cube((71.4, 53.4, 30)), "block"), middles, PITCH).any()


@pytest.mark.parametrize(("cell", "met"), [((0, 0), 2), ((1, 0), 2), ((3, 4), 2)])
def test_a_tray_meets_half_of_its_cells(cell: tuple[int, int], met: int) -> None:
    """Two by two cells on a chessboard, wherever it stands."""
    scene = Scene()
    scene.panel()
    scene.tray("a", 2, 2, cell=cell)
    found = seated(scene, "a")
    assert len(found.places) == met
    assert found.bearing == 2


def test_only_the_tightest_sockets_bear() -> None:
    """Five by five cells: its middle one has a cone under it and is tighter than all others."""
    scene = Scene()
    scene.panel()
    scene.tray("a", 5, 5)
    found = seated(scene, "a")
    assert len(found.places) == 13
    assert found.bearing == 1


def test_a_turned_tray_is_seated_as_well() -> None:
    """Six by three cells turned by a quarter."""
    scene = Scene()
    scene.panel()
    scene.tray("a", 6, 3, cell=(1, 2), turned=True)
    assert len(seated(scene, "a").places) == 9


def test_without_cones_nothing_is_seated() -> None:
    """A bare plate; the floor of the space; a block without sockets."""
    for cones, solid in ((False, None), (True, cube((71.4, 71.4, 30)))):
        scene = Scene()
        scene.panel(cones=cones)
        scene.tray("a", 4, 4, solid=solid)
        assert len(seated(scene, "a").places) == 0
    scene = Scene()
    scene.tray("a", 4, 4)
    assert seated(scene, "a").cones is None


def test_cones_of_a_deck_lid_seat_what_stands_on_it() -> None:
    """A lid that is a liner: the upper tray stands on the lid's cones."""
    scene = Scene()
    scene.panel()
    scene.tray("low", 4, 4)
    scene.part("lid", "lid", panel_solid(4, 4), matrix(0.25, 0.25, 37), mass_g=30, on=("low",))
    scene.part("top", "tray", tray_solid(4, 2, 20), matrix(0.55, 0.55, 37.6), mass_g=20, on=("lid",))
    assert len(seated(scene, "top").places) == 4
