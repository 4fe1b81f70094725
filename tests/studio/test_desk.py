"""A room file on the desk: gestures, undo, other people's edits, and machines that stop at any moment."""

from __future__ import annotations

import json
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.studio.desk import KEPT, OUTSIDE, Desk

BASE = "# mine\nwidth = 362\n\n[room]\nname = 'shed'\n\n# end\n"
STEPS = st.lists(
    st.one_of(
        st.tuples(st.just("do"), st.text(alphabet="ab\n\u00e4\u2028\r", max_size=12)),
        st.tuples(st.sampled_from(["undo", "redo", "fold", "restart"]), st.just("")),
    ),
    max_size=14,
)


@pytest.fixture
def room_file(tmp_path: Path) -> Path:
    """A text that is edited."""
    path = tmp_path / "room.toml"
    path.write_bytes(BASE.encode())
    return path


def states(desk: Desk) -> list[str]:
    """Every text that undo leads back to, the newest first."""
    found = [desk.text]
    while desk.undo():
        found.append(desk.text)
    return found


@settings(max_examples=60, deadline=None)
@given(STEPS)
def test_it_does_what_a_list_of_texts_would_do(steps: list[tuple[str, str]]) -> None:
    """Undo, redo, folding and starting again in any order, against the plainest model there is."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "room.toml"
        path.write_bytes(BASE.encode())
        desk, texts, at = Desk(path), [BASE], 0
        for step, text in steps:
            if step == "do" and desk.do("typed", text):
                texts, at = [*texts[: at + 1], text], at + 1
            elif step == "undo":
                at -= bool(desk.undo())
            elif step == "redo":
                at += bool(desk.redo())
            elif step == "fold":
                assert desk.fold() is None
                assert path.read_bytes().decode() == texts[at]
            elif step == "restart":
                desk = Desk(path)
            assert desk.text == texts[at]
            assert (len(desk.done), len(desk.undone)) == (at, len(texts) - 1 - at)


@settings(max_examples=25, deadline=None)
@given(st.data())
def test_a_kill_at_any_byte_loses_at_most_the_gesture_in_hand(data: st.DataObject) -> None:
    """However far the last line of the journal came, all before it is there, and can be taken back."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "room.toml"
        path.write_bytes(BASE.encode())
        desk, journal = Desk(path), Path(folder) / "room.toml.journal"
        texts, lengths = [BASE], [journal.stat().st_size]
        for number in range(4):
            desk.do(f"gesture {number}", BASE.replace("362", f"36{number} # \u00e4"))
            texts.append(desk.text)
            lengths.append(journal.stat().st_size)
        cut = data.draw(st.integers(lengths[0], lengths[-1]))
        journal.write_bytes(journal.read_bytes()[:cut])
        whole = max(number for number, length in enumerate(lengths) if length <= cut)
        assert states(Desk(path)) == texts[whole::-1]


def test_gestures_are_in_the_journal_before_anybody_is_told(room_file: Path) -> None:
    """Who is told finds it on the disk already."""
    desk, journal, found = Desk(room_file), room_file.with_name("room.toml.journal"), []
    desk.on_change(lambda: found.append(json.loads(journal.read_bytes().splitlines()[-1])["did"]))
    desk.do("set width", BASE.replace("362", "361"))
    assert found == ["set width"]
    assert room_file.read_bytes() == BASE.encode()


def test_who_left_is_told_nothing(room_file: Path) -> None:
    """Each of those who still listen once; revisions count."""
    desk, told = Desk(room_file), []
    leave = desk.on_change(lambda: told.append("one"))
    desk.on_change(lambda: told.append("two"))
    desk.do("a", "a")
    leave()
    leave()
    desk.undo()
    assert told == ["one", "two", "two"]
    assert desk.revision == 2


def test_an_edit_in_an_editor_meets_what_was_done_here(room_file: Path) -> None:
    """Lines apart are both there, in the file too once folded; the other's edit can be taken back like any."""
    desk = Desk(room_file)
    desk.do("set width", BASE.replace("362", "361"))
    room_file.write_text(BASE.replace("shed", "attic"), encoding="utf-8")
    noticed = desk.fold()
    assert noticed is not None
    assert noticed.clashes == ()
    both = BASE.replace("362", "361").replace("shed", "attic")
    assert desk.text == both == room_file.read_text(encoding="utf-8")
    assert desk.done == ("set width", OUTSIDE)
    assert states(desk) == [both, BASE.replace("362", "361"), BASE]


