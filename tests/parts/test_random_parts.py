"""Random parameters of every kind of part: a sound solid that prints, or a refusal that helps; never a broken mesh.

What is drawn, and how it is judged, is shared with the long run in ``fuzz/parts.py``.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from fuzz import watch
from fuzz.chance import Chance
from fuzz.hints import HINTS
from fuzz.orders import keys_there_are
from fuzz.part_cases import KINDS, Case, case, followed, is_clear
from fuzz.verdicts import Verdict, judged
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from nookwright.parts.model import Kind

KEPT = settings(
    max_examples=10,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much],
)
FAIR_SHARE, DRAWN = 0.3, 60
ROOT = Path(__file__).resolve().parents[2]
VICTIM = """\
import os, sys, time
from fuzz import watch

def tried(case):
    if case == 11:
        time.sleep(600)
    if case == 12:
        os._exit(3)
    if case == 13:
        raise ValueError(case)
    return {"verdict": "solid"}

watch.tell(int(sys.argv[2]), int(sys.argv[4]), lambda case: {}, tried)
"""
EACH_KIND = pytest.mark.parametrize("kind", KINDS)


@st.composite
def cases(draw: st.DrawFn, kind: str) -> Case:
    """Any case of a kind."""
    steered = st.randoms(use_true_random=False).map(Chance)  # near to what is simple, and shrinks
    numbered = st.integers(0, 10**6).map(Chance.of)  # as varied as the long run
    return case(draw(st.one_of(steered, numbered)), kind)


@EACH_KIND
def test_random_parameters_give_a_sound_part_or_a_clear_refusal(kind: str) -> None:
    """Closed, whole, of the box, genus and volume that it says, printable; or refused with all that a person needs."""

    @KEPT
    @given(cases(kind))
    def holds(drawn: Case) -> None:
        found = judged(drawn)
        assert found.verdict.fine, f"{found.verdict}: {found.words}"

    holds()


@pytest.fixture(scope="module")
def many() -> dict[str, list[Case]]:
    """Some tens of cases of every kind, drawn and not made solid."""
    return {kind: [case(Chance.of(number), kind) for number in range(DRAWN)] for kind in KINDS}


@EACH_KIND
def test_a_fair_share_of_what_is_drawn_is_made(many: dict[str, list[Case]], kind: str) -> None:
    """Or else the property above would be about refusals alone."""
    assert sum(not each.refusal for each in many[kind]) >= FAIR_SHARE * DRAWN


def test_every_refusal_is_clear(many: dict[str, list[Case]]) -> None:
    """Subject, rule, value found, what is allowed, what to do; also of what is wild."""
    assert [each.refusal for some in many.values() for each in some if not each.clear] == []


def test_every_kind_of_part_is_drawn(many: dict[str, list[Case]]) -> None:
    """A new kind that nobody draws is found here; what is tried before the rest has tests of its own."""
    drawn = {part.kind for some in many.values() for each in some for part in each.parts}
    assert drawn == set(Kind) - {Kind.COUPON, Kind.GAUGE}


def test_every_hint_steers_a_key_that_there_is() -> None:
    """A record that gets another name would be drawn blindly, and mostly refused."""
    assert set(HINTS) - keys_there_are() == set()


def test_a_case_follows_from_its_number() -> None:
    """So that a failure of a long run can be had again."""
    one, again = (case(Chance.of(7), "tray") for _ in range(2))
    assert (one.module, one.parameters) == (again.module, again.parameters)


def test_what_a_refusal_allows_is_put_in_the_place_of_what_it_found() -> None:
    """Anywhere in the keys; nothing where it names no such value."""
    said = "a lid: it is low; found 12.5, allowed: at most 8. Make it lower."
    assert followed({"a": [{"height": 12.5}], "b": 3.0}, said) == {"a": [{"height": 8.0}], "b": 3.0}
    assert followed({"height": 9.0}, said) is None
    whole = "a lid: whole layers; found 1.3, allowed: multiples of 0.2. Take 1.4."
    assert followed({"height": 1.3}, whole) == {"height": 1.4}


def test_a_refusal_without_a_remedy_is_unclear() -> None:
    """The words of a shape's own rules are no help to someone who ordered a part."""
    assert is_clear("lid: it is low; found 1, allowed: 2. Make it higher.")
    assert not is_clear("Rect: it is low; found 1, allowed: 2")
    assert not is_clear("lid: it is low; found 1, allowed: 2.")
    made = case(Chance.of(1), "key")
    unclear = replace(made, parts=(), refusal="Rect: it is low; found 1, allowed: 2", clear=False)
    assert judged(unclear).verdict is Verdict.UNCLEAR


def test_a_case_that_hangs_or_dies_costs_itself_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It is told by its number, and the cases after it are run."""
    (tmp_path / "victim.py").write_text(VICTIM, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("PYTHONPATH", str(ROOT))
    told = [(one["case"], one["verdict"]) for one in watch.cases("victim", 10, 5, limit_s=6.0)]
    assert told == [(10, "solid"), (11, "time-out"), (12, "crash"), (13, "crash"), (14, "solid")]
