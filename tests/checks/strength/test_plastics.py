"""What plastics carry."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.checks.strength.plastics import TABLE, kind_of, plastic_of
from nookwright.ground.sources import Fact
from nookwright.survey.models import Material
from nookwright.survey.plastic_sheet import PlasticKind, PlasticSheet


def material(**keys: Any) -> Material:  # noqa: ANN401 - any key of a material
    """A filament."""
    return Material.model_validate({"id": "one", "colour": "#808080", "density_g_cm3": 1.2} | keys)


@pytest.mark.parametrize(
    ("keys", "kind"),
    [
        ({"plastic": "asa", "name": "PLA, red"}, PlasticKind.ASA),
        ({"id": "petg-red"}, PlasticKind.PETG),
        ({"name": "ABS, black"}, PlasticKind.ABS),
        ({"id": "red", "name": "Plain red"}, PlasticKind.PLA),
        ({"id": "absolute-red"}, PlasticKind.PLA),
    ],
)
def test_the_kind_is_said_or_read_from_the_name_or_the_weakest(keys: dict[str, Any], kind: PlasticKind) -> None:
    """A word within a word is none."""
    assert kind_of(material(**keys)) is kind


def test_every_figure_of_the_table_has_a_source() -> None:
    """All are facts, and each says more than a word about where it is from."""
    for plastic in TABLE.values():
        figures = [value for value in vars(plastic).values() if not isinstance(value, str)]
        assert len(figures) == 10
        assert all(isinstance(value, Fact) and len(value.source) > 6 for value in figures)


def test_the_table_holds_together() -> None:
    """What may stay somewhere does not soften there; years bear less than a moment; layers stick less than lines."""
    assert set(TABLE) == set(PlasticKind)
    for one in TABLE.values():
        assert one.most_c < one.softens_c
        assert 0 < one.often < one.strain
        assert one.years_across_mpa < one.years_mpa < one.across_mpa < one.strength_mpa
        assert one.creep_modulus_mpa < one.modulus_mpa


def test_a_data_sheet_goes_before_the_table() -> None:
    """Per cents and micrometres as people read them off; all else stays as it is."""
    sheet = PlasticSheet(strength_mpa=50, across_percent=60, expansion_um_m_k=70, strain_percent=2, creep_percent=40)
    own = plastic_of(material(plastic=PlasticKind.PLA, sheet=sheet))
    assert (own.strength_mpa, own.across_mpa, own.strain, own.creep) == pytest.approx((50, 30, 0.02, 0.4))
    assert own.expansion_per_k == pytest.approx(70e-6)
    assert own.modulus_mpa == TABLE[PlasticKind.PLA].modulus_mpa
    assert own.density_g_cm3 == 1.2


@given(softens=st.floats(-20, 240))
def test_a_filament_that_says_where_it_softens_stays_as_far_below_it_as_its_kind(softens: float) -> None:
    """PLA: 8 degrees, until the sheet says the warmest place itself."""
    own = plastic_of(material(sheet=PlasticSheet(softens_c=softens)))
    assert own.most_c == pytest.approx(softens - 8)
    assert plastic_of(material(sheet=PlasticSheet(softens_c=softens, most_c=softens))).most_c == softens
