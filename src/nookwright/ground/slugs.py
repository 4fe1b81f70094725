"""Names for people as they may stand in ids and in names of files."""

from __future__ import annotations

import re


def slug(text: str) -> str:
    """A name as it may stand in a file's name.

    >>> slug("tray 107x143 h48"), slug("filler, left")
    ('tray-107x143-h48', 'filler-left')
    """
    return re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-")
