"""Many like findings as one."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from nookwright.checks.gathering import MANY, few, merged
from nookwright.ground.findings import Against, Finding, Severity

SEVERITIES = st.sampled_from(list(Severity))


def finding(subject: str, computed: float = 2.0, *, code: str = "a", severity: Severity = Severity.STOP) -> Finding:
    """A finding about something, with a limit of 1."""
    return Finding(code, severity, subject, "It is.", "Do.", Against(computed, 1.0, "mm"))


def test_a_few_are_said_one_by_one() -> None:
    """As they are, in their order."""
    three = tuple(finding(name) for name in "cab")
    assert few(three) == three
    assert few(()) == merged(()) == ()


def test_of_many_the_worst_is_said() -> None:
    """With how many more there are, and what they are about; another code is counted by itself."""
    many = [finding(name, 1.0 + number) for number, name in enumerate("abcde")]
    said = few([*many, finding("z", code="b")])
    assert [(one.code, one.subject) for one in said] == [("a", "e"), ("b", "z")]
    assert said[0].text == "It is. There are 4 more like it, about a; b; c; and 1 more."


def test_the_gravest_comes_before_the_farthest_off() -> None:
    """A stop that is hardly beyond its limit hides behind no note that is far beyond its own."""
    notes = [finding(name, 9.0, severity=Severity.NOTE) for name in "abcd"]
    (said,) = few([*notes, finding("e", 1.1)])
    assert (said.subject, said.severity) == ("e", Severity.STOP)


def test_many_about_one_thing_name_no_others() -> None:
    """Four copies on one bed."""
    (said,) = few([finding("bed")] * 4)
    assert said.text == "It is. There are 3 more like it."


def test_the_same_words_about_several_are_said_once() -> None:
    """Another text or another severity stays by itself."""
    said = merged([finding("a"), finding("b"), finding("c", severity=Severity.NOTE)])
    assert [(one.subject, one.text) for one in said] == [("a", "It is. The same holds for b."), ("c", "It is.")]


@given(st.lists(st.tuples(st.sampled_from("abcdef"), st.sampled_from("xyz"), SEVERITIES, st.floats(0, 9))))
def test_no_code_and_no_stop_is_lost(drawn: list[tuple[str, str, Severity, float]]) -> None:
    """Whatever there is: every code is still said as gravely as before, and none more than a few times."""
    findings = [finding(name, far, code=code, severity=severity) for name, code, severity, far in drawn]
    order = list(Severity)
    for gathered in (few(findings), merged(findings)):
        for code in {one.code for one in findings}:
            before = min(order.index(one.severity) for one in findings if one.code == code)
            assert before == min(order.index(one.severity) for one in gathered if one.code == code)
    assert all(sum(one.code == code for one in few(findings)) <= MANY for code in "xyz")
