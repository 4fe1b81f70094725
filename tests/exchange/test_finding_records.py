"""What a kit says of a finding."""

from __future__ import annotations

from nookwright.exchange.finding_records import finding_record
from nookwright.ground.findings import Against, Finding, Severity


def test_a_figure_and_its_limit_stand_in_the_kit_as_numbers() -> None:
    """Rounded as all numbers of the file; a finding without a figure has none."""
    plain = Finding("code", Severity.NOTE, "subject", "text", "remedy")
    against = Finding("code", Severity.NOTE, "subject", "text", "remedy", Against(1 / 3, 2.0, "mm"))
    assert finding_record(plain).against is None
    assert finding_record(against).model_dump()["against"] == {"computed": 0.333333, "limit": 2.0, "unit": "mm"}
    assert {**finding_record(against).model_dump(), "against": None} == finding_record(plain).model_dump()


def test_findings_that_differ_only_in_their_figures_are_the_same() -> None:
    """What people read is the text: sorting and counting go by it."""
    one, other = (Finding("code", Severity.NOTE, "it", "text", "do", Against(n, 2.0, "mm")) for n in (0.1, 0.2))
    assert one == other
    assert len({one, other}) == 1
    assert sorted([one, other]) == [one, other]
