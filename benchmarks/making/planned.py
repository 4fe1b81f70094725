"""How well the printing of whole rooms is planned, and what planning costs: the demo, and a room of twice its size.

    nice .venv/bin/python -m benchmarks.making.planned             # a table; exit code 1 where a target is missed
    nice .venv/bin/python -m benchmarks.making.planned --renew     # the same, into docs/bedfuls.md

Every copy of every piece must lie on a bed, apart from all others by outline. Bedfuls are held against the best of the
bounds by area, by dual feasible functions and by big items, the end of the schedule against its proven bound. Seconds
are those of one processor of this process, after loading and compiling; what the first call of each costs in a new
process stands beside them. The room of twice the demo's size is invented: it has all spaces of the demo once more, 24
narrower and 18 shallower, all lots once more, and a third printer with a bed of 220 x 220.
"""

from __future__ import annotations

import argparse
import json
import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections import Counter
from dataclasses import dataclass
from itertools import combinations
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
from manifold3d import CrossSection, FillRule, JoinType

from nookwright.build import check, estimate_pieces, make_solid, plan_and_design
from nookwright.cutting.cut import cut_all
from nookwright.ground.progress import Silent
from nookwright.layout.place import Effort as LayoutEffort
from nookwright.making.beds.footprints import turned_contours
from nookwright.making.beds.silhouettes import silhouette
from nookwright.making.estimate.piece import estimate
from nookwright.making.estimate.settings import settings_of
from nookwright.making.expected import Batch, expected
from nookwright.making.jobs import make
from nookwright.making.printing import plan_printing
from nookwright.making.schedule.model import Stage
from nookwright.sizing.printers.household import household_of
from nookwright.survey.models import Room
from nookwright.survey.rooms import demo_path

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from nookwright.build import Designed
    from nookwright.making.estimate.many import Estimates
    from nookwright.making.jobs import Making
    from nookwright.solids.triangles import Mesh

PAGE = Path(__file__).parents[2] / "docs" / "bedfuls.md"
BEGIN, END = "<!-- planned -->\n", "<!-- end -->"
MOST_S, MEDIAN_S, MOST_GAP, MOST_BEDS = 15.0, 0.15, 0.05, 1
TOUCH_MM2, LOOKED_AT = 1e-3, 1.0  # outlines that share less only touch; what is further apart by boxes, mm
TRIED = (0.5, -0.01)  # mm more than is wanted between two pieces, and as much, rounded
NARROWER, SHALLOWER = 24.0, 18.0
SMALL = {"id": "third", "name": "Third printer", "bed_width": 220, "bed_depth": 220, "bed_height": 240}


def demo() -> Room:
    """The demo."""
    with demo_path() as path:
        room, faults = check(path)
    if room is None:
        raise ValueError(faults)
    return room


def twice() -> Room:
    """All of the demo, and nearly the same once more."""
    room = demo()
    text = room.model_dump(mode="json", exclude_defaults=True) | {"format": 1}
    printers = [*text["printer"], SMALL | {"materials": text["printer"][0]["materials"]}]
    spaces = [*text["space"], *(_smaller(one) for one in text["space"])]
    lots = [*text["lot"], *(_again(one) for one in text["lot"])]
    dropped = {"place", "part", "found", "coupon"}
    kept = {key: value for key, value in text.items() if key not in dropped}
    return Room.model_validate(kept | {"printer": printers, "space": spaces, "lot": lots})


def _smaller(space: dict[str, Any]) -> dict[str, Any]:
    """A space once more, a little smaller; nothing blocked in it."""
    found = {key: value for key, value in space.items() if key not in {"blocked", "lump", "passes_under", "diagonals"}}
    for key, less in (("width", NARROWER), ("depth", SHALLOWER)):
        found[key] = json.loads(json.dumps(found[key]), parse_int=float)
        found[key] = _less(found[key], less)
    return found | {"id": f"{space['id']}-2", "name": f"{space.get('name', space['id'])}, second"}


