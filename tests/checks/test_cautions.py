"""Each caution where it applies, and its twin where it does not."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any

import pytest

from nookwright.checks.cautions.check import check_cautions
from nookwright.checks.cautions.docs import renewed
from nookwright.checks.cautions.words import CAUTIONS, DEFERENCE, SAID_ELSEWHERE, caution, words_for
from nookwright.checks.verdicts import Verdicts
from nookwright.exchange.kit import BodyBeside
from nookwright.ground.findings import Severity
from nookwright.survey.models import Blocked, Hazard
from nookwright.survey.readings import Readings

ROOT = Path(__file__).resolve().parents[2]

if TYPE_CHECKING:
    from nookwright.ground.findings import Finding

    from .conftest import Trial


def said(trial: Trial) -> list[Finding]:
    """All cautions."""
    return list(check_cautions(trial.kit, trial.room, {}, Verdicts(None)))


def found(trial: Trial) -> list[tuple[str, Severity, str]]:
    """Codes, severities and subjects."""
    return sorted((one.code, one.severity, one.subject) for one in said(trial))


def with_lot(trial: Trial, name: str, **changes: Any) -> Trial:  # noqa: ANN401 - any key of a lot
    lots = [lot.model_copy(update=changes) if lot.id == name else lot for lot in trial.room.lot]
    return trial.with_room(lot=tuple(lots))


def with_space(trial: Trial, **changes: Any) -> Trial:  # noqa: ANN401 - any key of a space
    return trial.with_room(space=(trial.room.space[0].model_copy(update=changes),))


def with_choices(trial: Trial, **changes: Any) -> Trial:  # noqa: ANN401 - any key of the choices
    return trial.with_room(choices=trial.room.choices.model_copy(update=changes))


def test_harmless_things_have_no_cautions(trial: Trial) -> None:
    """Dice and corks in a drawer at the height of a table."""
    assert found(trial) == []


# ------------------------------------------------------------------------------------------------ children's reach


@pytest.mark.parametrize(
    ("lot", "space", "reach", "code"),
    [
        ({"out_of_reach": True}, {"children": True}, None, "out-of-reach"),
        ({"out_of_reach": True}, {"children": False}, None, ""),
        ({"out_of_reach": True}, {"children": True, "locked": True}, None, ""),
        ({"out_of_reach": True}, {"children": True, "floor_height": 999}, 1000, "out-of-reach"),
        ({"out_of_reach": True}, {"children": True, "floor_height": 1001}, 1000, ""),
        ({"out_of_reach": True}, {"children": False, "floor_height": 999}, 1000, "reach-doubtful"),
        ({"out_of_reach": True}, {"children": False, "floor_height": 1001}, 1000, ""),
        ({"out_of_reach": True}, {"children": False, "locked": True, "floor_height": 999}, 1000, ""),
        ({"out_of_reach": False}, {"children": False, "floor_height": 999}, 1000, ""),
    ],
)
def test_what_must_be_out_of_reach_is(
    trial: Trial, lot: dict[str, Any], space: dict[str, Any], reach: float | None, code: str
) -> None:
    """A stop where children get in, by word and by height; a warning where only a lock would keep them out."""
    changed = with_choices(
        with_space(with_lot(trial, "corks", **lot), **space), children_reach=reach, small_children=False
    )
    severity = {"out-of-reach": Severity.STOP, "reach-doubtful": Severity.WARN}
    assert found(changed) == ([(code, severity[code], "corks")] if code else [])


def test_the_height_stands_beside_what_children_reach(trial: Trial) -> None:
    """For whoever reads findings by machine."""
    high = with_space(with_lot(trial, "corks", out_of_reach=True), children=True, floor_height=700)
    (one,) = said(with_choices(high, children_reach=1000, small_children=False))
    assert one.against is not None
    assert (one.against.computed, one.against.limit, one.against.unit) == (700, 1000, "mm")
    assert "700 mm high and they reach 1000 mm" in one.text


# ---------------------------------------------------------------------------------------------------------- blades


def test_a_blade_in_a_tray_is_a_warning(trial: Trial) -> None:
    """Lots with a blade in a plain tray warn; in another kind of part the usual caution is left."""
    sharp = with_lot(trial, "dice", hazard=Hazard.BLADE)
    usual = ("blades", Severity.NOTE, "kit")
    assert found(sharp) == [("blade-in-tray", Severity.WARN, "dice"), usual]
    assert found(sharp.having("parts", "tray", kind="cradle")) == [usual]
    assert found(sharp.having("lots", "dice", places=())) == []


@pytest.mark.parametrize(
    ("offset", "size", "shut_in"),
    [
        ((0.0, -63.0, 0.0), (20.0, 120.0, 15.0), False),  # beyond the front of the first tray
        ((0.0, -20.0, 0.0), (20.0, 62.0, 15.0), True),  # in the trays for the most part
        ((0.0, -20.0, 40.0), (20.0, 62.0, 15.0), False),  # above them
        ((90.0, 0.0, 0.0), (20.0, 62.0, 15.0), False),  # beside them
        ((0.0, -63.0, 0.0), (20.0, 50.0, 15.0), True),  # free, but too short for a hand
    ],
)
def test_a_handle_can_be_taken(
    trial: Trial,
    offset: tuple[float, float, float],
    size: tuple[float, float, float],
    shut_in: bool,  # noqa: FBT001 - a column of the table
) -> None:
    """60 of it are clear of the parts that hold the blade, beyond, beside or above them."""
    (place,) = next(lot for lot in trial.kit.lots if lot.id == "dice").places
    behind = ((1.0, 0.0, 0.0, 0.3), (0.0, 1.0, 0.0, 36.0), (0.0, 0.0, 1.0, 0.6), (0.0, 0.0, 0.0, 1.0))
    lying = place.model_copy(
        update={
            "at": ((17.7, 35.0, 5.0),),
            "size": (2.0, 60.0, 15.0),
            "held_by": ("tray-2",),
            "count": 1,
            "beside": BodyBeside(size=size, offset=offset),
        }
    )
    held = with_lot(trial, "dice", hazard=Hazard.BLADE).having("lots", "dice", places=(lying,))
    held = held.having("placements", "tray-2", space_from_part=behind).having("parts", "tray", kind="rest")
    codes = [code for code, _, _ in found(held)]
    assert codes == (["blade-handle", "blades"] if shut_in else ["blades"])


# ----------------------------------------------------------------------------------------------------------- cells


@pytest.mark.parametrize(
    ("standard", "height", "children", "codes"),
    [
        ("CR2032", 3.2, True, ["button-cell-in-reach", "button-cells", "cells-loose"]),
        ("LR44", 5.4, True, ["button-cell-in-reach", "button-cells"]),
        ("CR2032", 3.2, False, ["button-cells", "cells-loose"]),
        ("LR6", 50.5, True, []),
        ("18650", 65, False, ["cells-loose"]),
        ("6LR61", 48.5, False, ["cells-loose"]),
        ("disc 14", 3.2, True, []),
        (None, 3.2, True, []),
    ],
)
def test_cells(trial: Trial, standard: str | None, height: float, children: bool, codes: list[str]) -> None:  # noqa: FBT001
    """Wider than high where children reach; lithium, or both poles on one face, where they lie loose."""
    size = {"standard": standard, "height": Readings(floor=(height,))}
    changed = with_choices(with_space(with_lot(trial, "corks", **size), children=children), small_children=False)
    assert [code for code, _, _ in found(changed)] == codes


def test_cells_in_pockets_do_not_lie_loose(trial: Trial) -> None:
    """The twin of the row above: in a cradle each has its own place."""
    size = {"standard": "CR2032", "height": Readings(floor=(3.2,))}
    pocketed = with_lot(trial, "corks", **size).having("parts", "tray", kind="cradle")
    assert [code for code, _, _ in found(pocketed)] == ["button-cells"]


# -------------------------------------------------------------------------------------------- handling and places


@pytest.mark.parametrize(("floor_height", "said_so"), [(1405, False), (1406, True)])
def test_loads_above_the_eyes(trial: Trial, floor_height: float, said_so: bool) -> None:  # noqa: FBT001
    """Trays of 24 on a liner of 0.6: 24.6 above the floor of the space, against eyes at 1430."""
    high = with_space(trial, floor_height=floor_height)
    assert found(high) == ([("overhead", Severity.NOTE, "left")] if said_so else [])


def test_glue_is_said_where_parts_are_in_pieces(trial: Trial) -> None:
    """Once for the kit, where they must be glued; not where they are held dry."""
    joint, dry = SimpleNamespace(dry=False), SimpleNamespace(dry=True)
    assert said(trial.having("parts", "tray", joints=(dry,))) == []
    (one,) = said(trial.having("parts", "tray", joints=(dry, joint)))
    assert (one.code, one.subject) == ("glue", "kit")
    assert one.text.startswith("Printed in pieces that must be glued: tray. Superglue joins skin")


@pytest.mark.parametrize(
    ("kind", "parameters", "codes"),
    [
        ("riser", {"inside": "hollow"}, ["ballast"]),
        ("riser", {"inside": "solid"}, []),
        ("lid", {}, []),
    ],
)
def test_what_parts_bring_with_them(trial: Trial, kind: str, parameters: dict[str, Any], codes: list[str]) -> None:
    """A hollow riser may be filled; a lid is nothing by itself."""
    assert [code for code, _, _ in found(trial.having("parts", "tray", kind=kind, parameters=parameters))] == codes


def test_a_lid_is_no_lock_where_children_are_about(trial: Trial) -> None:
    """Whether the room says how high they reach, which space they open, or what is kept from them."""
    lidded = trial.having("parts", "tray", kind="lid")
    assert found(with_choices(lidded, children_reach=400)) == [("latch-no-lock", Severity.NOTE, "kit")]
    away = with_lot(lidded, "corks", out_of_reach=True)
    assert found(away) == [("latch-no-lock", Severity.NOTE, "kit")]


def test_heat_food_and_services(trial: Trial) -> None:
    """Only what the room says of its spaces and lots."""
    assert found(with_space(trial, warm=True)) == [("heat", Severity.NOTE, "kit")]
    assert found(with_space(trial, warmest_c=41)) == [("heat", Severity.NOTE, "kit")]
    assert found(with_space(trial, warmest_c=39)) == []
    assert found(with_lot(trial, "corks", food=True)) == [("food-contact", Severity.NOTE, "kit")]
    pipe = Blocked(reason="gas tap", service=True, width=9, depth=9)
    (one,) = said(with_space(trial, blocked=(pipe,)))
    assert (one.code, one.subject) == ("service-path", "left")
    assert "gas tap" in one.text
    catch = pipe.model_copy(update={"service": False})
    assert found(with_space(trial, blocked=(catch,))) == []


# ----------------------------------------------------------------------------------------------------------- words


@pytest.mark.parametrize("code", sorted(CAUTIONS))
def test_every_caution_is_whole(code: str) -> None:
    """Title, remedy and source; whole sentences; what is judged on site, or by licence, says so."""
    words = CAUTIONS[code]
    assert words.title
    assert words.source.endswith(".")
    one = caution(code, "x", "It is so.")
    assert one.text.startswith("It is so.")
    assert one.text.endswith(".")
    assert one.remedy.endswith(".")
    assert one.severity is words.severity


def test_what_other_checks_say_with_figures_has_its_words_here_too() -> None:
    """So that the page gives a source for each; other findings are no cautions."""
    assert words_for("furniture-unsaid") is CAUTIONS["furniture-tips"]
    assert words_for("glue") is CAUTIONS["glue"]
    assert words_for("parts-collide") is None
    assert set(SAID_ELSEWHERE.values()) <= set(CAUTIONS)


def test_the_page_of_the_docs_says_the_same() -> None:
    """Made anew from the table of words it does not change."""
    page = (ROOT / "docs" / "safety.md").read_text(encoding="utf-8")
    assert page == renewed(page)
    for words in CAUTIONS.values():
        assert words.source in page


def test_local_codes_and_licensed_people_have_the_last_word() -> None:
    """Where gas, mains, water, walls or tall furniture are in play, and for all of it together."""
    for code in ("service-path", "wall-fixings", "furniture-tips"):
        assert "licensed person" in CAUTIONS[code].remedy
    assert "codes" in DEFERENCE
    assert "licensed" in DEFERENCE
