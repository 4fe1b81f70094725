"""The bar that tries the seat: long, light, and its sockets those of a tray of its length."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.checks.printable import printability
from nookwright.ground.errors import RecipeError
from nookwright.ground.findings import Severity
from nookwright.layout.liner_model import PanelSpec
from nookwright.module.choice import module_of
from nookwright.module.lines import lines_of
from nookwright.module.seat import rings_of
from nookwright.parts.liner.panel import panel
from nookwright.parts.trials.gauge import DENSEST_G_CM3, MOST_SET_G, MOST_SET_S
from nookwright.parts.trials.seat_bar import fewest_cells, seat_bar

if TYPE_CHECKING:
    from tests.parts.conftest import Bench

MODULES = [module_of(pitch, 6.0, 0.2, "for the tests") for pitch in (17.0, 18.0, 24.0)]


@pytest.mark.parametrize("module", MODULES, ids=lambda module: f"{module.pitch:g}")
def test_a_bar_is_long_cheap_and_prints_without_support(bench: Bench, module: object) -> None:
    """120 mm and more, one body, and no dearer than a set of gauges."""
    part = seat_bar(module, fewest_cells(module.pitch))  # type: ignore[arg-type, attr-defined]
    mesh = bench.mesh(part)
    assert part.size[0] >= 120
    assert (mesh.components, mesh.genus) == (1, fewest_cells(module.pitch) - 2)  # type: ignore[attr-defined]
    assert part.plastic.body_mm3 == pytest.approx(mesh.volume_mm3, rel=0.03)
    assert part.plastic.mass_g(DENSEST_G_CM3) <= MOST_SET_G
    assert part.plastic.time_s(0.2) <= MOST_SET_S
    line = lines_of(1.2, 0.4, 0.2)
    assert line is not None
    found = printability(part.name, mesh.vertices, mesh.triangles, layer=0.2, line=line.width)
    assert [each for each in found if each.severity is not Severity.NOTE] == []


def test_its_sockets_are_those_of_the_widest_place_of_a_tray_of_its_length() -> None:
    """The clearance of the first and last socket of a tray one cell deep."""
    part = seat_bar(MODULES[1], 9)
    tray = rings_of(9, 1, MODULES[1].pitch)
    assert dict(part.parameters)["clearance"] == tray[-1].clearance


def test_a_bar_lies_on_a_row_of_the_liner_with_a_cone_in_each_socket(bench: Bench) -> None:
    """Put on the straps it shares nothing with the panel; moved aside by more than the clearance it does."""
    module, cells = MODULES[1], fewest_cells(18.0)
    row = bench.solid(panel(module, PanelSpec(cells, 3, (), True, ())))  # noqa: FBT003 - a record's field
    part = seat_bar(module, cells)
    x = (cells * module.pitch - 0.4 - part.size[0]) / 2
    y = module.pitch / 2 - 0.2 - part.size[1] / 2
    clearance = float(dict(part.parameters)["clearance"])  # type: ignore[arg-type]
    z = module.seat.panel + 1e-4
    assert bench.shared_mm3(row, bench.solid(part, x=x, y=y, z=z)) < 1e-3
    assert bench.shared_mm3(row, bench.solid(part, x=x + clearance + 0.1, y=y, z=z)) > 0.1


@pytest.mark.parametrize("cells", [5, 8])
def test_a_bar_that_is_short_or_misses_a_cone_is_refused(cells: int) -> None:
    """With the next number that does."""
    with pytest.raises(RecipeError, match=r"Take (7|9)\."):
        seat_bar(MODULES[1], cells)
