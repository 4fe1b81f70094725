"""The table and the plot of how proving grows, made from the rows that were measured."""

from __future__ import annotations

import json
import math
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from pathlib import Path

WIDTH, HEIGHT, LEFT, BELOW, EDGE = 560, 340, 64, 44, 16


def growth_table(rows_file: Path) -> str:
    """The rows as a table, and the slope below it.

    Args:
        rows_file: as ``growth.py`` wrote it.
    """
    found = json.loads(rows_file.read_text(encoding="utf-8"))
    lines = ["| drawers | parts | distinct meshes | processor time, s |", "|---|---|---|---|"]
    lines += [f"| {row['spaces']} | {row['parts']} | {row['meshes']} | {row['prove_s']:.1f} |" for row in found["rows"]]
    return "\n".join([*lines, "", f"Slope of the straight line through the logarithms: {found['slope']:.2f}."])


def growth_plot(rows: list[dict[str, Any]], slope: float) -> str:
    """Time against parts on two logarithmic scales, as SVG.

    Args:
        rows: as measured.
        slope: of the straight line through them.
    """
    x_ends, y_ends = _ends([row["parts"] for row in rows]), _ends([row["prove_s"] for row in rows])
    points = [
        (_at(row["parts"], x_ends, LEFT, WIDTH - EDGE), _at(row["prove_s"], y_ends, HEIGHT - BELOW, EDGE))
        for row in rows
    ]
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" font-size="12">',
        f'<rect width="{WIDTH}" height="{HEIGHT}" fill="#ffffff"/>',
    ]
    for exponent in range(math.floor(x_ends[0]), math.ceil(x_ends[1]) + 1):
        x = _at(10.0**exponent, x_ends, LEFT, WIDTH - EDGE)
        if LEFT <= x <= WIDTH - EDGE:
            lines.append(f'<path d="M{x:.1f} {EDGE}V{HEIGHT - BELOW}" stroke="#dddddd"/>')
            lines.append(f'<text x="{x:.1f}" y="{HEIGHT - BELOW + 16}" text-anchor="middle">{10**exponent:g}</text>')
    for exponent in range(math.floor(y_ends[0]), math.ceil(y_ends[1]) + 1):
        y = _at(10.0**exponent, y_ends, HEIGHT - BELOW, EDGE)
        if EDGE <= y <= HEIGHT - BELOW:
            lines.append(f'<path d="M{LEFT} {y:.1f}H{WIDTH - EDGE}" stroke="#dddddd"/>')
            lines.append(f'<text x="{LEFT - 8}" y="{y + 4:.1f}" text-anchor="end">{10.0**exponent:g} s</text>')
    path = "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points)
    lines.append(f'<path d="{path}" fill="none" stroke="#335577" stroke-width="2"/>')
    lines += [f'<circle cx="{x:.1f}" cy="{y:.1f}" r="4" fill="#335577"/>' for x, y in points]
    lines.append(f'<text x="{(WIDTH + LEFT) / 2:.0f}" y="{HEIGHT - 8}" text-anchor="middle">parts in place</text>')
    lines.append(f'<text x="{LEFT + 12}" y="32">slope {slope:.2f}</text></svg>')
    return "\n".join(lines) + "\n"


def _ends(values: list[float]) -> tuple[float, float]:
    """Where a logarithmic scale begins and ends, with a little room."""
    return math.log10(min(values)) - 0.15, math.log10(max(values)) + 0.15


def _at(value: float, ends: tuple[float, float], first: float, last: float) -> float:
    """Where a value lies on a logarithmic scale."""
    return first + (math.log10(value) - ends[0]) / (ends[1] - ends[0]) * (last - first)
