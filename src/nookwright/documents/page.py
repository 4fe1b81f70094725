"""index.html: the whole kit on one page that opens from disk, with nothing fetched from anywhere.

Promise: what it says is what ``kit.json`` holds; links lead only to the kit's own files; the same kit gives
the same bytes. What it does not know: whether the files are there (the checks say so).
"""

from __future__ import annotations

from pathlib import PurePosixPath
from typing import TYPE_CHECKING
from urllib.parse import quote

from nookwright.documents import page_view, style, words

if TYPE_CHECKING:
    from nookwright.exchange.kit import Kit


def page_html(kit: Kit) -> str:
    """The page of a kit.

    Args:
        kit: the whole kit.

    Returns:
        The text of index.html, UTF-8 when written.
    """
    from jinja2 import Environment, PackageLoader, StrictUndefined

    environment = Environment(
        loader=PackageLoader("nookwright.documents", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters |= {
        "grams": words.grams,
        "duration": words.duration,
        "probability": words.probability,
        "mm": words.mm,
        "size": words.size,
        "link": quote,
        "file_name": _file_name,
        "safe_colour": style.safe_colour,
    }
    return environment.get_template("index.html.j2").render(view=page_view.view_of(kit), kit=kit)


def _file_name(path: str) -> str:
    return PurePosixPath(path).name
