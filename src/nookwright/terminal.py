"""What the command line shows and asks: questions, bars, tables; apart from ``cli``, so that --help stays quick."""

from __future__ import annotations

from typing import TYPE_CHECKING, Self, TypeVar

import click
from platformdirs import user_cache_path
from rich.console import Console
from rich.padding import Padding
from rich.progress import BarColumn, MofNCompleteColumn, SpinnerColumn, TextColumn
from rich.progress import Progress as RichProgress
from rich.table import Table
from rich.text import Text

from nookwright.build import plan_and_design, sketch
from nookwright.documents import words
from nookwright.documents.plan import plan_svg
from nookwright.documents.printing_view import printing_view
from nookwright.ground.errors import RoomError
from nookwright.layout.place import Effort
from nookwright.module.pattern import Pattern
from nookwright.sizing.next_readings.gain import S_PER_MIN
from nookwright.survey.answers import Answers, Thing, parse_box, parse_material, parse_name, parse_thing_line
from nookwright.survey.load import load_room, room_sha256

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence
    from pathlib import Path
    from types import TracebackType

    from nookwright.exchange.kit import Kit, KitFinding
    from nookwright.layout.changes import Change
    from nookwright.layout.next_readings import NextReading
    from nookwright.making.forecast import SpaceForecast
    from nookwright.making.savings.model import Saving

T = TypeVar("T")

_NOTES_SHOWN = 5
_STYLE = {"stop": "bold red", "warn": "yellow", "note": "dim"}


class Bars:
    """Progress on the terminal, on standard error, so that standard output stays clean."""

    def __init__(self) -> None:
        self._rich = RichProgress(
            SpinnerColumn(),
            TextColumn("{task.description}"),
            BarColumn(),
            MofNCompleteColumn(),
            console=Console(stderr=True),
            transient=True,
        )
        self._stage = ""

    def __enter__(self) -> Self:
        self._rich.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._rich.stop()

    def stage(self, name: str) -> None:
        """A stage begins; the one before it is over."""
        for task in self._rich.task_ids:
            self._rich.remove_task(task)
        self._stage = name
        self._rich.add_task(name, total=None)

    def track(self, items: Iterable[T], total: int, what: str) -> Iterator[T]:
        """Hand on the items one by one, counting them."""
        task = self._rich.add_task(f"{self._stage}: {what}", total=total)
        for item in items:
            yield item
            self._rich.advance(task)
        self._rich.remove_task(task)


def cache_folder() -> Path:
    """Where proofs of meshes are remembered, by the hash of their content."""
    return user_cache_path("nookwright")


def say_forecast(rows: Sequence[SpaceForecast], savings: Sequence[Saving]) -> None:
    """Show what every space will cost, before any geometry is made, and what could be left out."""
    table = Table(title="Before printing anything: what each space costs", title_justify="left")
    for name in ("space", "dm2", "g", "budget g", "g/dm2", "hours"):
        table.add_column(name, justify="left" if name == "space" else "right")
    for row in rows:
        over = row.mass_g > row.budget_g
        mass = f"[yellow]{row.mass_g:.0f}[/yellow]" if over else f"{row.mass_g:.0f}"
        figures = (f"{row.area_dm2:.1f}", mass, f"{row.budget_g:.0f}", f"{row.g_per_dm2:.0f}", _hours(row.time_s))
        table.add_row(row.name, *figures)
    console = Console(stderr=True)
    console.print(table)
    if any(row.liners for row in rows):
        console.print(_liners([row for row in rows if row.liners]))
    if savings:
        console.print("What you could leave out, the cheapest first")
    for one in savings:
        console.print(Text(f"  {one.mass_g:.0f} g, {_hours(one.time_s)} h: {one.text}"))
        console.print(Padding(Text(one.gives_up, style="dim"), (0, 0, 0, 6)))


