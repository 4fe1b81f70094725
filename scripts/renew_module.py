"""Renew docs/module.md and its picture: how the demo's module was chosen, and what its kit could do without.

::

    python -m uv run python scripts/renew_module.py
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from nookwright.build import plan_and_design
from nookwright.documents.module_plot import module_plot
from nookwright.ground.progress import Silent
from nookwright.layout.place import Effort
from nookwright.making.savings.find import savings
from nookwright.module.choice.table import pitch_table, rise_table
from nookwright.survey.load import load_room
from nookwright.survey.rooms import demo_path

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from nookwright.build import Designed
    from nookwright.making.savings.model import Saving
    from nookwright.module.choice import ModuleChoice
    from nookwright.module.choice.table import Table

DOCS = Path(__file__).resolve().parent.parent / "docs"
SHOWN = 3  # keys of a saving; the rest are of the same kind
PICTURE = "pictures/module-pitches.svg"
HEAD = """# The module, and what could be left out

Made from the demo by `scripts/renew_module.py`.

## How the module is chosen

One pitch and one rise for the whole household, so that every tray fits every space. Each candidate is judged over all
spaces and all lots at once: floor that is lost beside the cells (what lies there is a filler, or stays open where the
rest is under 4 mm), floor that is lost inside trays because footprints are whole cells, plastic and hours of liner and
trays, kinds of part, and the height by which trays are higher than their things need. Every lot stands in the tray that
it would get by itself; whether all of them find room together is decided later, by the layout.

All of it is put on one scale, in grams, with the weights of the layout: a dm2 of floor weighs 24 g, an hour 5 g, a kind
of part 3 g, a unit of trouble 4 g; `[choices.weights]` changes them. The table has every amount, so that you can weigh
otherwise and fix what you like:

```toml
[module]
pitch = 18          # this one, whatever it costs
rise = 6
```

What is printed or published already is kept, unless another module saves more than 5 % of floor or grams:

```toml
[module]
kept_pitch = 18     # what is there
kept_rise = 6
change_percent = 5  # what another one must save
```

Another pitch makes all that is printed foreign: the last column of the table says how much that is, and that much is
printed again. Another rise is milder: everything still seats and swaps, only rims no longer come level. The rise
starts at 6, whole at layers of 0.2, 0.25 and 0.3, and stays there until another one saves as much.
"""
SAVINGS_HEAD = """
## What could be left out

Priced before anything is made, the cheapest first: where least is missed for each gram. How much a thing is missed is
our own estimate in cost units (`MISSED_...` in [facts.md](facts.md)), 1 being a small nuisance. Each is priced by
itself; two of them together may save less than their sum.
"""


def page(designed: Designed) -> str:
    """The page."""
    choice = designed.plan.choice
    found = savings(designed.room, designed.plan, designed.copies)
    return "\n".join((HEAD, *_choice(choice), SAVINGS_HEAD, *_savings(found), ""))


def _choice(choice: ModuleChoice) -> Iterable[str]:
    """The demo's choice: why, the picture, the tables."""
    yield f"## The demo's module\n\n{choice.module.chosen[:1].upper()}{choice.module.chosen[1:]}.\n"
    yield f"![Floor lost against plastic, one dot a pitch]({PICTURE})\n"
    yield from _table(pitch_table(choice))
    yield ""
    yield from _table(rise_table(choice))


def _table(table: Table) -> Iterable[str]:
    """A table in Markdown, the row that was taken in bold."""
    yield _row(table.headings)
    yield "|" + "---|" * len(table.headings)
    for at, cells in enumerate(table.rows):
        yield _row([f"**{cell}**" for cell in cells] if at == table.chosen else cells)


def _savings(found: Sequence[Saving]) -> Iterable[str]:
    """The demo's savings as a table."""
    yield _row(("what", "g", "h", "what it gives up", "missed", "in the room file"))
    yield "|---|---|---|---|---|---|"
    for one in found:
        keys = "<br>".join(f"`{key.where}{key.line}`" for key in one.keys[:SHOWN]) or "nothing"
        more = f"<br>and {len(one.keys) - SHOWN} more" if len(one.keys) > SHOWN else ""
        yield _row(
            (one.text, f"{one.mass_g:.0f}", f"{one.time_s / 3600:.1f}", one.gives_up, f"{one.missed:g}", keys + more)
        )


def _row(cells: Iterable[str]) -> str:
    return "| " + " | ".join(cells) + " |"


def main() -> None:
    """Renew the page and the picture."""
    with demo_path() as file:
        room = load_room(file)
    designed = plan_and_design(room, effort=Effort(), progress=Silent())
    (DOCS / PICTURE).write_text(module_plot(designed.plan.choice), encoding="utf-8", newline="\n")
    (DOCS / "module.md").write_text(page(designed), encoding="utf-8", newline="\n")
    print("renewed docs/module.md and docs/" + PICTURE)


if __name__ == "__main__":
    main()
