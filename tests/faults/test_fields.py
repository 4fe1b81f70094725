"""No field of kit.json that anybody acts on may be wrong in silence."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .fields import FREE, IN_SOLIDS, covered, fields_of, loud, paths

if TYPE_CHECKING:
    from .harness import Sample


def test_the_sound_kit_is_silent(sound: Sample) -> None:
    """Nothing is found where nothing was changed."""
    assert loud(sound.kit, sound, sound.shapes | sound.piece_shapes | sound.trial_shapes) == ""


def test_every_field_that_changes_is_found_or_stands_in_a_table(sound: Sample) -> None:
    """Fields that may change stand there with the reason; those of solids with the code that the whole proof finds."""
    shapes = sound.shapes | sound.piece_shapes | sound.trial_shapes
    silent = {
        f"{name}: {what}"
        for name, what, kit in fields_of(sound.kit)
        if kit is not None and not covered(name, FREE) and not covered(name, IN_SOLIDS) and not loud(kit, sound, shapes)
    }
    assert sorted(silent) == []


def test_no_reason_is_given_for_a_field_that_is_not_there(sound: Sample) -> None:
    """Every path of both tables is one of the kit's."""
    names = {name for name, _, _ in paths(sound.kit.model_dump(mode="json"))}
    stale = [one for one in (*FREE, *IN_SOLIDS) if not any(covered(name, {one: ""}) for name in names)]
    assert stale == []
