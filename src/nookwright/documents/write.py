"""All documents of a kit, written into its folder."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.documents.bill import bill_csv
from nookwright.documents.module_plot import module_plot
from nookwright.documents.page import page_html
from nookwright.documents.plan import plan_svg
from nookwright.documents.proof_sheet import proof_pdf
from nookwright.documents.saw_file import saw_csv
from nookwright.documents.sizes import sizes_csv

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.exchange.kit import Kit
    from nookwright.module.choice import ModuleChoice


def write_documents(folder: Path, kit: Kit, choice: ModuleChoice) -> None:
    """Write the plans, the picture of the module's choice, the bill, the page and the sheet of what was proven.

    Args:
        folder: of the kit.
        kit: what they show.
        choice: of the module.
    """
    plans = folder / "plans"
    plans.mkdir()
    for space in kit.spaces:
        _write(plans / f"{space.id}.svg", plan_svg(kit, space.id))
    if kit.module.plot:
        _write(folder / kit.module.plot, module_plot(choice))
    _write(folder / "bill.csv", bill_csv(kit))
    _write(folder / "sizes.csv", sizes_csv(kit))
    if sawn := saw_csv(kit):
        _write(folder / "saw_list.csv", sawn)
    _write(folder / "index.html", page_html(kit))
    (folder / "proof.pdf").write_bytes(proof_pdf(kit))


def _write(path: Path, text: str) -> None:
    """Write a text as UTF-8 with plain line ends, the same on every system."""
    path.write_text(text, encoding="utf-8", newline="\n")
