from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from nookwright.making.beds.model import ColourChange, Item, Load
from nookwright.making.cards import PrintCard
from nookwright.making.colours import PURGE_MM3, Lettering, lettering_of
from nookwright.making.estimate.settings import settings_of
from nookwright.solids.triangles import Feature, Mesh
from nookwright.survey.bed_wishes import OneByOne
from nookwright.survey.first_layer_wishes import Skirt
from nookwright.survey.models import Choices, Material, Printer, Room
from nookwright.survey.printer_profile import PrinterProfile

WHITE = Material(id="white", name="PLA white", colour="#ffffff", density_g_cm3=1.24)
RED = Material(id="red", name="PLA red", colour="#ff0000", density_g_cm3=1.25)
PRINTER = Printer(
    id="small", bed_width=120, bed_depth=120, bed_height=100, materials=("white", "red"), profile=PrinterProfile(brim=2)
)
LOAD = Load("small", "white", (Item("tray", 5, 5), Item("tray", 60, 5, 1), Item("key", 5, 60)), 41.6, 9000.0)


def card(load: Load = LOAD, lettering: Lettering | None = None) -> PrintCard:
    """The card of a bedful of two trays and a key."""
    return PrintCard(
        title="Tiny room: bedful 1",
        load=load,
        printer=PRINTER,
        material=WHITE,
        settings=settings_of(PRINTER, 1.2),
        names={"tray": "tray 42x60 h24", "key": "key 8x12"},
        lettering=lettering,
    )


def test_a_card_says_all_that_is_set_before_printing() -> None:
    """From the very record that the estimates rest on."""
    settings = settings_of(PRINTER, 1.2)
    lines = card().lines()
    assert lines[0] == "Tiny room: bedful 1"
    assert "Material: PLA white (#ffffff)" in lines
    assert "About 42 g and 2.5 h, heating included" in lines
    assert f"Line width: {settings.line_width:.3f} mm for everything; walls are whole lines of it" in lines
    assert "Layers: 0.2 mm, the first as high as the others" in lines
    assert "Skins: 3 solid layers below, 5 above" in lines
    assert "Infill: 15%, lines" in lines
    assert "Seam: back corner" in lines
    assert "Brim: 2 mm" in lines
    assert any(line.startswith("Scale: Print at 100 %") for line in lines)
    assert lines[-1] == "Pieces: 2 x tray 42x60 h24, 1 x key 8x12"


def test_a_card_is_one_line_of_metadata_and_a_file_of_lines() -> None:
    """The same words; the title is metadata of its own."""
    assert card().text().splitlines() == list(card().lines())
    assert card().in_one_line() == "; ".join(card().lines()[1:])


def test_a_card_warns_of_the_night_and_of_the_order() -> None:
    """Only where there is something to say."""
    assert not any(line.startswith(("Not at night", "Order")) for line in card().lines())
    careful = Load(LOAD.printer, LOAD.material, LOAD.items, 1.0, 60.0, night=False, one_by_one=True)
    assert sum(line.startswith(("Not at night", "Order")) for line in card(careful).lines()) == 2


def room(text: str, **more: object) -> Room:
    """A room with lettering in a colour, and the one printer."""
    return Room.model_construct(  # type: ignore[call-arg]
        choices=Choices(colours={"text": text}), material=(WHITE, RED), printer=(PRINTER.model_copy(update=more),)
    )


def slab(low: float, high: float) -> tuple[np.ndarray, np.ndarray]:
    """A few faces between two heights."""
    vertices = np.array([(0, 0, low), (9, 0, low), (0, 9, low), (0, 0, high)], np.float64)
    return vertices, np.array([(0, 2, 1), (0, 1, 3), (1, 2, 3), (2, 0, 3)], np.uint32)


def lettered(base: float, low: float, high: float) -> Mesh:
    """A base up to a height, and lettering between two others."""
    (one, first), (two, second) = slab(0.0, base), slab(low, high)
    return Mesh(np.concatenate([one, two]), np.concatenate([first, second + 4]), (Feature("text", 4, 4),))


