"""3MF (3D Manufacturing Format, core specification, ISO/IEC 25422:2025): one bedful as one file, and reading it back.

We write it ourselves because then the same bedful gives the same bytes on every run: members in a fixed order with a
fixed date, coordinates rounded to 5 decimals, no clock, no random identifiers. The reader knows what the writer writes
and refuses everything else with a message that says what and where; it is meant for checking our own files.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING
from xml.sax.saxutils import escape

import numpy as np

from nookwright.exchange.package import read_model_part, write_package
from nookwright.exchange.threemf_model import CORE, METADATA, BaseMaterial, Body, Item, Paint, ThreeMF
from nookwright.exchange.threemf_reader import parse_model
from nookwright.ground.digest import digest
from nookwright.ground.errors import FileFormatError

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.exchange.kit import Matrix
    from nookwright.exchange.stl import Triangles, Vertices

__all__ = ["BaseMaterial", "Body", "Item", "Paint", "ThreeMF", "model_xml", "parse_3mf", "read_3mf", "write_3mf"]

_DECIMALS = 5  # a hundredth of a micrometre: below any printer, above the noise of 32-bit floats in a bed
_COLOUR = re.compile(r"#[0-9a-fA-F]{6}")
_LINE_BREAK = re.compile(r"[\t\n\r]")
_NOT_XML = re.compile("[^\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_MATERIALS_ID = "1"  # bodies are numbered on from there


def write_3mf(path: Path, bedful: ThreeMF) -> str:
    """Write a 3MF file.

    Args:
        path: file to write.
        bedful: what it holds.

    Returns:
        The sha256 of the uncompressed model part; the picture is no part of it.

    Raises:
        FileFormatError: the content could not be written as a valid file.
    """
    model = model_xml(bedful).encode()
    write_package(path, model, bedful.thumbnail)
    return digest(model)


def read_3mf(path: Path) -> ThreeMF:
    """Read a 3MF file as this module writes it.

    Args:
        path: file to read.

    Raises:
        FileFormatError: with what is wrong and where.
    """
    return parse_3mf(path)[0]


def parse_3mf(path: Path) -> tuple[ThreeMF, str]:
    """Read a 3MF file, and the sha256 of its uncompressed model part.

    Args:
        path: file to read.

    Raises:
        FileFormatError: with what is wrong and where.
    """
    model = read_model_part(path)
    return parse_model(model, path.name), digest(model)


def model_xml(bedful: ThreeMF) -> str:
    """The model part as XML.

    Args:
        bedful: what it holds.

    Raises:
        FileFormatError: an index, name, colour, number or metadata name that the format does not allow.
    """
    _refuse_what_is_not_allowed(bedful)
    metadata = [f'<metadata name="{name}">{_text(text)}</metadata>' for name, text in bedful.metadata]
    materials = [f'<base name={_quoted(m.name)} displaycolor="{m.colour.upper()}"/>' for m in bedful.materials]
    bodies = [_body(number, body) for number, body in enumerate(bedful.bodies)]
    items = [_item(item) for item in bedful.items]
    return "\n".join(
        [
            '<?xml version="1.0" encoding="UTF-8"?>',
            f'<model unit="millimeter" xml:lang="en-US" xmlns="{CORE}">',
            *metadata,
            "<resources>",
            f'<basematerials id="{_MATERIALS_ID}">{"".join(materials)}</basematerials>',
            *bodies,
            "</resources>",
            f"<build>{''.join(items)}</build>",
            "</model>\n",
        ]
    )


def _refuse_what_is_not_allowed(bedful: ThreeMF) -> None:
    """Raise a FileFormatError for what would make an invalid file."""
    names = [name for name, _ in bedful.metadata]
    for name in names:
        if name not in METADATA or names.count(name) > 1:
            raise FileFormatError(f"metadata {name!r}: allowed, each once: {', '.join(METADATA)}")
    for material in bedful.materials:
        if not _COLOUR.fullmatch(material.colour):
            raise FileFormatError(f"material {material.name!r}: colour {material.colour!r}; allowed: #rrggbb")
    for body in bedful.bodies:
        _refuse_body(body, len(bedful.materials))
    for item in bedful.items:
        if not 0 <= item.body < len(bedful.bodies):
            raise FileFormatError(f"item {item.part_number!r}: body {item.body} of {len(bedful.bodies)}")
        if not np.isfinite(item.bed_from_body).all():
            raise FileFormatError(f"item {item.part_number!r}: its matrix is not finite")


def _refuse_body(body: Body, materials: int) -> None:
    """Raise a FileFormatError for a body that no reader would take."""
    subject = f"body {body.part_number!r}"
    if not 0 <= body.material < materials:
        raise FileFormatError(f"{subject}: material {body.material} of {materials}")
    if not np.isfinite(body.vertices).all():
        raise FileFormatError(f"{subject}: a coordinate is not finite")
    low, high = (int(body.triangles.min()), int(body.triangles.max())) if len(body.triangles) else (0, -1)
    if low < 0 or high >= len(body.vertices):
        raise FileFormatError(f"{subject}: triangles name vertices {low} to {high} of {len(body.vertices)}")
    end = 0
    for paint in body.paint:
        if not (end <= paint.first and 0 < paint.count <= len(body.triangles) - paint.first):
            raise FileFormatError(f"{subject}: {paint} does not follow the one before, or ends beyond the triangles")
        if not 0 <= paint.material < materials:
            raise FileFormatError(f"{subject}: {paint} of {materials} materials")
        end = paint.first + paint.count


def _body(number: int, body: Body) -> str:
    """One object of the resources."""
    head = (
        f'<object id="{_object_id(number)}" type="model" name={_quoted(body.name)} '
        f'partnumber={_quoted(body.part_number)} pid="{_MATERIALS_ID}" pindex="{body.material}">'
    )
    return f"{head}<mesh>\n<vertices>{_vertices(body.vertices)}</vertices>\n{_triangles(body)}</mesh></object>"


def _object_id(number: int) -> int:
    """Resource id of a body: those after the materials."""
    return int(_MATERIALS_ID) + 1 + number


def _vertices(vertices: Vertices) -> str:
    """All vertex elements; each distinct number is turned into text once."""
    flat = np.round(np.asarray(vertices, dtype=np.float64).ravel(), _DECIMALS) + 0.0
    distinct, which = np.unique(flat, return_inverse=True)
    texts = np.array([_number(value) for value in distinct.tolist()], dtype=object)[which]
    return ('<vertex x="%s" y="%s" z="%s"/>' * len(vertices)) % tuple(texts.tolist())


def _triangles(body: Body) -> str:
    """All triangle elements, run by run of one material."""
    rows, at = [], 0
    for paint in body.paint:
        rows.append(_run(body.triangles[at : paint.first]))
        at = paint.first + paint.count
        rows.append(_run(body.triangles[paint.first : at], f' pid="{_MATERIALS_ID}" p1="{paint.material}"'))
    rows.append(_run(body.triangles[at:]))
    return f"<triangles>{''.join(rows)}</triangles>"


def _run(triangles: Triangles, material: str = "") -> str:
    """Triangle elements of one material; nothing is said of it where it is the body's."""
    element = f'<triangle v1="%d" v2="%d" v3="%d"{material}/>'
    return (element * len(triangles)) % tuple(triangles.ravel().tolist())


def _item(item: Item) -> str:
    """One item of the build."""
    number = f" partnumber={_quoted(item.part_number)}" if item.part_number else ""
    return f'<item objectid="{_object_id(item.body)}" transform="{_transform(item.bed_from_body)}"{number}/>'


def _transform(matrix: Matrix) -> str:
    """Twelve numbers for row vectors: the format's order is the transpose of ours."""
    return " ".join(_number(round(matrix[row][column], _DECIMALS)) for column in range(4) for row in range(3))


def _number(value: float) -> str:
    """A number without exponent, without needless zeros and without -0."""
    text = f"{value:.{_DECIMALS}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _text(text: str) -> str:
    """Text for an element, in one line; what XML cannot hold becomes a question mark."""
    # Line ends and tabs are not written as character references: the reference library (2.5.0) refuses those.
    return escape(_NOT_XML.sub("?", _LINE_BREAK.sub(" ", text)))


def _quoted(text: str) -> str:
    """The same for an attribute, in quotation marks."""
    return f'"{_text(text).replace(chr(34), "&quot;")}"'
