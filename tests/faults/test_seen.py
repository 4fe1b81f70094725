"""What the tests of faults keep in mind is kept from all other tests."""

from __future__ import annotations

from nookwright.checks import bed_files, bed_room, files, springs

from .seen import Seen

READERS = ((bed_files, "parse_3mf"), (files, "parse_stl"), (files, "shape_of"), (springs, "free_travel"))


def test_what_was_seen_is_believed_for_a_while_only() -> None:
    """Every reader is the one that it was before, once a kit is proven."""
    places = (*READERS, (bed_room, "covered"))
    before = [getattr(module, name) for module, name in places]
    with Seen().believed():
        assert all(getattr(module, name) != own for (module, name), own in zip(places, before, strict=True))
    assert [getattr(module, name) for module, name in places] == before


def test_the_checks_read_for_themselves_outside_of_this_folder() -> None:
    """A reader that is believed is one of ``Seen``; the readers of the checks are functions of the package."""
    with Seen().believed():
        assert {getattr(module, name).__module__.rpartition(".")[2] for module, name in READERS} == {"seen"}
