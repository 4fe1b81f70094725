from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from nookwright.checks.safety import check_safety
from nookwright.exchange.joint_models import KitJoint
from nookwright.ground.findings import Severity
from nookwright.survey.models import Hazard
from nookwright.survey.readings import Readings

if TYPE_CHECKING:
    from .conftest import Trial


def found(trial: Trial) -> list[tuple[str, Severity, str]]:
    """Codes, severities and subjects."""
    return [(f.code, f.severity, f.subject) for f in check_safety(trial.kit, trial.room)]


def with_lot(trial: Trial, name: str, **changes: Any) -> Trial:  # noqa: ANN401 - any key of a lot
    lots = [lot.model_copy(update=changes) if lot.id == name else lot for lot in trial.room.lot]
    return trial.with_room(lot=tuple(lots))


def with_space(trial: Trial, **changes: Any) -> Trial:  # noqa: ANN401 - any key of a space
    return trial.with_room(space=(trial.room.space[0].model_copy(update=changes),))


def test_harmless_things_have_no_findings(trial: Trial) -> None:
    """Dice and corks in a drawer that can bear them."""
    assert found(trial) == []


def test_a_blade_in_a_tray_is_a_warning(trial: Trial) -> None:
    """Lots with a blade in a plain tray warn; in another kind of part they do not."""
    sharp = with_lot(trial, "dice", hazard=Hazard.BLADE)
    assert found(sharp) == [("blade-in-tray", Severity.WARN, "dice")]
    assert found(sharp.having("parts", "tray", kind="cradle")) == []
    assert found(sharp.having("lots", "dice", places=())) == []


@pytest.mark.parametrize(
    ("out_of_reach", "children", "stops"), [(True, True, True), (True, False, False), (False, True, False)]
)
def test_what_must_be_out_of_reach_is(trial: Trial, out_of_reach: bool, children: bool, stops: bool) -> None:  # noqa: FBT001
    """Only a lot so marked in a space that children can reach is a stop."""
    changed = with_space(with_lot(trial, "corks", out_of_reach=out_of_reach), children=children)
    assert found(changed) == ([("out-of-reach", Severity.STOP, "corks")] if stops else [])


@pytest.mark.parametrize(("load_kg", "stops"), [(0.056, False), (0.0559, True)])
def test_the_load_is_added_up_anew(trial: Trial, load_kg: float, stops: bool) -> None:  # noqa: FBT001
    """Four parts of 5 g, four dice of 5 g, two corks of 8 g: 56 g, whatever kit.json says of the space."""
    assert found(with_space(trial, load_kg=load_kg)) == ([("load-over", Severity.STOP, "left")] if stops else [])


@pytest.mark.parametrize(
    ("standard", "height", "children", "warns"),
    [
        ("CR2032", 3.2, True, True),
        ("LR44", 5.4, True, True),
        ("CR2032", 3.2, False, False),
        ("LR6", 50.5, True, False),
        ("disc 14", 3.2, True, False),
        (None, 3.2, True, False),
    ],
)
def test_button_cells_within_reach_are_a_warning(
    trial: Trial,
    standard: str | None,
    height: float,
    children: bool,  # noqa: FBT001
    warns: bool,  # noqa: FBT001
) -> None:
    """Cells wider than high where children reach; not those out of reach, not long cells, not other round things."""
    lot = with_lot(trial, "corks", standard=standard, height=Readings(floor=(height,)))
    expected = [("button-cell-in-reach", Severity.WARN, "corks")] if warns else []
    assert found(with_space(lot, children=children)) == expected


def test_glue_is_cautioned_once_a_kit(trial: Trial) -> None:
    """Where a part is printed in pieces; joints that may stay dry are counted apart."""
    joint = KitJoint(hold="tongues", axis="x", at=18.0, span=(0.0, 36.0), places=((18.0, 0.0),), dry=True)
    dry = trial.having("parts", "tray", joints=(joint,))
    assert found(dry) == [("glue", Severity.NOTE, "kit")]
    (note,) = check_safety(dry.kit, dry.room)
    assert "Parts in pieces: 1, of which 0 must be glued" in note.text
    assert "skin" in note.remedy
    wet = trial.having("parts", "tray", joints=(joint.model_copy(update={"dry": False}),))
    assert "of which 1 must be glued" in check_safety(wet.kit, wet.room)[0].text
