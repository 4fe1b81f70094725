"""Made-up shapes that do not print, each with a twin that does, and what must hold of both."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import manifold3d
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.checks.printable import printability
from nookwright.checks.sections import Sections
from nookwright.ground.errors import SolidError
from nookwright.ground.findings import Severity

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.exchange.stl import Triangles, Vertices
    from nookwright.ground.findings import Finding


LAYER, LINE = 0.2, 0.43


def look(solid: manifold3d.Manifold, layer: float = LAYER) -> dict[str, Finding]:
    """All findings of a solid, by their codes."""
    found = printability("trial", *arrays(solid), layer=layer, line=LINE)
    assert [each.subject for each in found] == ["trial"] * len(found)
    return {each.code: each for each in found}


def arrays(solid: manifold3d.Manifold) -> tuple[Vertices, Triangles]:
    """Vertices and triangles of a solid."""
    mesh = solid.to_mesh64()
    return np.array(mesh.vert_properties)[:, :3], np.array(mesh.tri_verts).astype(np.int64)


def box(
    width: float, depth: float, height: float, *, at: tuple[float, float, float] = (0, 0, 0)
) -> manifold3d.Manifold:
    """A box with its corner at a point."""
    return manifold3d.Manifold.cube([width, depth, height]).translate(at)


def joined(*solids: manifold3d.Manifold) -> manifold3d.Manifold:
    """One solid of several."""
    return manifold3d.Manifold.batch_boolean(list(solids), manifold3d.OpType.Add)


def tee() -> manifold3d.Manifold:
    """A post with a beam across its top that hangs out by 10 on both sides."""
    return joined(box(6, 6, 20, at=(10, 0, 0)), box(26, 6, 4, at=(0, 0, 20)))


def braced_tee() -> manifold3d.Manifold:
    """The same with braces of 45 degrees under the beam."""
    brace = manifold3d.CrossSection(
        [np.array([(10.0, 9.9), (16, 9.9), (26.1, 20), (26.1, 24), (-0.1, 24), (-0.1, 20)])]
    )
    lying = brace.extrude(6).rotate([90, 0, 0]).translate([0, 6, 0])
    return joined(box(6, 6, 20, at=(10, 0, 0)), lying)


def portal(span: float) -> manifold3d.Manifold:
    """A doorway of this width."""
    return box(span + 10, 5, 20) - box(span, 7, 12, at=(5, -1, -1))


def arch() -> manifold3d.Manifold:
    """A doorway of 30 whose head rises at 45 degrees from both sides to a flat of 6."""
    head = manifold3d.CrossSection([np.array([(5.0, -1), (35, -1), (35, 5), (23, 17), (17, 17), (5, 5)])])
    return box(40, 5, 24) - head.extrude(7).rotate([90, 0, 0]).translate([0, 6, 0])


def cone(lower: float, upper: float, height: float) -> manifold3d.Manifold:
    """A cone on the bed."""
    return manifold3d.Manifold.cylinder(height, lower, upper, 96)


def wheel(rim: float) -> manifold3d.Manifold:
    """A lid over a round pot of this inner radius: carried all round."""
    return manifold3d.Manifold.cylinder(10, rim + 2, rim + 2, 96) - manifold3d.Manifold.cylinder(
        9, rim, rim, 96
    ).translate([0, 0, -1])


@pytest.mark.parametrize(
    ("shape", "codes"),
    [
        (lambda: box(20, 20, 10), set()),
        (tee, {"overhang"}),
        (braced_tee, set()),
        (lambda: cone(5, 20, 10), {"overhang"}),  # 56 degrees
        (lambda: cone(5, 15, 10), set()),  # 45 degrees
        (lambda: cone(5, 12, 10), set()),
        (lambda: portal(18), set()),
        (lambda: portal(19.9), set()),
        (lambda: portal(30), {"bridge-long"}),
        (arch, set()),
        (lambda: wheel(9.5), set()),
        (lambda: wheel(15), {"bridge-long"}),
        (lambda: joined(box(20, 20, 5), box(5, 5, 5, at=(7, 7, 8))), {"island-in-air"}),
        (lambda: joined(box(20, 20, 5), box(5, 5, 5, at=(7, 7, 4))), set()),
        (lambda: joined(box(20, 20, 2), box(0.3, 15, 10, at=(10, 2, 1))), {"wall-thin"}),
        (lambda: joined(box(20, 20, 2), box(0.43, 15, 10, at=(10, 2, 1))), set()),
        (lambda: box(4.2, 4.2, 5), {"first-layer-small"}),
        (lambda: box(4.6, 4.6, 5), set()),
        (lambda: joined(portal(18), box(0.3, 0.3, 15, at=(14, 2, 0))), {"first-layer-small"}),
        (lambda: joined(portal(18), box(0.6, 0.6, 15, at=(14, 2, 0))), set()),
        (lambda: joined(box(20, 20, 1), box(9, 9, 100, at=(5, 5, 0))), set()),
        (lambda: box(12, 12, 121), {"tall-slim"}),
        (lambda: box(12, 12, 119), set()),
        (lambda: box(6, 6, 37), {"knocked-over"}),
        (lambda: box(6, 6, 35), set()),
    ],
)  # fmt: skip
def test_a_shape_and_its_sound_twin(shape: Callable[[], manifold3d.Manifold], codes: set[str]) -> None:
    """Each shape has exactly these faults."""
    assert set(look(shape())) == codes


def test_a_bridge_hangs_where_one_of_its_ends_is_free() -> None:
    """A balcony along a wall, carried on its long side only."""
    assert set(look(joined(box(30, 4, 20), box(30, 10, 3, at=(0, 3, 17))))) == {"overhang"}


def test_a_slab_in_a_corner_hangs() -> None:
    """Carried on two sides that meet: lines across the corner hold, those at the far corner do not."""
    walls = joined(box(30, 3, 20), box(3, 30, 20))
    assert set(look(joined(walls, box(30, 30, 2, at=(0, 0, 18))))) == {"overhang"}


def test_a_tip_that_points_down_begins_in_the_air() -> None:
    """Steep as its sides are."""
    rim = [(10 + 2 * math.cos(n / 8 * math.pi), 5 + 2 * math.sin(n / 8 * math.pi), 14.0) for n in range(16)]
    tip = manifold3d.Manifold.hull_points([(10.0, 5.0, 4.0), *rim])
    beam = box(20, 10, 3, at=(0, 0, 12)) - box(16, 6, 1, at=(2, 2, 11))
    legs = joined(box(2, 10, 14), box(2, 10, 14, at=(18, 0, 0)))
    assert "island-in-air" in look(joined(legs, tip, beam))


def test_the_figures_are_those_of_the_shape() -> None:
    """Span of the bridge, area of the hanging wings less what 45 degrees carry, times the height of a slim piece."""
    assert "of 29.6 mm" in look(portal(30))["bridge-long"].text  # 30, less 0.21 at each end
    wing = 6 * (10 - 0.21)
    assert f"largest {wing:.1f} mm2" in look(tee())["overhang"].text
    assert look(box(6, 6, 90))["tall-slim"].text.startswith("It stands 15 times")


def test_how_bad_it_is() -> None:
    """What falls down stops; what may look bad warns."""
    assert look(tee())["overhang"].severity is Severity.STOP
    assert look(portal(30))["bridge-long"].severity is Severity.WARN
    assert look(box(6, 6, 90))["tall-slim"].severity is Severity.NOTE


def test_each_figure_stands_beside_its_limit() -> None:
    """For whoever reads findings by machine: what was found, what it may be, and in what unit."""
    post, thin = look(box(6, 6, 90)), look(joined(box(20, 20, 2), box(0.3, 15, 10, at=(10, 2, 1))))
    for found, computed, limit, unit in (
        (look(portal(30))["bridge-long"], pytest.approx(30, abs=0.5), 20, "mm"),
        (post["tall-slim"], pytest.approx(15), 10, "1"),
        (post["knocked-over"], pytest.approx(90 * math.sqrt(2) / (6**3 / 6), rel=1e-3), 1.4, "MPa"),
        (thin["wall-thin"], pytest.approx(0.3, abs=0.02), pytest.approx(0.9 * LINE), "mm"),
    ):
        assert found.against is not None
        assert found.against.computed == computed
        assert found.against.limit == limit
        assert found.against.unit == unit


def test_the_first_layer_spreads_under_a_drawn_in_edge() -> None:
    """A step of 0.3 above the first layer is carried by its spread; the same step further up hangs."""
    low = joined(box(19.4, 19.4, 0.3, at=(0.3, 0.3, 0)), box(20, 20, 3, at=(0, 0, 0.2)))
    high = joined(box(19.4, 19.4, 2.3, at=(0.3, 0.3, 0)), box(20, 20, 3, at=(0, 0, 2.2)))
    assert look(low) == {}
    assert set(look(high)) == {"overhang"}


@settings(max_examples=25, deadline=None)
@given(angle=st.floats(0, 80), turn=st.floats(0, 360), x=st.floats(-50, 50), y=st.floats(-50, 50), z=st.floats(-20, 20))
def test_a_cone_hangs_from_45_degrees_on_wherever_it_stands(
    angle: float, turn: float, x: float, y: float, z: float
) -> None:
    """Some degrees of play: what one layer of 0.2 adds beyond 45 degrees must be more than the mesh's own error."""
    steep = cone(6, 6 + 8 * math.tan(math.radians(angle)), 8).rotate([0, 0, turn]).translate([x, y, z])
    codes = set(look(steep))
    if angle < 45:
        assert codes == set()
    if angle > 50:
        assert codes == {"overhang"}


