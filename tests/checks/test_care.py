"""What a kit says of cleaning, water and warmth: each with a twin that is sound."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from nookwright.checks.bodies import shape_of
from nookwright.checks.care.check import check_care
from nookwright.checks.care.drains import drains_of
from nookwright.checks.care.hollows import hidden_in, shell_volumes
from nookwright.checks.care.lifting import lifting
from nookwright.checks.files import read_meshes
from nookwright.checks.verdicts import Verdicts
from nookwright.ground.findings import Severity
from nookwright.parts.risers.ballast import capacity_mm3
from nookwright.parts.risers.hollow_riser import HollowSpec, hollow_riser
from nookwright.parts.risers.riser import RiserTop
from nookwright.parts.trays.tray import tray
from nookwright.solids.mesh import build

from .conftest import arrays, box, moved

if TYPE_CHECKING:
    import manifold3d

    from nookwright.checks.bodies import Shape
    from nookwright.ground.findings import Finding
    from nookwright.module.module import Module
    from nookwright.shapes.solids import Solid

    from .conftest import Trial


def said(trial: Trial) -> list[Finding]:
    """All that is said."""
    shapes = read_meshes(trial.folder, trial.kit).shapes
    return list(check_care(trial.kit, trial.room, shapes, shapes, Verdicts(None)))


def codes(trial: Trial) -> list[tuple[str, Severity, str]]:
    """Codes, severities and subjects."""
    return [(one.code, one.severity, one.subject) for one in said(trial)]


def with_space(trial: Trial, **changes: Any) -> Trial:  # noqa: ANN401 - any key of a space
    return trial.with_room(space=(trial.room.space[0].model_copy(update=changes),))


def with_lot(trial: Trial, name: str, **changes: Any) -> Trial:  # noqa: ANN401 - any key of a lot
    lots = [lot.model_copy(update=changes) if lot.id == name else lot for lot in trial.room.lot]
    return trial.with_room(lot=tuple(lots))


def shape(solid: manifold3d.Manifold) -> Shape:
    """A solid as it is read."""
    return shape_of("trial", *arrays(solid))


def test_a_small_dry_kit_has_nothing_to_say(trial: Trial) -> None:
    """Trays of 35 in a dry place."""
    assert codes(trial) == []


# --------------------------------------------------------------------------------------------------------- lifting


def lifted(trial: Trial, *, stretched: tuple[str, float] = ("", 1.0)) -> list[Finding]:
    """What is said of lifting, a file's mesh stretched along x."""
    shapes = dict(read_meshes(trial.folder, trial.kit).shapes)
    name, factor = stretched
    if name:
        longer = shapes[name].vertices * np.array([factor, 1.0, 1.0])
        shapes[name] = shape_of("longer", longer, shapes[name].triangles)
    return list(lifting(trial.kit, trial.room, shapes))


@pytest.mark.parametrize(("length", "said_so"), [(299, False), (301, True)])
def test_one_hand_lifts_300(trial: Trial, length: float, said_so: bool) -> None:  # noqa: FBT001
    """A tray that is longer, though nothing in it is, is a warning; so is a piece of the liner."""
    for file, subject in (("tray.stl", "tray-1"), ("half.stl", "panel")):
        width = float(np.ptp(read_meshes(trial.folder, trial.kit).shapes[file].vertices[:, 0]))
        found = lifted(trial, stretched=(file, length / width))
        assert [(one.code, one.severity, one.subject) for one in found] == (
            [("lift-long", Severity.WARN, "left")] if said_so else []
        )
        for one in found:
            assert one.against is not None
            assert one.against.computed == pytest.approx(length)
            assert subject in one.text or "tray-2" in one.text


def test_what_is_as_long_as_its_things_is_a_note(trial: Trial) -> None:
    """Trays for things of 290 cannot be shorter."""
    for name in ("dice", "corks"):
        (place,) = next(lot for lot in trial.kit.lots if lot.id == name).places
        trial = trial.having("lots", name, places=(place.model_copy(update={"size": (290.0, 5.0, 5.0)}),))
    found = lifted(trial, stretched=("tray.stl", 320 / 35.4))
    assert [(one.code, one.severity) for one in found] == [("lift-long", Severity.NOTE)]


