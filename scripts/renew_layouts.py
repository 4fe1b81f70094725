"""Renew the pictures and the table of calm and tightest in docs/layout.md, from the demo.

::

    python -m uv run python scripts/renew_layouts.py
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING
from xml.sax.saxutils import escape

from nookwright.build import plan_and_design
from nookwright.ground.progress import Silent
from nookwright.layout.place import Effort
from nookwright.survey.load import load_room
from nookwright.survey.rooms import demo_path

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from nookwright.layout.model import Grid, Placed
    from nookwright.layout.plan import Plan
    from nookwright.layout.spaces import SpacePlan

DOCS = Path(__file__).resolve().parent.parent / "docs"
PAGE = DOCS / "layout.md"
SCALE, MARGIN, HEAD, SMALL = 0.62, 14.0, 30.0, 7.0  # px/mm, then px
FEWEST = 3  # letters that are worth writing
LOW, HIGH = 18.0, 72.0  # rims between which the shade runs, mm
HEADINGS = ("calm", "tightest")
STYLE = """<style>
text { font-family: sans-serif; fill: #222 } .name { font-size: 7px } .head { font-size: 13px }
.frame { fill: #f3f1ec; stroke: #444; stroke-width: 1.5 }
.blocked { fill: #b9b4aa } .part { stroke: #3b3b3b; stroke-width: 0.8 }
</style>"""


def picture(space: SpacePlan, layouts: Sequence[Sequence[Placed]], pitch: float, names: Mapping[str, str]) -> str:
    """The layouts of a space side by side, front at the bottom, darker where rims are higher.

    Args:
        space: what is drawn.
        layouts: calm and tightest.
        pitch: size of a cell, mm.
        names: of lots by their id.
    """
    grid, cell = space.grid, pitch * SCALE
    width, height = grid.cols * cell, grid.rows * cell
    whole = len(layouts) * (width + MARGIN) + MARGIN, height + HEAD + MARGIN
    wide, high = whole
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide:.1f} {high:.1f}" width="{wide:.0f}" role="img">',
        f"<title>{escape(space.space.name or space.space.id)}: calm and tightest</title>",
        STYLE,
        '<rect width="100%" height="100%" fill="#ffffff"/>',
    ]
    for number, (heading, placed) in enumerate(zip(HEADINGS, layouts, strict=True)):
        left = MARGIN + number * (width + MARGIN)
        lines += [f'<g id="{heading}" transform="translate({left:.1f} {HEAD:.1f})">']
        lines += [f'<text class="head" x="0" y="-8">{heading}</text>']
        lines += [f'<rect class="frame" width="{width:.1f}" height="{height:.1f}"/>', *_blocked(grid, cell)]
        lines += [line for one in placed for line in _part(one, grid, cell, names)] + ["</g>"]
    return "\n".join([*lines, "</svg>", ""])


def _blocked(grid: Grid, cell: float) -> Iterator[str]:
    for col, row in grid.blocked:
        x, y = col * cell, (grid.rows - 1 - row) * cell
        yield f'<rect class="blocked" x="{x:.1f}" y="{y:.1f}" width="{cell:.1f}" height="{cell:.1f}"/>'


def _part(one: Placed, grid: Grid, cell: float, names: Mapping[str, str]) -> Iterator[str]:
    x, y = one.col * cell + 1, (grid.rows - one.row - one.rows) * cell + 1
    width, height = one.cols * cell - 2, one.rows * cell - 2
    share = min(max((one.height - LOW) / (HIGH - LOW), 0.0), 1.0)
    shade = f"hsl(205 {25 + 20 * share:.0f}% {93 - 38 * share:.0f}%)"
    box = f'x="{x:.1f}" y="{y:.1f}" width="{width:.1f}" height="{height:.1f}"'
    yield f'<rect class="part" {box} rx="2.5" fill="{shade}"/>'
    name = names.get(one.candidate.lot, "") if one.candidate else "spare"
    upright = height > width and len(name) * SMALL * 0.55 > width - 4
    most = int(((height if upright else width) - 5) / (SMALL * 0.55))
    words = escape(name if len(name) <= most else name[: max(0, most - 1)] + "…")
    if min(width, height) < SMALL + 2 or most < FEWEST:
        return
    at = (
        f'transform="translate({x + 9:.1f} {y + height - 4:.1f}) rotate(-90)"'
        if upright
        else f'x="{x + 4:.1f}" y="{y + 10:.1f}"'
    )
    yield f'<text class="name" {at}>{words}</text>'


def table(plan: Plan) -> str:
    """What calm costs in each space, and how much calmer it is."""
    laid, pitch = plan.laid, plan.module.pitch
    lines = [
        "| space | parts | floor taken more | plastic more | widths | in rows |",
        "|---|---:|---:|---:|---:|---|",
    ]
    names = {space.space.id: space.space.name or space.space.id for space in plan.spaces} | {"": "**the whole room**"}
    for row in laid.calm.price:
        inside = [[p for p in one.placed if row.space in ("", p.space)] for one in (laid.calm.layout, laid.tight)]
        counts = [str(len(one)) for one in inside]
        widths = [str(len({p.cols for p in one})) for one in inside] if row.space else ["", ""]
        lines.append(
            f"| {names[row.space]} | {_pair(counts)} | {row.cells * pitch**2 / 1e4:+.1f} dm² | {row.part_g:+.0f} g "
            f"| {_pair(widths)} | {'yes' if row.calm else 'no'} |"
        )
    return "\n".join(lines)


def _pair(both: Sequence[str]) -> str:
    """Calm's and the tightest's, once where they are the same."""
    return both[0] if both[0] == both[1] else f"{both[0]} ({both[1]})"


def gallery(plan: Plan) -> str:
    """The pictures, as the page shows them."""
    used = [space for space in plan.spaces if plan.laid.calm.layout.in_space(space.space.id)]
    return "\n\n".join(
        f"![{s.space.name or s.space.id}: calm and tightest](pictures/layout-{s.space.id}.svg)" for s in used
    )


def replaced(page: str, name: str, text: str) -> str:
    """The page with what stands between two marks renewed."""
    begin, end = f"<!-- {name}: begin -->", f"<!-- {name}: end -->"
    return re.sub(f"{begin}.*{end}", lambda _: f"{begin}\n{text}\n{end}", page, flags=re.DOTALL)


def main() -> None:
    """Renew all of it."""
    with demo_path() as path:
        room = load_room(path)
    plan = plan_and_design(room, effort=Effort(), progress=Silent()).plan
    names = {lot.id: lot.name or lot.id for lot in room.lot}
    for old in (DOCS / "pictures").glob("layout-*.svg"):
        old.unlink()
    for space in plan.spaces:
        both = [one.in_space(space.space.id) for one in (plan.laid.calm.layout, plan.laid.tight)]
        if any(both):
            file = DOCS / "pictures" / f"layout-{space.space.id}.svg"
            file.write_text(picture(space, both, plan.module.pitch, names), encoding="utf-8", newline="\n")
    page = PAGE.read_text(encoding="utf-8")
    for name, text in (("price", table(plan)), ("pictures", gallery(plan))):
        page = replaced(page, name, text)
    PAGE.write_text(page, encoding="utf-8", newline="\n")
    print("renewed docs/layout.md and its pictures")


if __name__ == "__main__":
    main()