def test_of_two_edits_of_one_line_the_file_s_stays(room_file: Path) -> None:
    """The other one is named, and undo brings it back."""
    desk = Desk(room_file)
    desk.do("set width", BASE.replace("362", "361"))
    room_file.write_text(BASE.replace("362", "370"), encoding="utf-8")
    noticed = desk.notice()
    assert noticed is not None
    assert noticed.clashes == ("width = 361\n",)
    assert desk.text == BASE.replace("362", "370")
    assert desk.notice() is None
    desk.undo()
    assert "width = 361" in desk.text


@pytest.mark.parametrize("folded", [True, False])
def test_an_edit_while_the_studio_was_off_is_noticed_at_its_start(room_file: Path, *, folded: bool) -> None:
    """With gestures that were folded before, and with some that were not."""
    desk = Desk(room_file)
    desk.do("set width", BASE.replace("362", "361"))
    if folded:
        desk.fold()
    room_file.write_text(room_file.read_text(encoding="utf-8").replace("shed", "attic"), encoding="utf-8")
    again = Desk(room_file)
    assert again.text == BASE.replace("362", "361").replace("shed", "attic")
    assert again.done == ("set width", OUTSIDE)
    assert not again.folded or folded


def test_a_strange_journal_is_begun_anew(room_file: Path) -> None:
    """Nothing of it is believed, and the room file stays as it is."""
    journal = room_file.with_name("room.toml.journal")
    for content in (b"", b"\x00\xff\n", b"[]\n", b'{"did": 1}\n', b'{"begin": true, "text": "x", "sha256": "no"}\n'):
        journal.write_bytes(content)
        desk = Desk(room_file)
        assert desk.text == BASE
        assert desk.done == ()
    assert room_file.read_bytes() == BASE.encode()


def test_a_gesture_that_does_not_follow_ends_what_is_believed(room_file: Path) -> None:
    """A record whose text has another hash was tampered with; all before it stands."""
    desk = Desk(room_file)
    desk.do("one", BASE + "a\n")
    desk.do("two", BASE + "a\nb\n")
    journal = room_file.with_name("room.toml.journal")
    journal.write_bytes(journal.read_bytes().replace(b'"added": "b\\n"', b'"added": "c\\n"'))
    assert Desk(room_file).done == ("one",)


def test_only_so_many_gestures_are_kept(room_file: Path) -> None:
    """At the next start the oldest can no longer be taken back; the text stays."""
    desk = Desk(room_file)
    for number in range(int(KEPT) + 3):
        desk.do(f"gesture {number}", f"{BASE}{number}\n")
    text = desk.text
    again = Desk(room_file)
    assert again.text == text
    assert again.done == desk.done[3:]


def test_rights_of_the_room_file_stay(room_file: Path) -> None:
    """Folding writes a new file; who may read it does not change."""
    room_file.chmod(0o640)
    desk = Desk(room_file)
    desk.do("one", BASE + "a\n")
    desk.fold()
    assert room_file.stat().st_mode & 0o777 == 0o640
    assert sorted(one.name for one in room_file.parent.iterdir()) == ["room.toml", "room.toml.journal"]


def test_what_cannot_be_written_is_still_in_the_journal(room_file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A full disk or a folder without rights loses nothing."""
    desk = Desk(room_file)
    desk.do("one", BASE + "a\n")

    def full(_self: Path, _target: Path) -> None:
        raise OSError("no room")

    with monkeypatch.context() as broken:
        broken.setattr(Path, "replace", full)
        with pytest.raises(OSError, match="no room"):
            desk.fold()
    assert not desk.folded
    again = Desk(room_file)
    assert again.text == BASE + "a\n"
    again.fold()
    assert room_file.read_text(encoding="utf-8") == BASE + "a\n"


def test_half_a_line_of_a_write_that_failed_is_written_over(room_file: Path) -> None:
    """What comes after it is believed."""
    desk, journal = Desk(room_file), room_file.with_name("room.toml.journal")
    desk.do("one", BASE + "a\n")
    with journal.open("ab") as file:
        file.write(b'{"did": "tw')
    desk.do("three", BASE + "c\n")
    assert Desk(room_file).done == ("one", "three")
