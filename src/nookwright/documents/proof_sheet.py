"""proof.pdf: what was proven of a kit and what was not, on paper, for the workshop or for whoever it is made for.

Promise: findings stand in it word for word as in ``kit.json`` and on the page; the same kit gives the same bytes.
What it does not know: pictures; they are on the plans.
"""

from __future__ import annotations

import json
from importlib.resources import files
from typing import TYPE_CHECKING, Final

from nookwright.documents import words
from nookwright.documents.titles import TITLES
from nookwright.ground.findings import Severity

if TYPE_CHECKING:
    from nookwright.exchange.kit import Kit, KitFinding

UNPROVEN: Final = (
    "That things and spaces are as large as the room file says: sizes rest on your readings.",
    "How your printer prints: layers that hold, first layers that stick, no warp. Pilots, gauges and coupons show it.",
    "How strong this spool is. Strengths are usual values with a reserve; damp, old or badly dried filament has less.",
    "What walls, doors, furniture and their fixings carry, and what is inside them: judge it on site.",
    "What the law asks where you live: local codes come first. For wires, gas and water ask somebody licensed.",
    "That it is safe with food, children or heat. A print is not food-safe and no child lock by itself.",
)


def proof_pdf(kit: Kit) -> bytes:
    """The sheet of a kit.

    Args:
        kit: the whole kit, proven.

    Returns:
        A tagged PDF, PDF/UA-1, A4.
    """
    import typst

    template = files("nookwright.documents").joinpath("templates", "proof.typ").read_bytes()
    return typst.compile(
        template,
        format="pdf",
        sys_inputs={"data": json.dumps(_data(kit), sort_keys=True)},
        ignore_system_fonts=True,
        pdf_standards=["ua-1"],
        timestamp=0,
    )


def _data(kit: Kit) -> dict[str, object]:
    """All that stands on the sheet."""
    totals = kit.totals
    groups = [
        {
            "severity": severity,
            "title": title,
            "findings": [_row(one) for one in kit.findings if one.severity == severity],
        }
        for severity, title in TITLES.items()
    ]
    return {
        "title": f"{kit.room}: what was proven",
        "verdict": _verdict(kit),
        "facts": [
            ["To print", f"{totals.parts} parts, {totals.pieces} pieces on {totals.bedfuls} bedfuls"],
            ["Lots placed", f"{totals.lots_placed} of {totals.lots}"],
            ["First print fits", f"{100 * kit.first_print.kit:.1f} % (everything into and onto everything)"],
        ],
        "groups": [group for group in groups if group["findings"]],
        "looked": [[one.what, str(one.count), str(one.findings)] for one in kit.looked],
        "unproven": list(UNPROVEN),
        "made": f"{kit.tool} {kit.version}, room file {kit.room_sha256[:12]}",
    }


def _verdict(kit: Kit) -> str:
    """The one sentence that stands first."""
    stops, warns = (sum(one.severity is level for one in kit.findings) for level in (Severity.STOP, Severity.WARN))
    if stops:
        return f"Do not print this kit yet: {stops} finding{'s' if stops > 1 else ''} must be settled first."
    if warns:
        return f"Nothing stops the print. Think about {warns} warning{'s' if warns > 1 else ''} first."
    return "Nothing stops the print, and nothing warns of it."


def _row(finding: KitFinding) -> dict[str, str]:
    """A finding as text."""
    return {
        "subject": finding.subject,
        "text": finding.text,
        "remedy": finding.remedy,
        "code": finding.code,
        "against": words.against(finding.against),
    }
