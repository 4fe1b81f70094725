"""Faults put into a piece of a kit that does not print, found in its file by the proof of the whole kit."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.checks import prints
from nookwright.checks.closing import Losses, losses_of
from nookwright.checks.files import read_meshes
from nookwright.checks.print_words import CODES, Flaw, finding
from nookwright.checks.printable import flaws
from nookwright.checks.prints import Settings, _as_numbers, _from_numbers
from nookwright.exchange import kit as k
from nookwright.exchange.printing_models import BedPads
from nookwright.ground.findings import Against, Severity
from nookwright.survey.plastic_sheet import PlasticKind

from .conftest import arrays, box, panel_half, tray

if TYPE_CHECKING:
    from pathlib import Path

    import manifold3d

    from nookwright.checks.printable import Setting
    from nookwright.ground.findings import Finding

    from .conftest import Trial

FAULTS = ("bridge-long", "island-in-air", "overhang", "wall-thin")


def bridge() -> manifold3d.Manifold:
    """A bar between two walls of the tray."""
    return box(33.4, 3, 2, at=(1, 16, 20))


def fault(code: str) -> manifold3d.Manifold:
    """What is put into a tray so that it has a fault."""
    return {
        "bridge-long": bridge(),
        "island-in-air": bridge() + box(3, 3, 6, at=(16, 16, 14)),
        "overhang": box(8, 8, 2, at=(1, 14, 20)),
        "wall-thin": box(0.3, 20, 6, at=(30, 8, 4)),
    }[code]


def found_in(trial: Trial, solid: manifold3d.Manifold, file: str = "tray.stl") -> dict[str, Finding]:
    """Findings about how pieces print, by their codes, when a file holds another mesh."""
    return {each.code: each for each in trial.with_mesh(file, *arrays(solid)).proved() if each.code in CODES}


def test_the_tiny_kit_prints(trial: Trial) -> None:
    """Written again with its own meshes, no finding."""
    assert found_in(trial, tray()) == {}
    assert found_in(trial, panel_half(), "half.stl") == {}


@pytest.mark.parametrize("code", FAULTS)
def test_a_fault_is_found_in_the_file_of_the_kit(trial: Trial, code: str) -> None:
    """Said of the piece, with the place on the bed and what to do."""
    found = found_in(trial, tray() + fault(code))[code]
    assert found.subject == "tray"
    assert "from its left side" in found.text
    assert "above the bed" in found.text
    assert found.remedy


def test_what_falls_down_stops_the_kit(trial: Trial) -> None:
    """An overhang and an island stop; a long bridge is worth a thought."""
    severity = {code: found_in(trial, tray() + fault(code))[code].severity for code in FAULTS}
    assert severity == {
        "bridge-long": Severity.WARN,
        "island-in-air": Severity.STOP,
        "overhang": Severity.STOP,
        "wall-thin": Severity.WARN,
    }


def test_the_place_is_the_one_of_the_fault(trial: Trial) -> None:
    """The middle of the bridge between the walls, in its lowest layer."""
    text = found_in(trial, tray() + bridge())["bridge-long"].text
    assert text.startswith(
        "A bridge of 32.6 mm is longer than 20 mm; 17.7 from its left side, 17.5 from its front, 20.1 "
    )


def test_a_file_that_two_pieces_share_is_a_finding_about_each(trial: Trial) -> None:
    """Both halves of the panel have one mesh."""
    ledge = panel_half() + box(6, 12, 1, at=(15, 3, 3.5)) + box(2, 2, 3.1, at=(15, 8, 0.5))
    found = trial.with_mesh("half.stl", *arrays(ledge)).proved()
    assert [each.subject for each in found if each.code == "overhang"] == ["half", "half-back"]


def test_each_printer_has_its_own_layers(trial: Trial) -> None:
    """A slope that 0.2 carries at 0.3 too; a nozzle of 0.4 lays a wall that one of 0.8 leaves out."""
    fin = tray() + box(0.5, 20, 6, at=(30, 8, 4))
    assert found_in(trial, fin) == {}
    (printer,) = trial.room.printer
    wide = trial.with_room(printer=(printer.model_copy(update={"nozzle": 0.8}),))
    assert set(found_in(wide, fin)) == {"wall-thin"}


def test_a_verdict_is_reached_once(trial: Trial, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Proved again, the same findings without looking at a mesh; another mesh is looked at."""
    faulty = trial.with_mesh("tray.stl", *arrays(tray() + bridge()))
    first = faulty.proved(cache=tmp_path / "cache")
    looked: list[int] = []

    def looking(*mesh: Any, **how: Any) -> tuple[Flaw, ...]:  # noqa: ANN401 - those of flaws
        looked.append(1)
        return flaws(*mesh, **how)

    monkeypatch.setattr(prints, "flaws", looking)
    assert faulty.proved(cache=tmp_path / "cache") == first
    assert looked == []
    trial.with_mesh("tray.stl", *arrays(tray())).proved(cache=tmp_path / "cache")
    assert looked == [1]


