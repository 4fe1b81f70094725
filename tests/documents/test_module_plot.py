from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np
import pytest

from nookwright.documents import style
from nookwright.documents.lettering import width
from nookwright.documents.module_plot import module_plot
from nookwright.exchange.svg import Box
from nookwright.module.choice import Decided, Inside, choose
from nookwright.sizing.usable import Usable
from nookwright.sizing.ways import Limits, ways_of
from nookwright.survey.models import FloorStyle, Lot

if TYPE_CHECKING:
    from nookwright.module.choice import ModuleChoice

SVG = "{http://www.w3.org/2000/svg}"


def household(decided: Decided) -> ModuleChoice:
    """The choice for two drawers and three lots."""
    sizes = ((367.0, 423.0), (549.0, 462.0))
    insides = tuple(Inside(Usable(f"s{w:g}", w, d, 80.0, 6.0, ())) for w, d in sizes)
    lots = (
        {"id": f"l{n}", "shape": "box", "width": 31 * n, "depth": 17 * n, "height": 30, "count": 9 - n}
        for n in (1, 2, 3)
    )
    ways = [ways_of(Lot.model_validate(lot), Limits(549.0, 80.0, 1.2, FloorStyle.SHELL)) for lot in lots]
    return choose(0.2, insides, ways, decided=decided)


def pitches_of(svg: str) -> ET.Element:
    """The group of the dots."""
    return next(group for group in ET.fromstring(svg).iter(f"{SVG}g") if group.get("class") == "pitches")  # noqa: S314 - ours


@pytest.mark.parametrize("decided", [Decided(), Decided(pitch=18.0), Decided(kept_pitch=18.2, change_percent=80)])
def test_every_pitch_has_one_dot_and_its_name(decided: Decided) -> None:
    """And one more circle for the ring round the choice, in the one colour that nothing else has."""
    choice = household(decided)
    group = pitches_of(module_plot(choice))
    circles, texts = group.findall(f"{SVG}circle"), [one.text for one in group.findall(f"{SVG}text")]
    assert len(circles) == len(choice.pitches) + 1
    assert [one.get("fill") for one in circles].count(style.RED) == 1
    named = {text.split(",")[0] for text in texts if text}
    assert named == {f"{row.pitch:g}" for row in choice.pitches}
    (chosen,) = (text for text in texts if text and "chosen" in text)
    assert chosen.startswith(f"{choice.module.pitch:g}")
    assert ("printed" in chosen) is bool(decided.kept_pitch)


def test_better_is_lower_and_farther_left() -> None:
    """Dots lie by their grams to the right, and by the floor that they lose upwards."""
    choice = household(Decided())
    dots = [one for one in pitches_of(module_plot(choice)).findall(f"{SVG}circle") if one.get("fill") != "none"]
    places = sorted((float(one.get("cx", "0")), -float(one.get("cy", "0"))) for one in dots)
    rows = [(row.mass_g, row.lost_dm2) for row in choice.pitches]
    scales = []
    for axis in (0, 1):
        figures, on_paper = [row[axis] for row in rows], [one[axis] for one in places]
        ends = [min(figures), max(figures)], [min(on_paper), max(on_paper)]
        scales.append(np.interp(figures, *ends))
    apart = np.abs(np.array(scales).T[:, None, :] - np.array(places)[None, :, :]).max(axis=2)
    assert sorted(np.flatnonzero(row < 0.02).tolist() for row in apart) == [[at] for at in range(len(rows))]
    assert all(max(one[axis] for one in places) > min(one[axis] for one in places) for axis in (0, 1))


def test_no_name_covers_another_one_or_leaves_the_sheet() -> None:
    """By the widest that the lettering may be, also where four dots lie side by side and one far off."""
    choice = household(Decided(kept_pitch=18.2))
    near = [
        replace(row, trays_g=500 + 4 * at, edge_dm2=1.0, inside_dm2=1.0) for at, row in enumerate(choice.pitches[:4])
    ]
    far = replace(choice.pitches[-1], trays_g=700, edge_dm2=3.0)
    svg = module_plot(replace(choice, pitches=(*near, far)))
    assert len(pitches_of(svg).findall(f"{SVG}text")) == 5
    boxes = []
    for one in pitches_of(svg).findall(f"{SVG}text"):
        size, x, y = (float(one.get(name, "0")) for name in ("font-size", "x", "y"))
        boxes.append(Box(x, y - size + 0.6, width(one.text or "", size, bold=bool(one.get("font-weight"))), size))
    sheet = re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', svg)
    assert sheet
    whole = Box(0, 0, float(sheet[1]), float(sheet[2]))
    assert all(whole.holds(box) for box in boxes)
    assert not any(a.meets(b) for a, b in combinations(boxes, 2))


def test_the_same_choice_is_the_same_picture() -> None:
    """Byte by byte."""
    assert module_plot(household(Decided())) == module_plot(household(Decided()))