def _liners(rows: Sequence[SpaceForecast]) -> Table:
    """What each liner would cost in each space, the one that was chosen in brackets."""
    table = Table(title="Grams that each liner would take there; the one in brackets is chosen", title_justify="left")
    table.add_column("space")
    kinds = list(dict.fromkeys((one.level, one.pattern is Pattern.UNDER_LAYOUT) for row in rows for one in row.liners))
    for level, under_layout in kinds:
        table.add_column("under layout" if under_layout else str(level), justify="right")
    for row in rows:
        costs = {}
        for one in row.liners:
            grams = f"[{one.mass_g:.0f}]" if one.chosen else f"{one.mass_g:.0f}"
            costs[one.level, one.pattern is Pattern.UNDER_LAYOUT] = grams
        table.add_row(row.name, *(Text(costs.get(kind, "")) for kind in kinds))
    return table


def _hours(time_s: float) -> str:
    return f"{time_s / 3600:.1f}"


def say_readings(readings: Sequence[NextReading]) -> None:
    """Show what to measure next, the best first."""
    if not readings:
        click.echo("No more readings needed: none would change a decision.")
        return
    table = Table(title="Measure next, the best first", title_justify="left")
    for name in ("what", "size", "readings", "with", "min", "why"):
        table.add_column(name, justify="right" if name in {"readings", "min"} else "left")
    for one in readings:
        figures = (str(one.readings), one.instrument.value, f"{one.effort_s / S_PER_MIN:.1f}")
        table.add_row(Text(one.name), one.dimension, *figures, Text(one.why))
    Console().print(table)
    click.echo("Each reading is of another thing, or at another place along the wall. Stop when this list is empty.")


def readings_summary(readings: Sequence[NextReading]) -> list[dict[str, object]]:
    """What ``measure --json`` prints of each reading; keys as in kit.json where there are the same."""
    return [
        {
            "subject": one.subject,
            "dimension": one.dimension,
            "readings": one.readings,
            "instrument": one.instrument.value,
            "rough": one.rough,
            "time_s": one.effort_s,
            "rate": round(one.rate, 6),
            "why": one.why,
        }
        for one in readings
    ]


def summary(kit: Kit, out: Path, changed: Sequence[Change] | None = None) -> dict[str, object]:
    """What ``--json`` prints: totals, findings, how good the layout is, and what changed if a kit was replaced."""
    return {
        "kit": str(out / "kit.json"),
        "totals": kit.totals.model_dump(mode="json"),
        "first_print": kit.first_print.model_dump(mode="json"),
        "layout": kit.layout.model_dump(mode="json"),
        "findings": [finding.model_dump(mode="json") for finding in kit.findings],
        "changes": None if changed is None else [{"what": one.what, "text": one.text} for one in changed],
    }


def _printing(kit: Kit) -> Iterator[tuple[str, str]]:
    """When all is printed, where that was planned."""
    if kit.printing.slots:
        view = printing_view(kit)
        yield f"printed in, by your hours ({100 * kit.printing.gap:.1f} % from the bound)", view.length


def say_changes(changed: Sequence[Change] | None) -> None:
    """Say what stands elsewhere than in the kit that was replaced."""
    if changed is None:
        return
    console = Console()
    console.print("Against the kit that lay there: nothing moved" if not changed else "Against the kit that lay there")
    for one in changed:
        console.print(Text(f"  {one.text}"))


