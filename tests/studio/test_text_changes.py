"""Changes of a text, undone and merged."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.studio.text_changes import Change, change_between, merge

TEXT = st.text(alphabet="ab\n", max_size=30)
LINES = st.lists(st.sampled_from(["a\n", "b\n", "c\n", "\n"]), max_size=8).map("".join)


@given(TEXT, TEXT)
def test_a_change_leads_there_and_its_reverse_back(before: str, after: str) -> None:
    """Whatever the two texts are; and no part of it was the same in both at either end."""
    change = change_between(before, after)
    assert change.made(before) == after
    assert change.reverse.made(after) == before
    if change.removed and change.added:
        assert change.removed[0] != change.added[0]
        assert change.removed[-1] != change.added[-1]


@pytest.mark.parametrize("change", [Change(1, "x", ""), Change(9, "", "x"), Change(-1, "", "x")])
def test_a_change_of_something_else_is_refused(change: Change) -> None:
    """The text must have what is removed, where it is removed."""
    with pytest.raises(ValueError, match="something else"):
        change.made("abc")


@given(LINES, LINES)
def test_who_is_alone_has_it_his_way(base: str, changed: str) -> None:
    """Where only one of both changed something, the merge is that text, without a clash."""
    assert merge(base, changed, base) == merge(base, base, changed) == merge(base, changed, changed)
    assert merge(base, changed, base).text == changed
    assert not merge(base, changed, base).clashes


@given(LINES, LINES, LINES)
def test_no_line_of_theirs_is_lost(base: str, mine: str, theirs: str) -> None:
    """All lines that they wrote are in the merge; all that I wrote are in it, or among the clashes."""
    merged = merge(base, mine, theirs)
    for written, found in ((theirs, merged.text), (mine, merged.text + "".join(merged.clashes))):
        left = found.splitlines()
        for line in set(written.splitlines()) - set(base.splitlines()):
            assert left.count(line) >= 1


def test_changes_at_two_places_are_both_there() -> None:
    """Lines apart, each keeps its own."""
    base = "a = 1\n# note\nb = 2\n# note\nc = 3\n"
    merged = merge(base, base.replace("a = 1", "a = 9"), base.replace("c = 3\n", "c = 8\nd = 4\n"))
    assert merged.text == "a = 9\n# note\nb = 2\n# note\nc = 8\nd = 4\n"
    assert merged.clashes == ()


def test_of_two_changes_of_one_line_theirs_stays_and_mine_is_named() -> None:
    """Nothing of mine goes without a word."""
    merged = merge("a = 1\nb = 2\n", "a = 9\nb = 3\n", "a = 8\nb = 2\n")
    assert merged.text == "a = 8\nb = 2\n"
    assert merged.clashes == ("a = 9\nb = 3\n",)
