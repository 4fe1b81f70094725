"""Schedules against what is published of identical machines in parallel, where nothing is ever closed.

R. L. Graham, Bounds on multiprocessing timing anomalies, SIAM Journal on Applied Mathematics 17 (1969), 416-429: the
longest first takes at most 4/3 - 1/(3m) of the shortest time, and a family of instances where it takes just that.
R. McNaughton, Scheduling with deadlines and loss functions, Management Science 6 (1959), 1-12: no schedule ends before
the longest of all, nor before the mean load of a machine.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.making.schedule.bound import bound_of
from nookwright.making.schedule.effort import INSTANT, Effort
from nookwright.making.schedule.hours import Hours
from nookwright.making.schedule.model import Bedful, Rules, Way
from nookwright.making.schedule.plan import schedule_of
from nookwright.making.schedule.quick import PREFERENCES, placed_by
from nookwright.making.schedule.starts import starts_of
from nookwright.survey.making_wishes import Order


def machines(count: int) -> tuple[Hours, ...]:
    """Machines that never close and need no setting up."""
    always = ((0, 10_000),)
    return tuple(Hours(f"m{n}", always, always, setup_min=0, change_min=0, loaded="grey") for n in range(count))


def jobs(lengths: list[int], count: int) -> tuple[Bedful, ...]:
    """Jobs that any of the machines can take."""
    return tuple(
        Bedful(f"j{n:02d}", "grey", tuple(Way(f"m{m}", run * 60, run * 60, run * 60) for m in range(count)), 1.0, 1.0)
        for n, run in enumerate(lengths)
    )


def rules(count: int) -> Rules:
    return Rules(order=Order.SOONEST, people=count)


@pytest.mark.parametrize("count", [2, 3])
def test_grahams_instances_are_solved_where_the_longest_first_is_not(count: int) -> None:
    """2m - 1, 2m - 1, ..., m + 1, m + 1, m, m, m: the longest first needs 4m - 1, the best 3m."""
    lengths = [run for run in range(2 * count - 1, count, -1) for _ in range(2)] + [count] * 3
    bedfuls, hours = jobs(lengths, count), machines(count)
    longest_first = placed_by(PREFERENCES["longest"], bedfuls, starts_of(hours, rules(count)), 0, {})
    assert longest_first is not None
    assert max(slot.end for slot in longest_first) == 4 * count - 1
    schedule = schedule_of(bedfuls, hours, rules(count), effort=Effort(steps=5, puts=20_000))
    assert (schedule.end, schedule.bound) == (3 * count, 3 * count)


@settings(max_examples=25)
@given(st.lists(st.integers(1, 60), min_size=1, max_size=8), st.integers(2, 3))
def test_the_instant_answer_keeps_grahams_bound(lengths: list[int], count: int) -> None:
    """It is never longer than 4/3 - 1/(3m) of the best, since the longest first is among its rules."""
    bedfuls, hours = jobs(lengths, count), machines(count)
    quick = schedule_of(bedfuls, hours, rules(count), effort=INSTANT)
    best = schedule_of(bedfuls, hours, rules(count), effort=Effort(steps=5, puts=100))
    assert best.proven
    assert quick.end <= (Fraction(4, 3) - Fraction(1, 3 * count)) * best.end


@given(st.lists(st.integers(1, 60), min_size=1, max_size=12), st.integers(1, 4))
def test_the_counted_bound_is_that_of_mcnaughton_where_nothing_closes(lengths: list[int], count: int) -> None:
    """The longest of all, or the mean load, rounded up to a minute."""
    bedfuls = jobs(lengths, count)
    mean = -(-sum(lengths) // count)
    assert bound_of(bedfuls, starts_of(machines(count), rules(count)), 0) == max(*lengths, mean)
