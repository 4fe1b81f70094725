"""The figures and the plot of docs/estimates.md, made from a run."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

BEGIN, END = "<!-- figures -->\n", "<!-- end -->"
SIDE, LEFT, TOP = 420, 64, 16  # of the plot, px
INK, FAINT, DOT = "#22272e", "#c4ccd4", "#2f5d9b"


def renewed(page: str, figures: Mapping[str, str]) -> str:
    """A page with its table of figures made anew.

    Args:
        page: with a line for the begin and one for the end of the table.
        figures: by what they are of.
    """
    head, _, rest = page.partition(BEGIN)
    _, _, tail = rest.partition(END)
    table = "\n".join(["| what | figure |", "|---|---|", *(f"| {what} | {value} |" for what, value in figures.items())])
    return f"{head}{BEGIN}\n{table}\n\n{END}{tail}"


def plot(points: Sequence[tuple[float, float]]) -> str:
    """Closed forms over estimates, both in hours, both axes logarithmic.

    Args:
        points: estimate and closed form of each piece, h.
    """
    values = [one for point in points for one in point]
    low, high = math.floor(math.log10(min(values))), math.ceil(math.log10(max(values)))

    def at(hours: float) -> float:
        return (math.log10(hours) - low) / (high - low) * SIDE

    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {LEFT + SIDE + 24} {TOP + SIDE + 56}" role="img">',
        "<title>Hours in closed form over hours by the estimator, one point a piece of the demo</title>",
        '<rect width="100%" height="100%" fill="#ffffff"/>',
        f'<g transform="translate({LEFT} {TOP})" font-family="sans-serif" font-size="13">',
    ]
    for power in range(low, high + 1):
        place, label = at(10.0**power), f"{10.0**power:g}"
        lines += [
            f'<path d="M{place:.1f} 0V{SIDE}M0 {SIDE - place:.1f}H{SIDE}" stroke="{FAINT}"/>',
            f'<text x="{place:.1f}" y="{SIDE + 18}" text-anchor="middle" fill="{INK}">{label}</text>',
            f'<text x="-8" y="{SIDE - place + 4:.1f}" text-anchor="end" fill="{INK}">{label}</text>',
        ]
    lines.append(f'<path d="M0 {SIDE}L{SIDE} 0" stroke="{INK}" stroke-dasharray="5 4"/>')
    for over, under in sorted(points):
        lines.append(
            f'<circle cx="{at(over):.1f}" cy="{SIDE - at(under):.1f}" r="3.5" fill="{DOT}" fill-opacity="0.6"/>'
        )
    lines += [
        f'<text x="{SIDE / 2}" y="{SIDE + 40}" text-anchor="middle" fill="{INK}">hours by the estimator</text>',
        f'<g transform="translate(-44 {SIDE / 2}) rotate(-90)">',
        f'<text text-anchor="middle" fill="{INK}">hours in closed form</text></g>',
        "</g></svg>",
    ]
    return "\n".join(lines) + "\n"