def _less(value: Any, less: float) -> Any:  # noqa: ANN401 - readings in one of their forms
    """Readings, each less by so much."""
    if isinstance(value, int | float):
        return value - less
    if isinstance(value, list):
        return [_less(one, less) for one in value]
    return {key: one if key in {"z", "height", "at"} else _less(one, less) for key, one in value.items()}


def _again(lot: dict[str, Any]) -> dict[str, Any]:
    """A lot once more."""
    more: dict[str, Any] = {key: f"{lot[key]}-2" for key in ("shares",) if lot.get(key)}
    more |= {"near": [f"{one}-2" for one in lot["near"]]} if lot.get("near") else {}
    kept = {key: value for key, value in lot.items() if key != "box"}
    return kept | more | {"id": f"{lot['id']}-2", "name": f"{lot.get('name', lot['id'])}, second"}


@dataclass(frozen=True)
class Planned:
    """One room, planned, with the seconds of each step."""

    name: str
    designed: Designed
    meshes: dict[str, Mesh]
    making: Making
    printing: Any
    took_s: dict[str, float]
    cold_s: list[float]
    warm_s: list[float]

    @property
    def copies(self) -> int:
        """Copies of pieces that are needed."""
        return sum(piece.count for piece in self.making.pieces)


def timed(work: Callable[[], Any]) -> tuple[Any, float]:
    """What some work gives, and its seconds of the processor."""
    begun = time.process_time()
    return work(), time.process_time() - begun


def planned(name: str, room: Room, cache: Path) -> Planned:
    """Plan the printing of a room, step by step."""
    quiet = Silent()
    designed = plan_and_design(room, effort=LayoutEffort(), progress=quiet)
    meshes = dict(make_solid(designed, cache=cache, processes=1, progress=quiet))
    copies, envelope = designed.all_copies, household_of(room).envelope
    whole = [copy for copy in copies if copy.part.kind.value != "key"]
    _, cutting_s = timed(lambda: cut_all(whole, designed.plan.module, room.printer, envelope))
    cold_s = cold(designed, meshes)
    estimate_pieces(designed, meshes, cache=cache, processes=1, progress=quiet)
    estimates, warm = timed(lambda: estimate_pieces(designed, meshes, cache=cache, processes=1, progress=quiet))
    making, nesting_s = timed(lambda: made(designed, meshes, estimates))
    trials = make(
        room,
        designed.trials.copies,
        designed.trials.cut,
        lambda piece: meshes[piece.recipe.digest].volume_mm3,
        estimates=estimates,
        meshes=meshes,
    )
    batches = (Batch(trials, designed.trials.copies, Stage.TRIAL), Batch(making, copies, Stage.KIT))
    awaited = expected(room, batches)
    plan_printing(room, awaited.bedfuls[:3], spoilage=awaited.spoilage)  # loads and compiles
    printing, schedule_s = timed(lambda: plan_printing(room, awaited.bedfuls, spoilage=awaited.spoilage))
    took = {"cutting": cutting_s, "nesting": nesting_s, "schedule": schedule_s}
    return Planned(name, designed, meshes, making, printing, took, cold_s, [warm / len(estimates.pieces)])


def made(designed: Designed, meshes: dict[str, Mesh], estimates: Estimates) -> Making:
    """Pieces shared out, nested, timed."""
    return make(
        designed.room,
        designed.all_copies,
        designed.cut,
        lambda piece: meshes[piece.recipe.digest].volume_mm3,
        estimates=estimates,
        meshes=meshes,
    )


def cold(designed: Designed, meshes: dict[str, Mesh]) -> list[float]:
    """Seconds of the estimate of each distinct piece, made anew."""
    settings = settings_of(designed.room.printer[0], designed.plan.module.wall)
    digests = {piece.recipe.digest for cut in designed.cut.values() for piece in cut.pieces}
    return [timed(lambda digest=digest: estimate(meshes[digest], settings))[1] for digest in sorted(digests)]  # type: ignore[misc]


