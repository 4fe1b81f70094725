"""The command line: a thin shell over ``build.py``. Heavy libraries are imported in the commands, not here.

Exit codes: 0 done; 1 done, but the kit has findings of severity stop; 2 the command was typed wrongly, or asks for what
is not installed; 3 the room file or the answers cannot be used; 4 a folder or file may not be replaced or cannot be
written; 5 a fault of the program; 130 interrupted (nothing was replaced).
"""

from __future__ import annotations

import json
import sys
from enum import IntEnum
from pathlib import Path
from typing import TYPE_CHECKING

import click

from nookwright import __version__
from nookwright.ground.errors import FolderError, MissingExtraError, NookwrightError, RoomError

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from nookwright.exchange.kit import Kit
    from nookwright.ground.errors import Fault

_FILE = click.Path(path_type=Path)
_DEMO_FOLDER = "nookwright-demo"


class Exit(IntEnum):
    """What the program returns to the shell."""

    DONE = 0
    STOP = 1
    USAGE = 2
    ROOM = 3
    FOLDER = 4
    FAULT = 5
    INTERRUPTED = 130


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="nookwright")
def commands() -> None:
    """Fit out drawers, shelves and cupboards with printed organisers that fit the first time.

    Start with `nookwright demo`, or with `nookwright new my-room` for a drawer of your own.
    """


@commands.command()
@click.option("--out", type=_FILE, default=_DEMO_FOLDER, show_default=True, help="Folder for the kit.")
@click.option("--json", "as_json", is_flag=True, help="Print the summary as JSON.")
def demo(out: Path, *, as_json: bool) -> int:
    """Build the kit of the demo room, a bicycle repair co-op with a tea corner."""
    from nookwright.survey.rooms import demo_path

    with demo_path() as room:
        return _build(room, out, as_json=as_json)


@commands.command()
@click.argument("room", type=_FILE)
@click.option("--out", type=_FILE, required=True, help="Folder for the kit.")
@click.option("--step", is_flag=True, help="Add a STEP file of every part, for CAD; needs the extra `step`.")
@click.option("--json", "as_json", is_flag=True, help="Print the summary as JSON.")
def build(room: Path, out: Path, *, step: bool, as_json: bool) -> int:
    """Build the kit of ROOM: parts, bedfuls, plans, bill and page, proven from the files as written."""
    return _build(room, out, step=step, as_json=as_json)


@commands.command()
@click.argument("room", type=_FILE)
@click.option("--json", "as_json", is_flag=True, help="Print the faults as JSON.")
def check(room: Path, *, as_json: bool) -> int:
    """Say what is wrong or missing in ROOM, all at once."""
    from nookwright.build import check as check_file
    from nookwright.survey.suspects import suspects

    found, faults = check_file(room)
    if as_json:
        click.echo(json.dumps({"file": str(room), "faults": [vars(fault) for fault in faults]}, indent=1))
    elif found is not None:
        click.echo(f"{room}: nothing wrong: {len(found.space)} spaces, {len(found.lot)} lots")
        for slip in suspects(room, found):
            click.echo(f"{slip.severity} {slip.subject}: {slip.text} {slip.remedy}")
    if not as_json:
        _say_faults(faults)
    return Exit.ROOM if faults else Exit.DONE


@commands.command()
@click.argument("room", type=_FILE)
@click.option("--json", "as_json", is_flag=True, help="Print the readings as JSON.")
def measure(room: Path, *, as_json: bool) -> int:
    """Say what to measure next in ROOM, in the order of what it gains; nothing when no decision would change."""
    from nookwright.build import measure as measure_room
    from nookwright.terminal import Bars, readings_summary, say_readings

    with Bars() as progress:
        readings = measure_room(room, progress=progress)
    if as_json:
        click.echo(json.dumps({"file": str(room), "next_readings": readings_summary(readings)}, indent=1))
    else:
        say_readings(readings)
    return Exit.DONE


@commands.command()
@click.argument("room", type=_FILE)
@click.option("--out", type=_FILE, required=True, help="Folder for the coupons.")
@click.option("--printer", default="", help="Only for this printer, by its id.")
@click.option("--long", "long", is_flag=True, help="The long cross, for a caliper of 200 mm: scales twice as sure.")
def coupon(room: Path, out: Path, *, printer: str, long: bool) -> int:
    """Write the coupon of each printer of ROOM: a small print that is measured, so that sizes fit the first time.

    Print it, measure what its sheet shows, fill in the table, and name it in ROOM in a table [[coupon]].
    """
    from nookwright.build import write_coupons
    from nookwright.survey.origins import CouponForm
    from nookwright.terminal import say_coupons

    files = write_coupons(room, out, form=CouponForm.LONG if long else CouponForm.SHORT, only=printer)
    say_coupons(files, long=long)
    return Exit.DONE


