"""Whether the files of sheets are those of kit.json."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest

from nookwright.checks.references import dangling
from nookwright.checks.sheets import check_sheets
from nookwright.exchange.dxf import dxf
from nookwright.exchange.kit import KitSheet
from nookwright.ground.digest import digest
from nookwright.parts.trays.bent_plan import rounded

from .conftest import room

if TYPE_CHECKING:
    from .conftest import Trial


@pytest.fixture
def lined(trial: Trial) -> Trial:
    """The trial kit with an inlay of felt for its first placement."""
    text = dxf((rounded(((0.0, 0.0), (30.0, 0.0), (30.0, 28.0), (0.0, 28.0)), 2.0),))
    (trial.folder / "inlay.dxf").write_bytes(text.encode())
    (trial.folder / "inlay.svg").write_text("<svg/>")
    sheet = KitSheet(
        id="sheet-01",
        use="inlay",
        size=(30.0, 28.0),
        thickness=2.0,
        count=1,
        placements=(trial.kit.placements[0].id,),
        dxf="inlay.dxf",
        dxf_sha256=digest(text),
        svg="inlay.svg",
        svg_sha256=digest("<svg/>"),
    )
    return replace(trial, kit=trial.kit.model_copy(update={"sheets": (sheet,)}))


def codes(trial: Trial) -> list[str]:
    """What is found."""
    return [finding.code for finding in check_sheets(trial.folder, trial.kit)]


def changed(trial: Trial, **changes: Any) -> Trial:  # noqa: ANN401 - any key of a sheet
    """The trial with another sheet in kit.json."""
    sheets = (trial.kit.sheets[0].model_copy(update=changes),)
    return replace(trial, kit=trial.kit.model_copy(update={"sheets": sheets}))


def test_sound_sheets_have_no_findings(lined: Trial) -> None:
    """Files, hashes, size and the tray that it goes into are there."""
    assert codes(lined) == []
    assert dangling(lined.kit, room()) == ()


def test_a_file_that_is_missing_or_changed_is_found(lined: Trial) -> None:
    """Of either kind."""
    (lined.folder / "inlay.svg").write_text("<svg></svg>")
    assert codes(lined) == ["file-changed"]
    (lined.folder / "inlay.dxf").unlink()
    assert codes(lined) == ["file-unreadable", "file-changed"]


@pytest.mark.parametrize("size", [(30.1, 28.0), (30.0, 27.9)])
def test_an_outline_of_another_size_is_found(lined: Trial, size: tuple[float, float]) -> None:
    """A tenth of a millimetre is enough."""
    assert codes(changed(lined, size=size)) == ["size-wrong"]


def test_a_sheet_for_a_tray_that_is_not_there_is_found(lined: Trial) -> None:
    """Its placement is looked up as all others are."""
    findings = dangling(changed(lined, placements=("nowhere",)).kit, room())
    assert [(finding.code, finding.subject) for finding in findings] == [("reference-dangling", "sheet-01")]