def nearest(one: Planned) -> float:
    """The least room between two pieces of a bedful less what their printer asks for, by outline, mm."""
    recipes = {piece.id: piece.piece for piece in one.making.pieces}
    spacing = {printer.id: printer.spacing + 2 * printer.profile.brim for printer in one.designed.room.printer}
    areas = {name: silhouette(one.meshes[piece.recipe.digest]) for name, piece in recipes.items()}
    least = np.inf
    for load in one.making.loads:
        placed = []
        for item in load.items:
            width, depth, _ = recipes[item.piece].size
            turned = turned_contours(areas[item.piece], width, depth, item.turns)
            placed.append(CrossSection(list(turned), FillRule.NonZero).translate((item.x, item.y)))
        wanted = spacing[load.printer]
        for left, right in combinations(placed, 2):
            if _boxes_apart(left.bounds(), right.bounds()) > wanted + LOOKED_AT:
                continue
            for more in TRIED:
                if (left.offset(wanted + more, JoinType.Round) ^ right).area() <= TOUCH_MM2:
                    least = min(least, more)
                    break
            else:
                least = min(least, -wanted)
    return float(least)


def _boxes_apart(one: Sequence[float], other: Sequence[float]) -> float:
    return max(one[0] - other[2], other[0] - one[2], one[1] - other[3], other[1] - one[3])


def first_calls() -> dict[str, tuple[float, float]]:
    """Seconds of the processor that loading and the first call take in a new process: compiled anew, and kept."""
    script = (
        "import time, json; t0 = time.process_time()\n"
        "import numpy as np\n"
        "from benchmarks.making.planned import FIRST\n"
        "found = {}\n"
        "for name, work in FIRST.items():\n"
        "    t = time.process_time(); work(); found[name] = time.process_time() - t\n"
        "print(json.dumps(found))\n"
    )
    with tempfile.TemporaryDirectory() as folder:
        rounds = []
        for _ in range(2):
            run = subprocess.run(
                [sys.executable, "-c", script],
                env=os.environ | {"NUMBA_CACHE_DIR": folder},
                capture_output=True,
                text=True,
                check=True,
            )
            rounds.append(json.loads(run.stdout.splitlines()[-1]))
    return {name: (rounds[0][name], rounds[1][name]) for name in rounds[0]}


def _first_estimate() -> None:
    from nookwright.solids.triangles import Mesh as Solid

    corners = np.array([(x, y, z) for z in (0.0, 6.0) for x, y in ((0, 0), (40, 0), (40, 30), (0, 30))], np.float64)
    sides = [(0, 2, 1), (0, 3, 2), (4, 5, 6), (4, 6, 7)]
    sides += [face for a in range(4) for b in ((a + 1) % 4,) for face in ((a, b, b + 4), (a, b + 4, a + 4))]
    from nookwright.survey.models import Printer

    printer = Printer(id="one", bed_width=200, bed_depth=200, bed_height=200, materials=("white",))
    estimate(Solid(corners, np.array(sides, np.uint32)), settings_of(printer, 1.2))


def _first_nesting() -> None:
    from nookwright.making.nesting import Bin, nested

    sides = [(310 + 37 * n % 410, 290 + 53 * n % 520) for n in range(40)]
    nested(sides, Bin(1500, 1300))


def _first_schedule() -> None:
    from nookwright.making.schedule.effort import Effort
    from nookwright.making.schedule.hours import Beginning, hours_of
    from nookwright.making.schedule.model import Bedful, Rules, Way
    from nookwright.making.schedule.plan import schedule_of
    from nookwright.survey.making_wishes import Making as Wishes
    from nookwright.survey.models import Printer

    printers = [
        Printer(id=name, bed_width=200, bed_depth=200, bed_height=200, materials=("white",)) for name in ("one", "two")
    ]
    bedfuls = [
        Bedful(f"b{n}", "white", (Way(("one", "two")[n % 2], 9000 + 900 * n, 8000, 12000 + 900 * n),), 10.0, 11.0)
        for n in range(12)
    ]
    effort = Effort(steps=0, puts=1000, passed=1000)
    schedule_of(bedfuls, hours_of(Wishes(), printers, Beginning()), Rules(), effort=effort)


