"""The tables and plots of the packing benchmarks, put into ``docs/packing.md`` between its marks."""

from __future__ import annotations

import re
from itertools import pairwise
from math import log10
from os import cpu_count, getloadavg
from pathlib import Path
from statistics import fmean
from typing import TYPE_CHECKING

from nookwright.documents import style
from nookwright.exchange.svg import Anchor, Box, Canvas, Pen, drawing, to_text

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from benchmarks.layout.drawers import Filled
    from benchmarks.layout.strips import Outcome

DOCS = Path(__file__).resolve().parents[2] / "docs"
PAGE, PICTURES = DOCS / "packing.md", DOCS / "pictures"
COLOURS = ("#1f6f8b", "#b5651d", "#7a4f9a", "#8a8a2a")
MOST_GAP = 0.12  # as far as the bars go
LEAST_FILL = 0.97


def _put(name: str, body: str) -> None:
    """Replace what stands between the marks of a benchmark."""
    begin, end = f"<!-- begin of {name} -->", f"<!-- end of {name} -->"
    text = PAGE.read_text(encoding="utf-8")
    new = re.sub(f"{begin}.*{end}", lambda _: f"{begin}\n{body}\n{end}", text, flags=re.DOTALL)
    PAGE.write_text(new, encoding="utf-8")


def renew_strips(found: Sequence[Outcome], seconds: float) -> None:
    """Write the table, the remarks and the plot of the strips.

    Args:
        found: all outcomes.
        seconds: that ours had for each.
    """
    from benchmarks.layout.strips import METHODS, remarks, table

    ahead = [one.case.name for one in found if one.ahead_of_us]
    verdict = (
        f"Lower than ours somewhere: {', '.join(ahead)}." if ahead else "No other is lower than ours on any strip."
    )
    head = (
        f"Ours with {seconds:g} s of one processor a strip, CP-SAT with {2 * seconds:g} s of the clock and two workers,"
        " the packages without a limit. Mean gap to the optimum (or the best known), the worst, and how many reach it."
        f" The machine was shared: load {getloadavg()[1]:.0f} on {cpu_count()} processors at the end, which costs the"
        " solver that stops by the clock most; it starts from nothing."
    )
    rest = f"{verdict} Where ours is not proven to be the lowest, or is lower than what was published:"
    _put("strips", "\n\n".join((head, table(found), rest, remarks(found))))
    groups = dict.fromkeys(one.case.group for one in found)
    means = {
        group: [
            fmean(gaps)
            if (gaps := [g for one in found if one.case.group == group and (g := one.gap(m)) is not None])
            else None
            for m in METHODS
        ]
        for group in groups
    }
    (PICTURES / "packing-strips.svg").write_text(_bars(means, METHODS), encoding="utf-8")


def _bars(means: Mapping[str, Sequence[float | None]], methods: Sequence[str]) -> str:
    """A group of bars for each set, one for each method."""
    canvas = _paper(190, 84, "How much higher than the best known strips are packed", "Mean gap by set and method.")
    box = Box(18, 18, 166, 46)
    canvas.rect(box, pen=style.THIN, fill="#ffffff")
    for line in (0, 0.04, 0.08, MOST_GAP):
        y = box.bottom - line / MOST_GAP * box.height
        canvas.line((box.x, y), (box.right, y), style.THIN)
        canvas.text((box.x - 1.6, y + 0.8), f"{line:.0%}", style.font(style.TINY), anchor=Anchor.END)
    step = box.width / len(means)
    for number, (group, gaps) in enumerate(means.items()):
        left, wide = box.x + number * step, step / (len(methods) + 1)
        for bar, gap in enumerate(gaps):
            x = left + (bar + 0.5) * wide
            if gap is None:
                canvas.text((x + wide / 2, box.bottom - 1), "-", style.font(style.TINY), anchor=Anchor.MIDDLE)
                continue
            tall = max(0.3, min(gap, MOST_GAP) / MOST_GAP * box.height)
            canvas.rect(Box(x, box.bottom - tall, wide * 0.9, tall), fill=COLOURS[bar])
            label = style.font(style.TINY)
            canvas.text((x + wide * 0.45, box.bottom - tall - 0.8), f"{gap:.1%}", label, anchor=Anchor.MIDDLE)
        canvas.text((left + step / 2, box.bottom + 4), group, style.font(style.SMALL), anchor=Anchor.MIDDLE)
    _legend(canvas, methods, 76)
    return to_text(canvas)


def renew_drawers(found: Sequence[Filled]) -> None:
    """Write the table and the plot of the drawers.

    Args:
        found: a row for each number of tries.
    """
    from benchmarks.layout.drawers import table

    _put("drawers", table(found))
    (PICTURES / "packing-drawers.svg").write_text(_curve(found), encoding="utf-8")


def _curve(found: Sequence[Filled]) -> str:
    """Mean fill, and share of drawers packed without a gap, over the tries."""
    canvas = _paper(120, 84, "How full perfect drawers get", "Mean fill and share filled without a gap, by tries.")
    box = Box(18, 18, 84, 46)
    canvas.rect(box, pen=style.THIN, fill="#ffffff")
    low, high = log10(found[0].tries), log10(found[-1].tries)

    def at(tries: int, share: float) -> tuple[float, float]:
        return box.x + (log10(tries) - low) / (high - low) * box.width, box.bottom - share * box.height

    for mark in (0, 0.25, 0.5, 0.75, 1):
        y = at(found[0].tries, mark)[1]
        canvas.line((box.x, y), (box.right, y), style.THIN)
        fill = f"{LEAST_FILL + mark * (1 - LEAST_FILL):.2%}"
        canvas.text((box.x - 1.6, y + 0.8), fill, style.font(style.TINY), anchor=Anchor.END)
        canvas.text((box.right + 1.6, y + 0.8), f"{mark:.0%}", style.font(style.TINY))
    for one in found:
        x = at(one.tries, 0)[0]
        canvas.text((x, box.bottom + 3.4), f"{one.tries:,}", style.font(style.TINY), anchor=Anchor.MIDDLE)
    fills = [at(one.tries, (max(one.mean_fill, LEAST_FILL) - LEAST_FILL) / (1 - LEAST_FILL)) for one in found]
    shares = [at(one.tries, one.perfect / one.drawers) for one in found]
    for points, colour in ((fills, COLOURS[0]), (shares, COLOURS[1])):
        canvas.lines(pairwise(points), Pen(colour, 0.5))
        for point in points:
            canvas.circle(point, 0.7, fill=colour)
    canvas.text((box.x + box.width / 2, box.bottom + 6.8), "tries", style.font(style.TINY), anchor=Anchor.MIDDLE)
    _legend(canvas, ("mean fill (left)", "filled without a gap (right)"), 78)
    return to_text(canvas)


def _paper(width: float, height: float, title: str, description: str) -> Canvas:
    canvas = drawing(width, height, title=title, description=description, family=style.FAMILY)
    canvas.rect(Box(0, 0, width, height), fill=style.PAPER)
    canvas.text((10, 9), title, style.font(style.LARGE, bold=True))
    return canvas


def _legend(canvas: Canvas, names: Sequence[str], y: float) -> None:
    for number, name in enumerate(names):
        x = 18 + number * 40
        canvas.rect(Box(x, y - 2, 4, 2), fill=COLOURS[number])
        canvas.text((x + 5.4, y), name, style.font(style.SMALL))
