"""Blades, rests and dispensers, as a room file says them: what contradicts itself, with key and remedy."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.survey.dispensed import Dispensed
from nookwright.survey.load import check_room
from nookwright.survey.models import Keep

from .test_keeping_rules import BULK, CARDS, file_of

if TYPE_CHECKING:
    from pathlib import Path

THING = 'shape = "box"\nwidth = 300\ndepth = 40\nheight = 20\n'
SHARP = THING + 'hazard = "blade"\n'
BLADE = "[lot.blade]\nlength = 180\nheight = 30\nspine = 2\n"
ROD = 'shape = "round"\ndiameter = 12\nheight = 240\n'


def test_blades_shafts_and_dispensers_are_read(tmp_path: Path) -> None:
    """Lengths as people type them; the handle does not reach below the edge unless that is said."""
    lots = (SHARP + BLADE.replace("180", '"18 cm"'), ROD + 'keep = "rest"\n',
            CARDS + 'keep = "dispenser"\ndispenses = "bags"\n')  # fmt: skip
    room, faults = check_room(file_of(tmp_path, *lots))
    assert faults == ()
    assert room is not None
    knife, rod, cards = room.lot
    assert knife.blade is not None
    assert (knife.blade.length, knife.blade.handle_drop) == (180, 0)
    assert (rod.keep, cards.keep, cards.dispenses) == (Keep.REST, Keep.DISPENSER, Dispensed.BAGS)


@pytest.mark.parametrize(
    ("lot", "key", "remedy"),
    [
        (THING + BLADE, "hazard", 'hazard = "blade"'),
        (ROD + 'hazard = "blade"\n' + BLADE, "blade", 'shape = "box"'),
        (SHARP + BLADE.replace("spine = 2\n", ""), "spine", "spine = "),
        (SHARP + BLADE.replace("180", "301"), "blade.length", "from the heel to the tip"),
        (SHARP + BLADE.replace("= 30", "= 41"), "blade.height", "from the edge to the back"),
        (SHARP + BLADE.replace("spine = 2", "spine = 21"), "blade.spine", "how thick"),
        (SHARP + BLADE.replace("spine = 2", "spine = 0.2"), "blade.spine", "how thick"),
        (SHARP + 'keep = "rest"\n', "blade", "length, height and spine"),
        (THING + 'keep = "rest"\n', "keep", "if it is a blade"),
        (CARDS + 'keep = "rest"\n', "keep", "Delete `keep`"),
        (ROD + 'keep = "rest"\nstands = ["lying"]\n', "stands", "Delete `stands`"),
        (ROD + 'keep = "rest"\nbox = "tin"\n', "box", "Delete `box`"),
        (ROD + 'keep = "rest"\n[lot.tray]\ninlay = 2\n', "tray", "Delete `tray`"),
        (ROD + 'keep = "dispenser"\n', "keep", "size of the pack"),
        (BULK + 'keep = "dispenser"\n', "keep", "size of the pack"),
        (SHARP + 'keep = "dispenser"\n', "hazard", "Delete `hazard`"),
        (CARDS + 'keep = "dispenser"\nfloor = "shell"\n', "floor", "Delete `floor`"),
        (CARDS + 'dispenses = "bags"\n', "dispenses", 'keep = "dispenser"'),
    ],
)
def test_a_contradiction_names_its_key_and_what_to_do(tmp_path: Path, lot: str, key: str, remedy: str) -> None:
    """Each by itself, and nothing else is said."""
    room, faults = check_room(file_of(tmp_path, lot))
    assert room is None
    (fault,) = faults
    assert key in str(fault)
    assert remedy in str(fault)


@pytest.mark.parametrize("keep", ["rest", "dispenser"])
def test_a_tray_that_others_share_is_a_tray(tmp_path: Path, keep: str) -> None:
    """Neither a rest nor a dispenser has compartments."""
    host = (ROD if keep == "rest" else CARDS) + f'keep = "{keep}"\n'
    room, faults = check_room(file_of(tmp_path, host, BULK + 'shares = "a"\n'))
    assert room is None
    assert ["keep" in str(fault) and "let no lot share it" in str(fault) for fault in faults] == [True]
