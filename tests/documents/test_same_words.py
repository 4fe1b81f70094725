"""A finding says the same on the command line, for machines, on the page, in proof.pdf and in kit.json."""

from __future__ import annotations

import io
import json
import re
from html.parser import HTMLParser
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from pypdf import PdfReader

from nookwright.documents.page import page_html
from nookwright.documents.proof_sheet import proof_pdf
from nookwright.exchange.kit import Kit, KitAgainst, KitFinding
from nookwright.ground.findings import Severity
from nookwright.terminal import say_kit, summary

if TYPE_CHECKING:
    from collections.abc import Callable

WORDS = (
    'It is 0.0002 mm past the "left wall" & allowed < 0.1 mm; 5 % of [it] stands in `room.toml`.',
    "Mühle für Gewürze: 12 N·mm at 45 °C – 3 × 4 cells, 100 cm² (±0.1).",
    "*Stars*, _line_, $money$, #5, @home, ~tilde, \\back\\slash, {braces}, <b>tags</b>, [bold]brackets[/bold], 'it'.",
    "https: no address; a very-long-word-that-has-no-room-in-a-narrow-column-of-a-page-or-of-a-sheet-of-paper.",
)


class _Text(HTMLParser):
    """What people read of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.read: list[str] = []

    def handle_data(self, data: str) -> None:
        """Keep it."""
        self.read.append(data)


def of_page(kit: Kit, _: pytest.CaptureFixture[str]) -> str:
    """All text of the page."""
    reader = _Text()
    reader.feed(page_html(kit))
    return "".join(reader.read)


def of_sheet(kit: Kit, _: pytest.CaptureFixture[str]) -> str:
    """All text of proof.pdf, without what runs along the foot of each sheet."""
    pages = [page.extract_text() for page in PdfReader(io.BytesIO(proof_pdf(kit))).pages]
    return "".join(re.sub(r"[^\n]*sheet \d+ of \d+", "", page) for page in pages)


def of_terminal(kit: Kit, capsys: pytest.CaptureFixture[str]) -> str:
    """What the command line shows."""
    say_kit(kit, Path("kit"))
    return capsys.readouterr().out


def for_machines(kit: Kit, _: pytest.CaptureFixture[str]) -> str:
    """Texts of what ``--json`` prints, read back from it."""
    return _texts(json.loads(json.dumps(summary(kit, Path("kit")))))


def of_file(kit: Kit, _: pytest.CaptureFixture[str]) -> str:
    """Texts of kit.json, read back."""
    return _texts(json.loads(kit.model_dump_json()))


def _texts(content: dict[str, list[dict[str, object]]]) -> str:
    """Every text of every finding, one after the other."""
    return "".join(str(value) for one in content["findings"] for value in one.values())


def squeezed(text: str) -> str:
    """A text without white space and hyphens, which line breaks move."""
    return re.sub(r"[\s\u00ad\u2010-]", "", text)


def finding(number: int, severity: Severity) -> KitFinding:
    """A finding whose words are awkward for some of them."""
    words = WORDS[number % len(WORDS)]
    return KitFinding(
        code=f"code-{number}", severity=severity, subject=f"subject {number} <&>", text=f"{number}. {words}",
        remedy=f"Remedy {number}: {words}", against=KitAgainst(computed=1.5, limit=1.0, unit="mm"),
    )  # fmt: skip


@pytest.mark.parametrize("where", [of_page, of_sheet, of_terminal, for_machines, of_file])
def test_every_finding_is_said_word_for_word(
    kit: Kit, capsys: pytest.CaptureFixture[str], where: Callable[[Kit, pytest.CaptureFixture[str]], str]
) -> None:
    """Subject, text and remedy of stops, warnings and notes, whatever signs are in them; of some and of none."""
    for severity in Severity:
        said = tuple(finding(number, severity) for number in range(len(WORDS)))
        shown = squeezed(where(kit.model_copy(update={"findings": said}), capsys))
        for one in said:
            assert [part for part in (one.subject, one.text, one.remedy) if squeezed(part) not in shown] == []
        assert severity.value in shown.lower()
    alone = squeezed(where(kit.model_copy(update={"findings": ()}), capsys))
    assert squeezed(WORDS[0]) not in alone


def test_the_command_line_counts_the_notes_that_it_leaves_to_the_page(
    kit: Kit, capsys: pytest.CaptureFixture[str]
) -> None:
    """Nothing that stops or warns is left out, however much there is."""
    stops = tuple(finding(number, Severity.STOP) for number in range(20))
    notes = tuple(finding(number, Severity.NOTE) for number in range(20, 28))
    shown = squeezed(of_terminal(kit.model_copy(update={"findings": (*stops, *notes)}), capsys))
    assert all(squeezed(one.text) in shown for one in stops)
    assert squeezed("and 3 more notes in the page") in shown
