"""The container of a 3MF file: a ZIP archive after the Open Packaging Conventions (ISO/IEC 29500-2).

Members stand in a fixed order, with the earliest date that ZIP can hold and fixed rights, so that nothing of the
machine or the moment gets into the file.
"""

from __future__ import annotations

import zipfile
import zlib
from contextlib import contextmanager
from typing import TYPE_CHECKING
from xml.etree import ElementTree as ET

from nookwright.ground.errors import FileFormatError
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

MODEL_PART = "3D/3dmodel.model"
THUMBNAIL_PART = "Metadata/thumbnail.png"
LARGEST_PART_BYTES = Fact(
    2**30,
    unit="B",
    kind=Kind.CHOICE,
    source="A bedful is some megabytes; more than this is no file of ours, or a trap.",
)

_TYPES_PART = "[Content_Types].xml"
_RELATIONS_PART = "_rels/.rels"
_MODEL_TYPE = "application/vnd.ms-package.3dmanufacturing-3dmodel+xml"
_START = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"
_OPC = "http://schemas.openxmlformats.org/package/2006"
_DECLARATION = '<?xml version="1.0" encoding="UTF-8"?>\n'
_THUMBNAIL = f"{_OPC}/relationships/metadata/thumbnail"
_EARLIEST = (1980, 1, 1, 0, 0, 0)
_PNG = b"\x89PNG\r\n\x1a\n"
_PLAIN_FILE = 0o644 << 16
_UNIX = 3  # the system that a ZIP says it was made on: the same everywhere, whatever it was made on


def write_package(path: Path, model: bytes, thumbnail: bytes | None = None) -> None:
    """Write a package with one model part, and a picture of it.

    Args:
        path: file to write.
        model: the XML of the model part, UTF-8.
        thumbnail: a PNG; none where left out.
    """
    with zipfile.ZipFile(path, "w") as archive:
        for name, data in (
            (_TYPES_PART, _types(picture=thumbnail is not None)),
            (_RELATIONS_PART, _relations(picture=thumbnail is not None)),
            (MODEL_PART, model),
            *([(THUMBNAIL_PART, thumbnail)] if thumbnail is not None else []),
        ):
            member = zipfile.ZipInfo(name, date_time=_EARLIEST)
            member.compress_type = zipfile.ZIP_DEFLATED
            member.create_system = _UNIX
            member.external_attr = _PLAIN_FILE
            archive.writestr(member, data)


def _types(*, picture: bool) -> bytes:
    """What the endings of parts stand for."""
    png = '<Default Extension="png" ContentType="image/png"/>' if picture else ""
    return (
        f'{_DECLARATION}<Types xmlns="{_OPC}/content-types">'
        '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
        f'<Default Extension="model" ContentType="{_MODEL_TYPE}"/>{png}</Types>\n'
    ).encode()


def _relations(*, picture: bool) -> bytes:
    """Which part is the model, and which its picture."""
    thumbnail = f'<Relationship Target="/{THUMBNAIL_PART}" Id="thumbnail" Type="{_THUMBNAIL}"/>' if picture else ""
    return (
        f'{_DECLARATION}<Relationships xmlns="{_OPC}/relationships">'
        f'<Relationship Target="/{MODEL_PART}" Id="model" Type="{_START}"/>{thumbnail}</Relationships>\n'
    ).encode()


def read_thumbnail(path: Path) -> bytes | None:
    """The picture of a package; nothing where it has none.

    Args:
        path: file to read.

    Raises:
        FileFormatError: the file is no sound package, or names a picture that is not there or no PNG.
    """
    name = path.name
    with _opened(path) as archive:
        targets = _targets(_member(archive, _RELATIONS_PART, name), _THUMBNAIL, name)
        if not targets:
            return None
        picture = _member(archive, targets[0], name)
    if not picture.startswith(_PNG):
        raise FileFormatError(f"{name}: part {targets[0]} is no PNG")
    return picture


@contextmanager
def _opened(path: Path) -> Iterator[zipfile.ZipFile]:
    """A package, with every fault of the archive as one of ours."""
    name = path.name
    try:
        with zipfile.ZipFile(path) as archive:
            yield archive
    except OSError as error:
        raise FileFormatError(f"{name}: cannot be read: {error.strerror or error}") from error
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError) as error:
        raise FileFormatError(f"{name}: is no sound ZIP archive: {error}") from error


def read_model_part(path: Path) -> bytes:
    """The uncompressed model part of a package.

    Args:
        path: file to read.

    Raises:
        FileFormatError: the file cannot be read, is no ZIP archive, lacks a part that 3MF demands, or is damaged.
    """
    name = path.name
    with _opened(path) as archive:
        _member(archive, _TYPES_PART, name)
        start = _start_part(_member(archive, _RELATIONS_PART, name), name)
        return _member(archive, start, name)


def _member(archive: zipfile.ZipFile, part: str, name: str) -> bytes:
    """The bytes of one part, not more than is reasonable."""
    try:
        info = archive.getinfo(part)
    except KeyError:
        raise FileFormatError(f"{name}: has no part {part}, which a 3MF must have") from None
    if info.file_size > LARGEST_PART_BYTES:
        raise FileFormatError(f"{name}: part {part} takes {info.file_size} bytes; allowed {LARGEST_PART_BYTES:.0f}")
    return archive.read(info)


def _start_part(relations: bytes, name: str) -> str:
    """Name of the part that the package says is its model."""
    targets = _targets(relations, _START, name)
    if len(targets) != 1:
        raise FileFormatError(f"{name}: {_RELATIONS_PART} names {len(targets)} models; a 3MF has one")
    return targets[0]


def _targets(relations: bytes, kind: str, name: str) -> list[str]:
    """Names of the parts of a kind that the package names."""
    if b"<!DOCTYPE" in relations:
        raise FileFormatError(f"{name}: {_RELATIONS_PART} has a document type definition, which 3MF forbids")
    try:
        root = ET.fromstring(relations)  # noqa: S314 - no DTD, so no entities
    except ET.ParseError as error:
        raise FileFormatError(f"{name}: {_RELATIONS_PART} is no XML: {error}") from error
    return [item.get("Target", "").lstrip("/") for item in root if item.get("Type") == kind]