@settings(max_examples=15, deadline=None)
@given(span=st.floats(3, 40), turn=st.floats(0, 360))
def test_a_portal_is_a_bridge_in_any_direction(span: float, turn: float) -> None:
    """Turned by any angle its span is measured to within a fiftieth."""
    codes = set(look(portal(span).rotate([0, 0, turn])))
    if span < 19.6:
        assert codes == set()
    if span > 21:
        assert codes == {"bridge-long"}


def test_only_few_layers_are_looked_at() -> None:
    """Of a portal of 100 layers one of the jambs and one of the lintel; only where the lintel begins may it hang."""
    sections = Sections(*arrays(portal(18)), LAYER)
    assert sections.count == 100
    assert sections.walls(6) == (0, 60)
    assert sections.hanging == (55,)
    assert sections.beginning == frozenset()


def waist() -> manifold3d.Manifold:
    """A fin that is too thin over 3 mm of its height, and thick again above."""
    side = [(0.8, 0), (0.8, 12), (0.3, 14), (0.3, 16), (0.8, 18), (0.8, 20)]
    fin = manifold3d.CrossSection([np.array([(0.0, 0.0), *side, (0.0, 20.0)])]).extrude(20)
    return joined(box(24, 24, 2), fin.rotate([90, 0, 0]).translate([10, 22, 1]))


