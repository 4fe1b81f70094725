"""Content hashes: the same content gives the same name, in every process and on every machine."""

from __future__ import annotations

import hashlib
import uuid

_NAMESPACE = uuid.uuid5(uuid.NAMESPACE_URL, "nookwright")


def digest(content: str | bytes) -> str:
    """The sha256 of a text (as UTF-8) or of bytes, in hexadecimal.

    >>> digest("")[:8]
    'e3b0c442'
    """
    data = content.encode() if isinstance(content, str) else content
    return hashlib.sha256(data).hexdigest()


def stable_uuid(content: str) -> str:
    """A UUID that follows from the content alone (RFC 9562, version 5).

    >>> stable_uuid("a") == stable_uuid("a"), stable_uuid("a") == stable_uuid("b")
    (True, False)
    """
    return str(uuid.uuid5(_NAMESPACE, content))
