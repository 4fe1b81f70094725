"""A first layout at once, in plain Python: one lot after the other, the large ones first, where it costs least."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.layout.draft import Draft

if TYPE_CHECKING:
    from random import Random

    from nookwright.layout.problem import Choice, Problem


def first_draft(problem: Problem, random: Random) -> Draft:
    """A packed layout; lots may be left out that a better one would place.

    Args:
        problem: what can go where.
        random: for what the draft may do later; nothing is drawn now.
    """
    draft = Draft(problem, random)
    full: set[tuple[int, int, int, bool]] = set()  # space, footprint: nothing is ever taken out, so it stays full
    for number in sorted(range(len(problem.asks)), key=lambda one: _turn(problem, one)):
        for choice in sorted(problem.choices[number], key=lambda one: _cost(draft, one)):
            one = choice.candidate
            key = (choice.grid, one.cols, one.rows, one.may_turn)
            if key in full:
                continue
            if draft.add(choice):
                break
            if draft.carries(choice):
                full.add(key)
    return draft


def _turn(problem: Problem, number: int) -> tuple[int, float, int]:
    """The large ones first, of these the often used ones."""
    choices = problem.choices[number]
    return -min((choice.area for choice in choices), default=0), -problem.asks[number].use, number


def _cost(draft: Draft, choice: Choice) -> float:
    """What it costs now to make this choice."""
    opened = 0.0 if draft.inside[choice.grid] else draft.problem.grids[choice.grid].open_cost
    return choice.cost + opened + sum(cost for other, cost in draft.near[choice.ask] if draft.apart(choice, other))
