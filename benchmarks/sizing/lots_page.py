"""The tables and the plot of the lots' benchmark, put into ``docs/sizes.md`` between its marks."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING

from benchmarks.sizing.lots import OURS, RULES, SAMPLES, table
from benchmarks.sizing.populations import KINDS, NORMAL, Case, Kind

from nookwright.documents import style
from nookwright.exchange.svg import Anchor, Box, Canvas, Pen, drawing, to_text

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from benchmarks.sizing.lots import Outcome

DOCS = Path(__file__).resolve().parents[2] / "docs"
PAGE, PLOT = DOCS / "sizes.md", DOCS / "pictures" / "sizes-lots.svg"
BEGIN, END = "<!-- begin of the benchmark -->", "<!-- end of the benchmark -->"
COLOURS = {OURS: "#1f6f8b", "mean + 0.5": "#b5651d", "largest + 0.5": "#7a4f9a", "first + 0.3": "#8a8a2a"}
LEFT = 18.0  # mm of paper, of the first column
TARGET = Pen(style.RED, 0.25, (1.2, 0.8))


def renew(found: Sequence[Outcome], count: int) -> None:
    """Write the page's tables and its plot.

    Args:
        found: all outcomes.
        count: lots of each population.
    """
    text = PAGE.read_text(encoding="utf-8")
    body = f"{BEGIN}\n{_tables(found, count)}\n{END}"
    PAGE.write_text(re.sub(f"{BEGIN}.*{END}", lambda _: body, text, flags=re.DOTALL), encoding="utf-8")
    PLOT.write_text(plot(found, count), encoding="utf-8")


def _tables(found: Sequence[Outcome], count: int) -> str:
    ours = [one for one in found if one.rule == OURS]
    theirs = [one for one in found if one.case in {Case.DRAWN, Case.HALF, Case.TWICE} and one.rule != OURS]
    head = (
        f"{count} lots of each population. Share of lots whose 12 things all fit, median of the excess gap in mm, "
        "and in brackets that gap over the oracle's."
    )
    return "\n\n".join(
        (
            head,
            table(one for one in ours if one.case in NORMAL),
            "Glass again, where sizes are not normal:",
            table(one for one in ours if one.case not in NORMAL),
            "Rules that people use:",
            table(theirs),
        )
    )


@dataclass(frozen=True)
class _Panel:
    """A small plot: numbers of samples along x, values along y, in mm of paper."""

    box: Box
    low: float
    high: float

    def at(self, samples: int, value: float) -> tuple[float, float]:
        """Where a value stands, cut off at the panel's edges."""
        share = min(1.0, max(0.0, (value - self.low) / (self.high - self.low)))
        step = self.box.width / len(SAMPLES)
        return self.box.x + (SAMPLES.index(samples) + 0.5) * step, self.box.bottom - share * self.box.height


def plot(found: Sequence[Outcome], count: int) -> str:
    """Shares of lots above, excess gaps below, a column for each kind of thing; spreads drawn from the prior.

    Args:
        found: all outcomes.
        count: lots of each population.
    """
    canvas = drawing(
        190,
        140,
        title="How many lots fit, and how much is given away",
        description="Share of lots whose 12 things all fit, and the median excess gap, by number of things measured.",
        family=style.FAMILY,
    )
    canvas.rect(Box(0, 0, 190, 140), fill=style.PAPER)
    canvas.text((10, 8), f"{count} lots of 12 things, spread drawn from the prior", style.font(style.LARGE, bold=True))
    for column, kind in enumerate(KINDS):
        drawn = [one for one in found if one.kind == kind and one.case is Case.DRAWN]
        left = LEFT + column * 58
        _shares(canvas, _Panel(Box(left, 20, 50, 42), 0, 1), kind, drawn)
        _gaps(canvas, _Panel(Box(left, 76, 50, 42), -0.5, 1.5), drawn)
    _legend(canvas)
    return to_text(canvas)


def _shares(canvas: Canvas, panel: _Panel, kind: Kind, found: Sequence[Outcome]) -> None:
    canvas.text((panel.box.x, panel.box.y - 3), kind.name, style.font(style.NORMAL, bold=True))
    _frame(canvas, panel, [(share, f"{share:.0%}") for share in (0, 0.5, 0.95)], "lots that fit")
    _level(canvas, panel, 0.95, TARGET)
    _curves(canvas, panel, found, lambda one: one.share)


def _gaps(canvas: Canvas, panel: _Panel, found: Sequence[Outcome]) -> None:
    _frame(canvas, panel, [(gap, f"{gap:g}") for gap in (-0.5, 0, 0.5, 1, 1.5)], "excess gap, mm")
    _level(canvas, panel, 0, style.THIN)
    _level(canvas, panel, found[0].oracle_gap, Pen(style.INK, 0.25, (0.4, 0.8)))
    _curves(canvas, panel, found, lambda one: one.gap)


def _frame(canvas: Canvas, panel: _Panel, marks: Sequence[tuple[float, str]], name: str) -> None:
    box = panel.box
    canvas.rect(box, pen=style.THIN, fill="#ffffff")
    for value, text in marks:
        y = panel.at(SAMPLES[0], value)[1]
        canvas.line((box.x - 1, y), (box.x, y), style.THIN)
        canvas.text((box.x - 1.6, y + 0.8), text, style.font(style.TINY), anchor=Anchor.END)
    for samples in SAMPLES:
        x = panel.at(samples, panel.low)[0]
        canvas.text((x, box.bottom + 3.2), str(samples), style.font(style.TINY), anchor=Anchor.MIDDLE)
    canvas.text(
        (box.x + box.width / 2, box.bottom + 6.6), "things measured", style.font(style.TINY), anchor=Anchor.MIDDLE
    )
    if box.x == LEFT:  # the others stand beside it
        canvas.text(
            (box.x - 9, box.y + box.height / 2), name, style.font(style.TINY), anchor=Anchor.MIDDLE, upwards=True
        )


def _level(canvas: Canvas, panel: _Panel, value: float, pen: Pen) -> None:
    y = panel.at(SAMPLES[0], value)[1]
    canvas.line((panel.box.x, y), (panel.box.right, y), pen)


def _curves(canvas: Canvas, panel: _Panel, found: Sequence[Outcome], value: Callable[[Outcome], float]) -> None:
    for rule in RULES:
        points = [panel.at(one.samples, value(one)) for one in found if one.rule == rule]
        canvas.lines(pairwise(points), Pen(COLOURS[rule], 0.6 if rule == OURS else 0.35))
        for point in points:
            canvas.circle(point, 0.7 if rule == OURS else 0.5, fill=COLOURS[rule])


def _legend(canvas: Canvas) -> None:
    names = {OURS: "nookwright", **{rule: f"{rule} mm" for rule in RULES if rule != OURS}}
    for number, (rule, colour) in enumerate(COLOURS.items()):
        x = LEFT + number * 32
        canvas.line((x, 131), (x + 5, 131), Pen(colour, 0.6))
        canvas.text((x + 6, 131.9), names[rule], style.font(style.SMALL))
    canvas.line((146, 131), (151, 131), TARGET)
    canvas.text((152, 131.9), "95 %", style.font(style.SMALL))
    canvas.line((162, 131), (167, 131), Pen(style.INK, 0.25, (0.4, 0.8)))
    canvas.text((168, 131.9), "the oracle's", style.font(style.SMALL))