@pytest.mark.parametrize(("mass_g", "said_so"), [(748, False), (750, True)])
def test_one_hand_lifts_three_kilograms(trial: Trial, mass_g: float, said_so: bool) -> None:  # noqa: FBT001
    """Four dice and a tray of 5 g."""
    found = lifted(with_lot(trial, "dice", mass_g=mass_g))
    assert [(one.code, one.severity) for one in found] == ([("lift-heavy", Severity.NOTE)] if said_so else [])


# --------------------------------------------------------------------------------------------------------- hollows


def bottle(mouth: float) -> manifold3d.Manifold:
    """A block of 40 x 40 x 30 with a chamber of 36 x 36 x 28.4, a floor of 1 and a roof of 0.6 with a square mouth."""
    opening = box(mouth, mouth, 10, at=(20 - mouth / 2, 20 - mouth / 2, 25))
    return box(40, 40, 30) - (box(36, 36, 28.4, at=(2, 2, 1)) + opening)


def test_what_is_hidden_is_the_chamber_but_for_its_mouth() -> None:
    """36 x 36 x 28.4 less what is below a mouth of 10 x 10, in steps of half a millimetre."""
    hidden, share = hidden_in(shape(bottle(10)))
    assert hidden == pytest.approx((36**2 - 10**2) * 28.4 / 1000, rel=0.02)
    assert share == pytest.approx(1 - 100 / 36**2, rel=0.01)
    assert hidden_in(shape(box(40, 40, 30) - box(36, 36, 30, at=(2, 2, 2)))) == (0, 0)


@pytest.mark.parametrize(
    ("mouth", "wet", "severity"),
    [(10, True, Severity.WARN), (10, False, Severity.NOTE), (30, True, None)],
)
def test_a_chamber_with_a_narrow_mouth_is_said(
    trial: Trial,
    mouth: float,
    wet: bool,  # noqa: FBT001 - a column of the table
    severity: Severity | None,
) -> None:
    """A warning where it gets wet; what is open for more than half dries."""
    found = codes(with_space(trial.with_mesh("tray.stl", *arrays(bottle(mouth))), wet=wet))
    assert [one for one in found if one[0] == "hollow-wet"] == ([("hollow-wet", severity, "tray")] if severity else [])


@pytest.mark.parametrize("variant", [HollowSpec(4, 3, 4), HollowSpec(4, 3, 4, RiserTop.SMOOTH)])
def test_a_hollow_riser_is_a_chamber(module: Module, variant: HollowSpec) -> None:
    """As the tool makes it: nearly all of the room that it has for ballast is hidden; a tray has none."""
    hidden, share = hidden_in(mesh_of(hollow_riser(module, variant).recipe))
    assert hidden == pytest.approx(capacity_mm3(module, variant) / 1000, rel=0.15)
    assert share > 0.9
    assert hidden_in(mesh_of(tray(module, cols=4, rows=3, height=24).recipe))[1] < 0.1


def mesh_of(recipe: Solid) -> Shape:
    """A recipe as it is read."""
    mesh = build(recipe)
    return shape_of("trial", np.array(mesh.vertices), np.array(mesh.triangles))


def test_a_closed_hollow_is_a_stop(trial: Trial) -> None:
    """A shell in a shell, the inner one wound as a hollow; the mesh is not sound, and this says why."""
    outer, inner = arrays(box(20, 20, 20)), arrays(box(10, 10, 10, at=(5, 5, 5)))
    vertices = np.vstack([outer[0], inner[0]])
    triangles = np.vstack([outer[1], inner[1][:, ::-1] + len(outer[0])])
    assert sorted(shell_volumes(shape_of("x", vertices, triangles))) == pytest.approx([-1000, 8000])
    assert "hollow-closed" not in trial.codes()
    hollow = trial.with_mesh("tray.stl", vertices, triangles)
    found = {one.code: one for one in hollow.proved()}
    assert "mesh-in-pieces" in found
    assert found["hollow-closed"].against is not None
    assert found["hollow-closed"].against.computed == pytest.approx(1.0, rel=1e-3)


