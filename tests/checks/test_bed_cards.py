from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from nookwright.checks.bed_cards import check_card
from nookwright.exchange.printing_models import BedChange, BedPads, BedSettings
from nookwright.exchange.threemf import BaseMaterial, Body, Paint, ThreeMF, read_3mf
from nookwright.ground.findings import Severity
from nookwright.making.beds.model import Item, Load
from nookwright.making.cards import PrintCard
from nookwright.making.estimate.settings import settings_of
from nookwright.survey.first_layer_wishes import Skirt
from nookwright.survey.printer_profile import PrinterProfile

if TYPE_CHECKING:
    from nookwright.exchange.kit import Bedful
    from nookwright.ground.findings import Finding
    from nookwright.survey.models import Printer

    from .conftest import Trial

PROFILE = PrinterProfile(skirt=Skirt(loops=2, distance=1))


@pytest.fixture
def carded(trial: Trial) -> Trial:
    """The tiny kit, its second bedful with a card, its printer with a skirt."""
    (printer,) = trial.room.printer
    printer = printer.model_copy(update={"profile": PROFILE})
    trial = trial.with_room(printer=(printer,))
    settings = settings_of(printer, 1.2)
    bedful = trial.kit.bedfuls[1]
    said = BedSettings(
        nozzle=0.4,
        layer=settings.layer,
        line_width=settings.line_width,
        walls=settings.walls,
        skin_below=settings.skin_below,
        skin_above=settings.skin_above,
        infill_percent=15.0,
        infill=settings.pattern.value,
        seam=settings.seam.value,
        brim=0.0,
        skirt_loops=2,
        skirt=1.0,
    )
    trial = trial.having("bedfuls", bedful.id, card="bed-2.txt", settings=said, mass_g=41.6, time_s=9000.0, night=False)
    (trial.folder / "bed-2.txt").write_text(card(trial, printer).text(), encoding="utf-8")
    return trial


def card(trial: Trial, printer: Printer) -> PrintCard:
    """The card of the second bedful."""
    bedful = bed(trial)
    load = Load("small", "grey", tuple(Item(one.piece, 0, 0) for one in bedful.items), 41.6, 9000.0, skirt=True)
    return PrintCard(
        title="trial: bedful 2",
        load=load,
        printer=printer,
        material=trial.room.material[0].model_copy(update={"name": "Grey"}),
        settings=settings_of(printer, 1.2),
        names={"tray": "tray 35x35 h24"},
    )


def bed(trial: Trial) -> Bedful:
    """The second bedful."""
    return next(one for one in trial.kit.bedfuls if one.id == "bed-2")


def found(trial: Trial) -> list[Finding]:
    """What is found of its card; the 3MF holds the card that was first written."""
    first = card(trial, trial.room.printer[0])
    content = ThreeMF(
        tuple(Body("tray 35x35 h24", one.part_number, one.vertices, one.triangles) for one in read(trial).bodies),
        (),
        (BaseMaterial("Grey", "#808080"),),
        (("Title", first.title), ("Description", first.in_one_line())),
    )
    return list(check_card(trial.folder, bed(trial), trial.kit, content, trial.room))


def read(trial: Trial) -> ThreeMF:
    """The file of the bedful."""
    return read_3mf(trial.folder / bed(trial).file)


def changed(trial: Trial, before: str, after: str) -> list[Finding]:
    """What is found after one change in the card."""
    path = trial.folder / "bed-2.txt"
    text = path.read_text(encoding="utf-8")
    assert before in text
    path.write_text(text.replace(before, after), encoding="utf-8")
    return found(trial)


def test_a_card_that_says_what_the_kit_says_is_sound(carded: Trial) -> None:
    """Read line by line."""
    assert found(carded) == []


def test_a_bedful_without_a_card_is_passed_over(trial: Trial) -> None:
    """Nothing is known of one."""
    assert list(check_card(trial.folder, bed(trial), trial.kit, read(trial), trial.room)) == []


def test_a_card_that_is_not_there_is_found(carded: Trial) -> None:
    """It is named, and missing."""
    (carded.folder / "bed-2.txt").unlink()
    assert [(one.code, one.severity) for one in found(carded)] == [("card-unreadable", Severity.STOP)]


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("nozzle 0.4", "nozzle 0.6"),
        ("#808080", "#818080"),
        ("Layers: 0.2 mm", "Layers: 0.3 mm"),
        ("Line width: 0.429", "Line width: 0.430"),
        ("Walls: 2", "Walls: 3"),
        ("5 above", "4 above"),
        ("15%", "20%"),
        ("15%, lines", "15%, grid"),
        ("Seam: back corner", "Seam: nearest"),
        ("Brim: none", "Brim: 3 mm"),
        ("Skirt: 2 lines", "Skirt: 1 lines"),
        ("Pieces: 2 x", "Pieces: 3 x"),
        ("at 100 %", "at 99 %"),
        ("Supports: none", "Pads: some\nSupports: none"),
    ],
)
def test_each_figure_of_a_card_that_was_changed_stops_the_print(carded: Trial, before: str, after: str) -> None:
    """By its own line, and since the 3MF has the card as it was."""
    findings = changed(carded, before, after)
    assert {(one.code, one.severity) for one in findings} == {("card-differs", Severity.STOP)}
    assert any("3MF" in one.text for one in findings)
    assert any("3MF" not in one.text for one in findings)


