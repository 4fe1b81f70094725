"""What other packers reach on a strip: rectpack, rectangle-packer, and a model for CP-SAT.

The first two pack into a box; a strip is searched by halving the height between the bound and what fits. CP-SAT gets
two intervals a footprint (one for each way that it may lie), no overlap in the plane, and the two cumulative sums that
this implies.
"""

from __future__ import annotations

from enum import StrEnum
from itertools import product
from typing import TYPE_CHECKING, Any

import rectpack
import rpack
from ortools.sat.python import cp_model

from nookwright.layout.packing.strip import least_height

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from nookwright.layout.packing import Footprint

WORKERS = 2
FINALISTS = 6  # of rectpack's methods, that the height is searched with
MANY = 250  # footprints, above which only the quick ones of rectpack's methods are tried
MOST_PACKED = 500  # footprints that the packages are asked for
MOST_SOLVED = 200  # and CP-SAT

SKYLINES = ("SkylineBl", "SkylineBlWm", "SkylineMwf", "SkylineMwfWm", "SkylineMwfl", "SkylineMwflWm")
OTHERS = (
    *("MaxRectsBaf", "MaxRectsBl", "MaxRectsBlsf", "MaxRectsBssf"),
    *(f"Guillotine{fit}{split}" for fit in ("Bssf", "Baf") for split in ("Sas", "Las", "Slas", "Llas")),
)
SORTINGS = ("SORT_AREA", "SORT_PERI", "SORT_DIFF", "SORT_SSIDE", "SORT_LSIDE", "SORT_RATIO")


class Answer(StrEnum):
    """Whether a strip can be packed within a height."""

    YES = "packed"
    NO = "refuted"
    OPEN = "no answer"


def _halve(low: int, high: int, reached: Callable[[int], int | None]) -> int:
    """The lowest height that halving finds; ``reached`` packs below a height, or gives None."""
    best = high
    while low < high:
        middle = (low + high) // 2
        got = reached(middle)
        if got is None:
            low = middle + 1
        else:
            best, high = min(best, got), min(middle, got)
    return best


def rectpack_height(width: int, items: Sequence[Footprint]) -> int | None:
    """The lowest of rectpack: its algorithms times its sortings, the best of them with halving of the height."""
    if len(items) > MOST_PACKED:
        return None
    turn = any(item.may_turn for item in items)
    highest = sum(max(item[:2]) for item in items)

    def packed(method: tuple[str, str], height: int) -> int | None:
        packer: Any = rectpack.newPacker(
            mode=rectpack.PackingMode.Offline,
            bin_algo=rectpack.PackingBin.BBF,
            pack_algo=getattr(rectpack, method[0]),
            sort_algo=getattr(rectpack, method[1]),
            rotation=turn,
        )
        packer.add_bin(width, height)
        for item in items:
            packer.add_rect(*item[:2])
        packer.pack()
        placed = packer.rect_list()
        return max(y + tall for _, _, y, _, tall, _ in placed) if len(placed) == len(items) else None

    methods = SKYLINES if len(items) > MANY else (*SKYLINES, *OTHERS)
    tops = {method: top for method in product(methods, SORTINGS) if (top := packed(method, highest))}
    bound = least_height(width, items)
    finalists = sorted(tops, key=lambda method: (tops[method], method))[:FINALISTS]
    return min(
        *tops.values(),
        *(_halve(bound, tops[one], lambda height, one=one: packed(one, height)) for one in finalists),  # type: ignore[misc]
    )


def rpack_height(width: int, items: Sequence[Footprint]) -> int | None:
    """The lowest of rectangle-packer, which does not turn: as they are, all lying, all standing; height halved."""
    if len(items) > MOST_PACKED:
        return None
    forms = {tuple(item[:2] for item in items)}
    for low_first in (True, False):
        sizes = []
        for cols, rows, may_turn in items:
            wide, tall = sorted((cols, rows), reverse=low_first) if may_turn else (cols, rows)
            sizes.append((wide, tall) if wide <= width else (tall, wide))
        forms.add(tuple(sizes))

    def packed(sizes: tuple[tuple[int, int], ...], height: int) -> int | None:
        try:
            spots = rpack.pack(list(sizes), max_width=width, max_height=height)
        except rpack.PackingImpossibleError:
            return None
        return max(int(y) + tall for (_, y), (_, tall) in zip(spots, sizes, strict=True))

    bound = least_height(width, items)
    return min(
        _halve(bound, sum(tall for _, tall in sizes), lambda height, sizes=sizes: packed(sizes, height))  # type: ignore[misc]
        for sizes in sorted(forms)
    )


def _model(width: int, items: Sequence[Footprint], height: int, *, fixed: bool) -> tuple[Any, Any]:
    """A strip as constraints, and the variable of its height (None where it is fixed)."""
    model: Any = cp_model.CpModel()
    top = None if fixed else model.new_int_var(least_height(width, items), height, "top")
    across, upwards, breadths, heights = [], [], [], []
    for item in items:
        ways = [(item.cols, item.rows), (item.rows, item.cols)][: 1 + item.may_turn]
        ways = [(wide, tall) for wide, tall in ways if wide <= width and tall <= height]
        taken = [model.new_bool_var("") for _ in ways]
        model.add_exactly_one(taken)
        for (wide, tall), lies in zip(ways, taken, strict=True):
            x, y = model.new_int_var(0, width - wide, ""), model.new_int_var(0, height - tall, "")
            across.append(model.new_optional_fixed_size_interval_var(x, wide, lies, ""))
            upwards.append(model.new_optional_fixed_size_interval_var(y, tall, lies, ""))
            breadths.append(wide)
            heights.append(tall)
            if top is not None:
                model.add(y + tall <= top).only_enforce_if(lies)
    model.add_no_overlap_2d(across, upwards)
    model.add_cumulative(across, heights, height if top is None else top)
    model.add_cumulative(upwards, breadths, width)
    if top is not None:
        model.minimize(top)
    return model, top


def _solve(model: Any, seconds: float) -> tuple[Any, Any]:  # noqa: ANN401 - no types published
    solver: Any = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = WORKERS
    solver.parameters.random_seed = 1
    return solver, solver.solve(model)


def solver_height(width: int, items: Sequence[Footprint], seconds: float) -> int | None:
    """The lowest that CP-SAT finds when it minimises the height."""
    if len(items) > MOST_SOLVED:
        return None
    highest = sum(min(item[:2]) if item.may_turn and max(item[:2]) <= width else item.rows for item in items)
    highest = max(highest, *(max(item[:2]) for item in items))
    model, top = _model(width, items, highest, fixed=False)
    solver, status = _solve(model, seconds)
    return int(solver.value(top)) if status in (cp_model.OPTIMAL, cp_model.FEASIBLE) else None


def solver_answer(width: int, items: Sequence[Footprint], height: int, seconds: float) -> Answer:
    """Whether CP-SAT packs a strip within a height, refutes it, or has no answer."""
    if len(items) > MOST_SOLVED:
        return Answer.OPEN
    _, status = _solve(_model(width, items, height, fixed=True)[0], seconds)
    if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return Answer.YES
    return Answer.NO if status == cp_model.INFEASIBLE else Answer.OPEN