def test_a_mesh_that_is_inside_out_is_no_hollow(trial: Trial) -> None:
    """It has no shell round what it holds; nor is its volume wrong where kit.json says the same."""
    vertices, triangles = arrays(box(20, 20, 20))
    codes = {one.code for one in trial.with_mesh("tray.stl", vertices, triangles[:, ::-1]).proved()}
    assert "mesh-inside-out" in codes
    assert not {"hollow-closed", "volume-wrong"} & codes


# ---------------------------------------------------------------------------------------------------------- drains


def tub(*holes: tuple[float, float, float], wall: bool = False) -> manifold3d.Manifold:
    """A plain tub of 40 x 40 x 20 with square holes in its floor, given by middle and width; with a wall across it."""
    inside = box(36, 36, 20, at=(2, 2, 2))
    solid = box(40, 40, 20) - inside
    if wall:
        solid += box(2, 36, 18, at=(19, 2, 1))
    for x, y, wide in holes:
        solid -= box(wide, wide, 9, at=(x - wide / 2, y - wide / 2, -1))
    return solid


@pytest.mark.parametrize(
    ("holes", "wall", "drains"),
    [
        ((), False, [0]),
        (((10, 10, 3.2),), False, [1]),
        (((10, 10, 2.8),), False, [0]),  # a drop closes it
        (((10, 10, 4), (30, 30, 4)), False, [2]),
        (((10, 10, 4),), True, [0, 1]),
        (((10, 10, 4), (30, 30, 4)), True, [1, 1]),
    ],
)
def test_drains_of_each_compartment(
    holes: tuple[tuple[float, float, float], ...],
    wall: bool,  # noqa: FBT001 - a column of the table
    drains: list[int],
) -> None:
    """Holes that a drop does not close, counted compartment by compartment."""
    assert sorted(len(found) for found in drains_of(shape(tub(*holes, wall=wall)))) == drains


def wet(trial: Trial, solid: manifold3d.Manifold, *, panel: float = -200.0) -> list[str]:
    """Codes of a wet space with this tray in it and panels moved aside along y."""
    changed = with_space(trial, wet=True).with_mesh("tray.stl", *arrays(solid))
    for name, x in (("panel-1", 0.0), ("panel-2", 36.2)):
        changed = changed.having("placements", name, space_from_part=moved(x, panel, 0))
    return [one.code for one in said(changed)]


def test_wet_lots_get_a_drained_floor(trial: Trial) -> None:
    """Without a hole, with one, with one over the panel, and all of it in a dry place."""
    assert wet(trial, tub()) == ["floor-undrained"]
    assert wet(trial, tub((10, 10, 4))) == []
    assert wet(trial, tub((10, 10, 4)), panel=0.0) == ["liner-undrained"]
    assert codes(trial.with_mesh("tray.stl", *arrays(tub()))) == []


# ---------------------------------------------------------------------------------------------------------- places


@pytest.mark.parametrize(
    ("lot", "space", "code"),
    [
        ({"keep_dry": True}, {"wet": True}, "lot-in-wet"),
        ({"keep_dry": True}, {"warm": True}, ""),
        ({"keep_cool": True}, {"warm": True}, "lot-in-warm"),
        ({"keep_cool": True}, {"wet": True}, ""),
    ],
)
def test_what_must_stay_dry_or_cool_does(trial: Trial, lot: dict[str, Any], space: dict[str, Any], code: str) -> None:
    """A stop by itself."""
    found = [one for one in codes(with_space(with_lot(trial, "dice", **lot), **space)) if one[0].startswith("lot-in")]
    assert found == ([(code, Severity.STOP, "dice")] if code else [])