@pytest.mark.parametrize(("before", "after"), [("About 42 g", "About 44 g"), ("2.5 h", "2.7 h"), ("About", "Some")])
def test_grams_and_hours_that_were_changed_are_a_warning(carded: Trial, before: str, after: str) -> None:
    """With both figures."""
    findings = [one for one in changed(carded, before, after) if one.code == "card-figures"]
    assert [one.severity for one in findings] == [Severity.WARN]
    assert before == "About" or findings[0].against is not None


@pytest.mark.parametrize(
    "update",
    [
        {"layer": 0.3},
        {"line_width": 0.45},
        {"walls": 3},
        {"infill": "grid"},
        {"infill_percent": 20.0},
        {"seam": "nearest"},
        {"skin_above": 4},
        {"brim": 2.0},
        {"skirt_loops": 1},
        {"skirt": 4.0},
        {"nozzle": 0.6},
    ],
)
def test_a_kit_that_is_not_what_the_room_file_says_stops_the_print(carded: Trial, update: dict[str, Any]) -> None:
    """The settings of kit.json are those of the printer's profile."""
    settings = bed(carded).settings
    assert settings is not None
    other = carded.having("bedfuls", "bed-2", settings=settings.model_copy(update=update))
    key = next(iter(update)).removesuffix("_loops")
    assert any(f"kit.json says {key}" in one.text for one in found(other))


def test_a_printer_without_a_skirt_has_none(carded: Trial) -> None:
    """kit.json says two lines, the room file says nothing."""
    (printer,) = carded.room.printer
    bare = carded.with_room(printer=(printer.model_copy(update={"profile": PrinterProfile()}),))
    assert any("kit.json says skirt 2" in one.text for one in found(bare))


def test_pads_that_a_card_does_not_mention_are_found(carded: Trial) -> None:
    """The person must know that they are torn off."""
    pads = BedPads(piece="tray", reach=8.0, height=0.2, count=4, mass_g=0.1)
    texts = [one.text for one in found(carded.having("bedfuls", "bed-2", pads=(pads,)))]
    assert texts == ["Its card says nothing of pads; kit.json has 1 with pads."]


def test_a_change_of_filament_must_be_where_the_second_colour_begins(carded: Trial) -> None:
    """Before layer 121, on top of the tray; a layer elsewhere, or none in kit.json, stops the print."""
    path = carded.folder / "bed-2.txt"
    text = path.read_text(encoding="utf-8")
    line = "Colour change: to Grey before layer 121 (24.00 mm), 0.9 g purged\n"
    path.write_text(text.replace("Pieces: ", f"{line}Pieces: "), encoding="utf-8")

    def texts(change: BedChange | None) -> list[str]:
        trial = carded.having("bedfuls", "bed-2", change=change)
        return [one.text for one in found(trial) if "3MF is not" not in one.text and "card in its 3MF" not in one.text]

    on_top = BedChange(material="grey", layer=121, height=24.0, after_s=900.0, purge_g=0.9)
    assert texts(None) == [f'Its card says "{line.strip()}"; kit.json has none.']
    assert texts(on_top) == ["The filament changes, but in its 3MF nothing has a second colour."]
    other = on_top.model_copy(update={"layer": 120, "height": 23.8})
    assert any("before layer 120" in one for one in texts(other))


def test_the_layer_of_a_change_is_held_against_the_painted_faces(carded: Trial) -> None:
    """Faces of the second colour from 24.0 to 24.4, all others below: layer 121 is the first of it."""
    corners = np.array([(0, 0, z) for z in (0.0, 24.0, 24.0, 24.4)], np.float64)
    faces = np.array([(0, 1, 2), (1, 2, 3)], np.uint32)
    body = Body("tray", "tray", corners, faces, paint=(Paint(1, 1, 1),))
    materials = (BaseMaterial("Grey", "#808080"), BaseMaterial("Red", "#ff0000"))
    content = ThreeMF((body,), (), materials, ())

    def wrong(layer: int) -> bool:
        change = BedChange(material="grey", layer=layer, height=(layer - 1) * 0.2, after_s=900.0, purge_g=0.9)
        trial = carded.having("bedfuls", "bed-2", change=change)
        findings = check_card(trial.folder, bed(trial), trial.kit, content, trial.room)
        return any("The filament changes at" in one.text for one in findings)

    assert [wrong(layer) for layer in (119, 120, 121, 122, 123)] == [True, True, False, True, True]