def test_the_setting_is_the_one_of_the_printer_and_the_plastic(trial: Trial) -> None:
    """Losses come from what the kit says of the printer with the material, shrinkage from the plastic."""
    assert losses(trial) == losses_of(None)
    known = k.KitPrinterErrors(
        material="grey",
        basis="coupon",
        components=(k.KitPrinterError(name="inside", value=-0.1, uncertainty=0.0),
                    k.KitPrinterError(name="small holes", value=-0.2, uncertainty=0.0)),
    )  # fmt: skip
    assert losses(trial.having("printers", "small", errors=(known,))) == Losses(slit=0.1, hole=0.3)
    soft = trial.room.material[0].model_copy(update={"plastic": PlasticKind.TPU})
    hard = trial.room.material[0].model_copy(update={"plastic": PlasticKind.ABS})
    shrinkage = [setting_of(trial.with_room(material=(one,))).shrinkage for one in (soft, hard)]
    assert shrinkage == [0.0, pytest.approx(100e-6 * (80 - 30))]


def test_a_piece_with_pads_has_its_corners_held(trial: Trial) -> None:
    """Its shrinkage is left out of account; that the pads lie where they should is another check."""
    pads = BedPads(piece="tray", reach=8, height=0.2, count=4, mass_g=0.1)
    assert setting_of(trial).shrinkage > 0
    assert setting_of(trial.having("bedfuls", "bed-2", pads=(pads,))).shrinkage == 0


def setting_of(trial: Trial) -> Setting:
    """What the tray of the tiny kit is printed with."""
    (setting,) = Settings(trial.kit, trial.room).of_piece(next(one for one in trial.kit.pieces if one.id == "tray"))
    return setting


def losses(trial: Trial) -> Losses:
    """What its printer may take off insides."""
    return setting_of(trial).losses


def test_an_unsound_mesh_is_not_sliced(trial: Trial) -> None:
    """It is reported as unsound, and as nothing else of this kind."""
    shape = read_meshes(trial.folder, trial.kit).shapes["tray.stl"]
    codes = trial.with_mesh("tray.stl", shape.vertices, shape.triangles[:, ::-1]).codes()
    assert "mesh-inside-out" in codes
    assert not set(codes) & set(CODES)


figures = st.floats(0, 1e4)
any_flaw = st.builds(
    Flaw,
    code=st.sampled_from(CODES),
    count=st.integers(1, 99),
    measure=figures,
    limit=figures,
    at=st.tuples(figures, figures, figures),
    extent=figures,
)


@given(st.lists(any_flaw))
def test_flaws_survive_being_remembered(found: list[Flaw]) -> None:
    """As numbers and back, and each is said in a whole sentence."""
    assert _from_numbers(_as_numbers(found)) == tuple(found)
    for flaw in found:
        said = finding("tray", flaw)
        assert said.text.endswith(".")
        assert said.against == Against(flaw.measure, flaw.limit, said.against.unit if said.against else "")
        assert "{" not in said.text + said.remedy