def plain(high: float) -> Mesh:
    """Something without lettering."""
    return Mesh(*slab(0.0, high))


def test_lettering_on_top_of_all_is_one_change_before_a_layer() -> None:
    """Letters from 1.0 up, in layers of 0.2: the sixth layer is the first in red, and the purge is counted."""
    found = lettering_of(LOAD, room("red"), [lettered(1.0, 1.0, 1.4), plain(0.6)])
    assert found is not None
    assert (found.layer, found.height) == (6, 1.0)
    assert found.purge_g == pytest.approx(PURGE_MM3 / 1000 * 1.25)
    assert "Colour change: to PLA red before layer 6 (1.00 mm), 0.9 g purged" in card(lettering=found).lines()


@pytest.mark.parametrize("meshes", [[lettered(1.0, 0.6, 1.0)], [lettered(1.0, 1.0, 1.4), plain(24.0)]])
def test_lettering_beside_something_higher_is_no_change_at_a_height(meshes: list[Mesh]) -> None:
    """It would colour the rest as well: the card says so, and nothing is purged."""
    found = lettering_of(LOAD, room("red"), meshes)
    assert found is not None
    assert (found.layer, found.purge_g) == (None, 0.0)
    assert any("marked as PLA red" in line for line in card(lettering=found).lines())


def test_lettering_in_the_same_or_no_colour_asks_for_nothing() -> None:
    """Nor does a bed without lettering, nor a printer without that colour."""
    mesh = lettered(1.0, 1.0, 1.4)
    assert lettering_of(LOAD, room("white"), [mesh]) is None
    assert lettering_of(LOAD, room("red"), [plain(5.0)]) is None
    assert lettering_of(LOAD, room("red", materials=("white",)), [mesh]) is None


def test_the_head_of_a_printer_is_no_matter_of_settings() -> None:
    """One by one changes where things lie, not how they are printed."""
    head = PRINTER.model_copy(update={"one_by_one": OneByOne(radius=20, height=20)})
    assert settings_of(head, 1.2) == settings_of(PRINTER, 1.2)


def test_a_change_of_filament_says_when_someone_must_be_there() -> None:
    """With the hours from the start, and that it is nothing for the night."""
    found = Lettering(RED, 6, 1.0, 0.9)
    load = replace(LOAD, night=False, change=ColourChange("red", 6, 1.0, 1500.0, 0.9))
    lines = card(load, found).lines()
    assert "Colour change: to PLA red before layer 6 (1.00 mm), about 0.4 h after the start, 0.9 g purged" in lines
    assert "Not at night: someone must change its filament on the way" in lines


def test_one_by_one_no_single_height_changes_the_colour() -> None:
    """Each piece would need its own change; a piece alone on the bed does not."""
    meshes = [lettered(1.0, 1.0, 1.4)]
    several = replace(LOAD, one_by_one=True)
    alone = replace(several, items=LOAD.items[:1])
    layers = [found.layer for found in (lettering_of(load, room("red"), meshes) for load in (several, alone)) if found]
    assert layers == [None, 6]


def test_a_card_says_what_goes_round_a_first_layer_and_who_else_could_print_it() -> None:
    """Skirt and pads as they are on this bed; the other printer by its name, with its hours."""
    skirted = PRINTER.model_copy(update={"profile": PrinterProfile(brim=1, skirt=Skirt(loops=2, distance=2))})
    load = replace(LOAD, skirt=True, pads=(("tray", 8.0),), also_on=(("large", 7200.0),))
    made = replace(card(load), settings=settings_of(skirted, 1.2), printers={"large": "Large printer"})
    assert "Skirt: 2 lines round all pieces, 3 mm away" in made.lines()
    assert "Pads: discs of one layer at the corners of 2 long pieces; tear them off after" in made.lines()
    assert "Also on: Large printer (2.0 h)" in made.lines()
    assert "Skirt: none here, there is no room for it" in replace(made, load=LOAD).lines()
    assert "Skirt: none" in card().lines()