@commands.command()
@click.argument("folder", type=_FILE)
@click.option("--answers", type=_FILE, help="TOML file with name, drawer, bed, material and things.")
def new(folder: Path, answers: Path | None) -> int:
    """Write FOLDER/room.toml for one drawer, and a first plan of it.

    Asks for a name, the inside of the drawer, the printer's bed, the material and the things, one a line.
    """
    from nookwright.survey.answers import read_answers
    from nookwright.survey.new import room_text
    from nookwright.terminal import ask, first_plan

    file = folder / "room.toml"
    if file.exists():
        raise FolderError(f"{file}: found a room file already; allowed: a folder without one. Choose another folder.")
    text = room_text(read_answers(answers) if answers else ask())
    folder.mkdir(parents=True, exist_ok=True)
    file.write_text(text, encoding="utf-8", newline="\n")
    click.echo(f"wrote {file}")
    for plan in first_plan(file):
        click.echo(f"wrote {plan}")
    click.echo(f"Measure what is still rough, edit {file}, then: nookwright build {file} --out {folder / 'kit'}")
    return Exit.DONE


@commands.command()
@click.argument("room", type=_FILE)
@click.option("--port", type=click.IntRange(0, 65535), default=0, help="To serve on; any free one if left out.")
@click.option("--open", "show", is_flag=True, help="Open the page in your browser.")
def studio(room: Path, port: int, *, show: bool) -> int:
    """Open ROOM in the studio: a page on this machine only, to survey, move, build and prove it.

    Begins ROOM where it is not there yet. Prints its address, whose key lets nobody else in. Ctrl-C ends it.
    """
    import webbrowser

    from nookwright.studio.main import serve

    begun = not room.exists()

    def tell(address: str) -> None:
        if begun:
            click.echo(f"began {room} with a usual printer and material; the page says what to do next")
        click.echo(f"{room} is open at\n{address}\nCtrl-C ends it; what you did is in the file.")
        if show:
            webbrowser.open(address)

    serve(room, port=port, tell=tell)
    return Exit.DONE


def _build(room: Path, out: Path, *, step: bool = False, as_json: bool) -> int:
    """Build a kit and say what it holds."""
    from nookwright.build import build as build_kit
    from nookwright.exchange.earlier import earlier_stands, stands_of_kit
    from nookwright.layout.changes import changes
    from nookwright.solids.pool import usual_processes
    from nookwright.terminal import Bars, cache_folder, say_changes, say_forecast, say_kit, summary

    before = earlier_stands(out)
    with Bars() as progress:
        kit: Kit = build_kit(
            room,
            out,
            progress=progress,
            cache=cache_folder(),
            processes=usual_processes(),
            step=step,
            tell=say_forecast,
        )
    changed = None if before is None else changes(before, stands_of_kit(kit))
    if as_json:
        click.echo(json.dumps(summary(kit, out, changed), indent=1))
    else:
        say_kit(kit, out)
        say_changes(changed)
    return Exit.STOP if any(finding.severity == "stop" for finding in kit.findings) else Exit.DONE


def _say_faults(faults: Sequence[Fault]) -> None:
    """Every fault on a line of its own, what to do below it."""
    for fault in faults:
        where = f"{fault.file}:{fault.line}" if fault.line else fault.file
        click.echo(f"{where}: {fault.key}: found {fault.found}", err=True)
        click.echo(f"    allowed: {fault.allowed}", err=True)
        click.echo(f"    {fault.remedy}", err=True)
    if faults:
        many = "1 fault" if len(faults) == 1 else f"{len(faults)} faults"
        click.echo(f"{many}; nothing was written.", err=True)


def _guarded(run: Callable[[], int]) -> int:
    """Run a command and turn what goes wrong into words and an exit code."""
    try:
        return int(run() or Exit.DONE)
    except click.ClickException as error:
        error.show()
        return error.exit_code
    except (KeyboardInterrupt, click.Abort):
        click.echo("Interrupted; nothing was replaced.", err=True)
        return Exit.INTERRUPTED
    except (NookwrightError, OSError) as error:
        return _said(error)


def _said(error: NookwrightError | OSError) -> Exit:
    """Say in words what went wrong; the exit code for it."""
    match error:
        case RoomError():
            _say_faults(error.faults)
            return Exit.ROOM
        case MissingExtraError():
            click.echo(str(error), err=True)
            return Exit.USAGE
        case FolderError():
            click.echo(str(error), err=True)
            return Exit.FOLDER
        case OSError():
            click.echo(f"{error.filename or 'a file'}: {error.strerror or error}; nothing was replaced.", err=True)
            return Exit.FOLDER
    click.echo(f"A fault of the program, nothing was replaced: {error}", err=True)
    return Exit.FAULT


def main(arguments: Sequence[str] | None = None) -> None:
    """Run the command line and leave with its exit code.

    Args:
        arguments: what was typed; those of the process when left out.
    """
    typed = None if arguments is None else list(arguments)
    sys.exit(_guarded(lambda: commands.main(args=typed, standalone_mode=False)))