FIRST = {"estimates": _first_estimate, "nesting": _first_nesting, "schedule": _first_schedule}


def rows(one: Planned) -> list[tuple[str, str, bool]]:
    """What the table says of a room: what, the figure, whether it is what is wanted."""
    printed = Counter(item.piece for load in one.making.loads for item in load.items)
    all_there = all(printed[piece.id] == piece.count for piece in one.making.pieces)
    groups = one.making.groups
    gaps = ", ".join(f"{g.printer} {g.material}: {g.bedfuls} for {g.bound}" for g in groups if g.gap)
    near, schedule = nearest(one), one.printing.schedule
    days = [(minutes - schedule.begin) / 1440 for minutes in (schedule.end, schedule.bound)]
    apart = "as far as is wanted" if near >= TRIED[-1] else f"{near:.2f} mm too near"
    when = f"{days[0]:.2f}, {days[1]:.2f} ({schedule.gap:.1%})"
    total = sum(one.took_s.values())
    steps = ", ".join(f"{name} {took:.1f}" for name, took in one.took_s.items())
    settings = {printer.id for printer in one.designed.room.printer}
    return [
        ("distinct pieces, copies", f"{len(one.making.pieces)}, {one.copies}", True),
        ("copies on beds", f"{sum(printed.values())}", all_there),
        ("nearest two on a bed, by outline", apart, near >= TRIED[-1]),
        ("bedfuls, and their bound", f"{sum(g.bedfuls for g in groups)}, {sum(g.bound for g in groups)}", True),
        ("printers and colours above their bound", gaps or "none", all(g.gap <= MOST_BEDS for g in groups)),
        ("schedule, and its bound, days", when, schedule.gap <= MOST_GAP),
        ("cutting, nesting, schedule, s", f"{total:.1f} ({steps})", total <= MOST_S),
        ("an estimate, s", f"median {statistics.median(one.cold_s):.3f}, most {max(one.cold_s):.2f}",
         statistics.median(one.cold_s) <= MEDIAN_S),
        ("the same, remembered, s", f"{one.warm_s[0]:.4f} ({len(settings)} printers)", True),
    ]  # fmt: skip


def main() -> int:
    """Print or renew the table; the exit code says whether all is as wanted."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--renew", action="store_true", help="write the table into docs/bedfuls.md")
    parser.add_argument("--cache", type=Path, default=Path(tempfile.gettempdir()) / "nookwright-planned")
    asked = parser.parse_args()
    found = {}
    for name, room in (("the demo", demo()), ("twice the demo", twice())):
        found[name] = rows(planned(name, room, asked.cache))
        for what, figure, good in found[name]:
            print(f"{name:<16} {what:<40} {figure}{'' if good else '  MISSED'}", flush=True)
    calls = ", ".join(f"{name} {anew:.1f} / {kept:.1f}" for name, (anew, kept) in first_calls().items())
    print("first call, s: compiled anew / kept:", calls)
    if asked.renew:
        heads = ["what", *found]
        lines = [heads, ["---"] * len(heads)]
        for number, (what, *_) in enumerate(next(iter(found.values()))):
            lines.append([what, *(rows_of[number][1] for rows_of in found.values())])
        table = "\n".join("| " + " | ".join(line) + " |" for line in lines)
        said = f"Loading and the first call in a new process, s, compiled anew / kept from an earlier run: {calls}."
        head, mark, rest = PAGE.read_text(encoding="utf-8").partition(BEGIN)
        _, _, tail = rest.partition(END)
        PAGE.write_text(f"{head}{mark}\n{table}\n\n{said}\n\n{END}{tail}", encoding="utf-8", newline="\n")
    return 0 if all(good for one in found.values() for _, _, good in one) else 1


if __name__ == "__main__":
    sys.exit(main())
