"""proof.pdf, read back with a reader of others (pypdf)."""

from __future__ import annotations

import io
import re
from typing import TYPE_CHECKING

from pypdf import PdfReader

from nookwright.documents.proof_sheet import UNPROVEN, proof_pdf
from nookwright.exchange.kit import KitAgainst, KitFinding
from nookwright.ground.findings import Severity

if TYPE_CHECKING:
    from nookwright.exchange.kit import Kit

_A4_PT = (595.28, 841.89)  # ISO 216: 210 x 297 mm


def squeezed(text: str) -> str:
    """A text without white space and hyphens, which line breaks move."""
    return re.sub(r"[\s\u00ad\u2010-]", "", text)


def read(kit: Kit) -> str:
    """All text on the sheets of a kit."""
    return squeezed("".join(page.extract_text() for page in PdfReader(io.BytesIO(proof_pdf(kit))).pages))


def finding(severity: Severity, text: str, against: KitAgainst | None = None) -> KitFinding:
    """A finding for the sheet."""
    return KitFinding(code="a-code", severity=severity, subject="it", text=text, remedy="Do so.", against=against)


def test_findings_stand_on_it_word_for_word(kit: Kit) -> None:
    """Of every finding subject, text, remedy and code; what no file can prove as well."""
    said = read(kit)
    assert kit.findings
    for one in kit.findings:
        assert all(squeezed(part) in said for part in (one.subject, one.text, one.remedy, one.code))
    assert all(squeezed(one) in said for one in UNPROVEN)


def test_a_figure_stands_against_its_limit(kit: Kit) -> None:
    """With its unit; a ratio has none."""
    force = finding(Severity.NOTE, "One.", KitAgainst(computed=12.3456, limit=4.0, unit="N"))
    ratio = finding(Severity.NOTE, "Two.", KitAgainst(computed=0.5, limit=0.97, unit="1"))
    said = read(kit.model_copy(update={"findings": (force, ratio)}))
    assert squeezed("12.35 N against 4 N") in said
    assert squeezed("0.5 against 0.97") in said


def test_the_first_sentence_says_whether_to_print(kit: Kit) -> None:
    """By the worst of the findings, counted."""
    stop, warn = finding(Severity.STOP, "Bad."), finding(Severity.WARN, "Hm.")
    verdicts = {
        (): "Nothing stops the print, and nothing warns of it.",
        (warn,): "Nothing stops the print. Think about 1 warning first.",
        (warn, stop): "Do not print this kit yet: 1 finding must be settled first.",
        (stop, stop): "Do not print this kit yet: 2 findings must be settled first.",
    }
    for findings, verdict in verdicts.items():
        assert squeezed(verdict) in read(kit.model_copy(update={"findings": findings}))


def test_words_of_a_room_stay_words(kit: Kit) -> None:
    """What is a command for the typesetter is printed as it was typed."""
    said = '#panic("no") *bold* _slanted_ $x^2$ \\ <a> @b "c" // = [d]'
    assert squeezed(said) in read(kit.model_copy(update={"findings": (finding(Severity.NOTE, said),), "room": said}))


def test_it_is_a_tagged_a4_sheet(kit: Kit) -> None:
    """Of the size of ISO 216, tagged for screen readers, with its language and title (PDF/UA-1, ISO 14289-1)."""
    pdf = PdfReader(io.BytesIO(proof_pdf(kit)))
    for page in pdf.pages:
        assert all(abs(float(size) - wanted) < 0.5 for size, wanted in zip(page.mediabox[2:], _A4_PT, strict=True))
    root = pdf.root_object
    assert "/Marked': True" in str(root["/MarkInfo"])
    assert str(root["/Lang"]) == "en"
    assert pdf.metadata is not None
    assert pdf.metadata.title == f"{kit.room}: what was proven"
    assert b"pdfuaid:part" in proof_pdf(kit)


def test_the_same_kit_gives_the_same_bytes(kit: Kit) -> None:
    """No clock is in it."""
    assert proof_pdf(kit) == proof_pdf(kit)