def foot() -> manifold3d.Manifold:
    """A block on a foot that flares by 0.5 over 0.4: flatter than 45 degrees, within the spread of the first layer."""
    return joined(cone(6, 6.5, 0.4), manifold3d.Manifold.cylinder(9.6, 6.5, 6.5, 96).translate([0, 0, 0.4]))


SHAPES = [tee, arch, waist, foot, lambda: cone(8, 2, 12), lambda: cone(5, 17, 10), lambda: wedge(0.8, 0.2)]


def test_a_waist_is_found_and_a_spread_foot_is_not_looked_at() -> None:
    """Only layers in which something can be missing are cut; a wall that is thin for 3 mm in its middle is seen."""
    assert set(look(waist())) == {"wall-thin"}
    assert Sections(*arrays(foot()), LAYER).hanging == ()


@pytest.mark.parametrize("shape", SHAPES)
def test_looking_at_few_layers_finds_what_looking_at_all_finds(
    shape: Callable[[], manifold3d.Manifold], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The same kinds of fault, and of hanging places the same findings."""
    few = look(shape())
    monkeypatch.setattr(Sections, "walls", lambda self, _: tuple(range(self.count)))
    monkeypatch.setattr(Sections, "hanging", property(lambda self: tuple(range(1, self.count))))
    monkeypatch.setattr(Sections, "beginning", property(lambda self: frozenset(range(self.count))))
    every = look(shape())
    assert set(few) == set(every)
    assert [few[code] for code in few if code != "wall-thin"] == [every[code] for code in every if code != "wall-thin"]


def test_neither_a_floor_nor_a_ceiling_is_a_beginning() -> None:
    """Of a pot and of a bell whose ceiling has a point in its middle; what hangs in the bell is one."""
    pot = box(20, 20, 10) - box(16, 16, 10, at=(2, 2, 2))
    wall = manifold3d.CrossSection([np.array([(0.0, 8), (9, 8), (9, 0), (10, 0), (10, 10), (0, 10)])])
    bell = wall.revolve(48)
    assert Sections(*arrays(pot), LAYER).beginning == frozenset()
    assert Sections(*arrays(bell), LAYER).beginning == frozenset()
    clapper = Sections(*arrays(joined(bell, box(2, 2, 5, at=(-1, -1, 4)))), LAYER)
    assert clapper.beginning == frozenset({20})


def wedge(lower: float, upper: float) -> manifold3d.Manifold:
    """A fin of 20 that gets thinner upwards, on a plate."""
    fin = manifold3d.CrossSection([np.array([(0.0, 0), (lower, 0), (upper, 20), (0, 20)])]).extrude(20)
    return joined(box(24, 24, 2), fin.rotate([90, 0, 0]).translate([10, 22, 1]))


def test_an_edge_that_runs_out_is_no_thin_wall() -> None:
    """A wall of 0.86 that ends in a bevel of 45 degrees is too thin in its last two layers; one of 80 in twelve."""
    for top, codes in ((20.86, set()), (24.9, {"wall-thin"})):
        bevel = manifold3d.CrossSection([np.array([(0.0, 0), (0.86, 0), (0.86, 20), (0, top)])]).extrude(20)
        assert set(look(joined(box(24, 24, 2), bevel.rotate([90, 0, 0]).translate([10, 22, 1])))) == codes


def test_a_wall_that_gets_too_thin_on_its_way_up_is_found() -> None:
    """And its twin that ends in time is not."""
    assert set(look(wedge(0.8, 0.2))) == {"wall-thin"}
    assert look(wedge(0.8, 0.45)) == {}


def test_an_open_mesh_is_refused() -> None:
    """There is no inside to slice."""
    vertices, triangles = arrays(box(5, 5, 5))
    with pytest.raises(SolidError, match="closed"):
        printability("trial", vertices, triangles[1:], layer=LAYER, line=LINE)