def say_kit(kit: Kit, out: Path) -> None:
    """Show the totals, the findings, and where the kit lies."""
    totals, layout = kit.totals, kit.layout
    counts = {name: sum(f.severity == name for f in kit.findings) for name in ("stop", "warn", "note")}
    table = Table(title=kit.room, title_justify="left", show_header=False)
    table.add_column()
    table.add_column(justify="right")
    for name, value in (
        ("spaces fitted out", f"{totals.spaces} of {len(kit.spaces)}"),
        ("lots placed", f"{totals.lots_placed} of {totals.lots}"),
        ("parts", f"{totals.parts}"),
        ("pieces", f"{totals.pieces}"),
        ("bedfuls", f"{totals.bedfuls}"),
        ("grams", f"{totals.mass_g:.0f}"),
        ("grams per dm2", f"{totals.g_per_dm2:.1f}"),
        ("hours of printing", _hours(totals.time_s)),
        *_printing(kit),
        ("first print fits", words.probability(kit.first_print.kit)),
        ("layout in points: all, where things go, least for that", words.layout_points(layout)),
        (words.calm_title(layout), words.calm_price(layout)),
        ("findings: stop, warn, note", f"{counts['stop']}, {counts['warn']}, {counts['note']}"),
    ):
        table.add_row(name, value)
    console = Console()
    console.print(table)
    for finding in _shown(kit.findings):
        said = f" {finding.subject}: {finding.text}"
        console.print(Text.assemble((finding.severity, _STYLE[finding.severity]), said))
        console.print(Text(f"     {finding.remedy}"))
    hidden = counts["note"] - _NOTES_SHOWN
    if hidden > 0:
        console.print(f"     and {hidden} more notes in the page")
    click.echo(f"The kit lies in {out}; open {out / 'index.html'}")


def _shown(findings: Sequence[KitFinding]) -> Iterator[KitFinding]:
    """Everything but the tail of the notes."""
    notes = 0
    for finding in findings:
        notes += finding.severity == "note"
        if finding.severity != "note" or notes <= _NOTES_SHOWN:
            yield finding


def say_coupons(files: Sequence[Path], *, long: bool) -> None:
    """Say what was written, and what to do with it."""
    for file in files:
        click.echo(f"wrote {file}")
    form = '\nform = "long"' if long else ""
    click.echo("Print the coupon, measure what the sheet shows, fill in the table, move it beside the room file, add:")
    click.echo(f'\n[[coupon]]\nprinter = "..."\nmaterial = "..."{form}\ncsv = "readings.csv"')


def ask() -> Answers:
    """Ask for everything that a first room file needs; what cannot be read is asked again."""
    name = _asked("Name of the room", parse_name)
    drawer = _asked("Inside of the drawer, W x D x H (mm, or with a unit)", parse_box)
    bed = _asked("Printer: printable W x D x H", parse_box)
    material = _asked("Material", parse_material, "PLA")
    click.echo('Things, one a line: name, size, how many. Sizes as "148 x 210 x 12", "22 round x 95" or "R6".')
    click.echo("An empty line ends the list.")
    things: list[Thing] = []
    while True:
        line = click.prompt("thing", default="", show_default=False)
        if not line.strip():
            if things:
                break
            click.echo("  at least one thing is needed", err=True)
            continue
        try:
            things.append(parse_thing_line(line))
        except RoomError as error:
            _say_why(error)
    return Answers(name=name, drawer=drawer, bed=bed, material=material, things=tuple(things))


def _asked(question: str, parse: Callable[[str], T], default: str | None = None) -> T:
    """One answer, asked until it can be read."""
    while True:
        try:
            return parse(click.prompt(question, default=default))
        except RoomError as error:
            _say_why(error)


def _say_why(error: RoomError) -> None:
    for fault in error.faults:
        click.echo(f"  found {fault.found}; allowed: {fault.allowed}. {fault.remedy}", err=True)


def first_plan(room_file: Path) -> Iterator[Path]:
    """Write a first plan of every space beside a room file; grams and sizes are closed forms.

    Args:
        room_file: the room file.

    Yields:
        The files.
    """
    room = load_room(room_file)
    with Bars() as progress:
        designed = plan_and_design(room, room_file=room_file, effort=Effort(), progress=progress)
        kit = sketch(designed, room_sha256(room_file))
    for space in kit.spaces:
        path = room_file.with_name(f"plan-{space.id}.svg")
        path.write_text(plan_svg(kit, space.id), encoding="utf-8", newline="\n")
        yield path
