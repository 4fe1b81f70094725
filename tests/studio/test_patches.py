"""What a gesture changes, sent by numbers."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from nookwright.studio.patches import NOTHING, patch_between

ITEMS = st.lists(
    st.fixed_dictionaries(
        {"id": st.sampled_from("abcdef"), "name": st.sampled_from(("x", "y")), "col": st.integers(0, 2)}
    ),
    unique_by=lambda one: str(one["id"]),
    max_size=6,
)


@given(ITEMS, ITEMS)
def test_a_patch_makes_the_one_of_the_other_or_there_is_none(
    before: list[dict[str, object]], after: list[dict[str, object]]
) -> None:
    """In the order of those before; none where something is new, or where a word changed."""
    patch = patch_between(before, after)
    then, now = ({str(one["id"]): one for one in items} for items in (before, after))
    says_words = any(then[name]["name"] != one["name"] for name, one in now.items() if name in then)
    assert (patch is None) == (bool(now.keys() - then.keys()) or says_words)
    if patch is not None:
        assert list(patch.made(before)) == [now[str(one["id"])] for one in before if one["id"] in now]
        assert (patch == NOTHING) == ({**then} == {**now})


def test_a_patch_holds_numbers_and_keys_of_ours_only() -> None:
    """No word that somebody typed comes near a script."""
    before = [{"id": "<b>", "name": "'); alert(1)", "col": 1, "stays": False}, {"id": "two", "name": "", "col": 0}]
    patch = patch_between(before, [{**before[0], "col": 2, "stays": True}])
    assert patch is not None
    assert patch.sent == {"changed": [[0, {"col": 2, "stays": True}]], "gone": [1]}
