"""The table of cautions in docs/safety.md, made from the words that findings say.

``python -m nookwright.checks.cautions.docs docs`` renews it; a test fails while it is not current.
"""

from __future__ import annotations

import sys
from pathlib import Path

from nookwright.checks.cautions.words import CAUTIONS, DEFERENCE

PAGE = "safety.md"
_BEGIN, _END = "<!-- cautions -->\n", "<!-- end -->"


def table() -> str:
    """All cautions as a table in Markdown: heading, code and severity, why, what to do, source."""
    rows = [
        (words.title, f"`{code}`, {words.severity}", words.why or "As the room file says.", words.remedy, words.source)
        for code, words in CAUTIONS.items()
    ]
    lines = [("mind", "finding", "why", "what to do", "source"), ("---",) * 5, *rows]
    return "\n".join("| " + " | ".join(cell.replace("|", "\\|") for cell in line) + " |" for line in lines)


def renewed(page: str) -> str:
    """A page with its table, and what has the last word, made anew."""
    head, _, rest = page.partition(_BEGIN)
    tail = rest.partition(_END)[2]
    return f"{head}{_BEGIN}\n{DEFERENCE}\n\n{table()}\n\n{_END}{tail}"


if __name__ == "__main__":
    file = Path(sys.argv[1]) / PAGE
    file.write_text(renewed(file.read_text(encoding="utf-8")), encoding="utf-8")
