"""Reading the model part of a 3MF: strict, quick, and without trust in what stands there."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING
from xml.parsers import expat

import numpy as np

from nookwright.exchange.threemf_model import CORE, METADATA, BaseMaterial, Body, Item, ThreeMF
from nookwright.ground.errors import FileFormatError

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.exchange.kit import Matrix

Attributes = dict[str, str]
_NUMBER_CHARACTERS = frozenset("0123456789+-.eE")
_DIGITS = frozenset("0123456789")
_MOST_DIGITS = len("2147483648")  # the format allows indices below 2^31
_COLOUR = re.compile(r"#[0-9a-fA-F]{6}([0-9a-fA-F]{2})?")
_TWELVE = 12
_PARENTS = {
    "model": "",
    "metadata": "model",
    "resources": "model",
    "build": "model",
    "basematerials": "resources",
    "base": "basematerials",
    "object": "resources",
    "mesh": "object",
    "vertices": "mesh",
    "triangles": "mesh",
    "vertex": "vertices",
    "triangle": "triangles",
    "item": "build",
}


def parse_model(xml: bytes, name: str) -> ThreeMF:
    """Read a model part.

    Args:
        xml: its bytes.
        name: name of the file, for the messages.

    Raises:
        FileFormatError: with what is wrong and in which line.
    """
    return _Reader(name).read(xml)


@dataclass
class _Mesh:
    """An object while it is being read: numbers are still text."""

    attributes: Attributes
    coordinates: list[str] = field(default_factory=list)
    corners: list[str] = field(default_factory=list)


class _Reader:
    """Collects what the XML parser finds; one for one file."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.path: list[str] = []
        self.materials: dict[str, list[BaseMaterial]] = {}
        self.first_material: dict[str, int] = {}
        self.meshes: list[_Mesh] = []
        self.items: list[Attributes] = []
        self.metadata: dict[str, str] = {}
        self.text = ""
        self.parser = expat.ParserCreate(namespace_separator=" ")
        self.parser.buffer_text = True
        self.parser.StartDoctypeDeclHandler = self._doctype
        self.parser.StartElementHandler = self._start
        self.parser.EndElementHandler = self._end
        self.parser.CharacterDataHandler = self._characters

    def read(self, xml: bytes) -> ThreeMF:
        """All of it."""
        try:
            self.parser.Parse(xml, True)  # noqa: FBT003 - expat takes it by position
        except expat.ExpatError as error:
            raise FileFormatError(f"{self.name}: model part, line {error.lineno}: {error}") from error
        bodies = tuple(self._body(mesh) for mesh in self.meshes)
        ids = {mesh.attributes["id"]: number for number, mesh in enumerate(self.meshes)}
        if len(ids) < len(self.meshes):
            raise self._error("two objects have the same id")
        items = tuple(self._item(item, ids) for item in self.items)
        materials = tuple(material for group in self.materials.values() for material in group)
        return ThreeMF(bodies, items, materials, tuple(self.metadata.items()))

    def _error(self, what: str) -> FileFormatError:
        return FileFormatError(f"{self.name}: model part, line {self.parser.CurrentLineNumber}: {what}")

    def _doctype(self, *_: object) -> None:
        raise self._error("a document type definition, which 3MF forbids")

    def _start(self, tag: str, attributes: Attributes) -> None:
        space, _, element = tag.rpartition(" ")
        parent = self.path[-1] if self.path else ""
        if space != CORE or _PARENTS.get(element) != parent:
            raise self._error(f"<{element}> in <{parent or 'nothing'}>, which this reader does not know")
        self.path.append(element)
        if element == "vertex":
            self._numbers(self.meshes[-1].coordinates, attributes, ("x", "y", "z"))
        elif element == "triangle":
            self._numbers(self.meshes[-1].corners, attributes, ("v1", "v2", "v3"))
        else:
            self._start_rare(element, attributes)

    def _numbers(self, into: list[str], attributes: Attributes, names: tuple[str, str, str]) -> None:
        try:
            into += [attributes[name] for name in names]
        except KeyError as error:
            raise self._error(f"<{self.path[-1]}> without {error.args[0]}") from None

    def _start_rare(self, element: str, attributes: Attributes) -> None:
        handlers: dict[str, Callable[[Attributes], None]] = {
            "model": self._model,
            "basematerials": self._group,
            "base": self._base,
            "object": self._object,
            "item": self.items.append,
            "metadata": self._metadata,
        }
        if element in handlers:
            handlers[element](attributes)

    def _model(self, attributes: Attributes) -> None:
        if attributes.get("unit", "millimeter") != "millimeter":
            raise self._error(f"unit {attributes['unit']!r}; this tool writes millimeter")
        if attributes.get("requiredextensions"):
            raise self._error(f"needs the extensions {attributes['requiredextensions']!r}")

    def _group(self, attributes: Attributes) -> None:
        group = attributes.get("id", "")
        if group in self.materials:
            raise self._error(f"basematerials id {group!r} twice")
        self.first_material[group] = sum(map(len, self.materials.values()))
        self.materials[group] = []

    def _base(self, attributes: Attributes) -> None:
        colour = attributes.get("displaycolor", "")
        if not _COLOUR.fullmatch(colour):
            raise self._error(f"displaycolor {colour!r} is not of the form #rrggbb")
        self.materials[next(reversed(self.materials))].append(BaseMaterial(attributes.get("name", ""), colour[:7]))

    def _object(self, attributes: Attributes) -> None:
        if attributes.get("type", "model") != "model" or "id" not in attributes:
            raise self._error("an object without an id, or of another type than model")
        self.meshes.append(_Mesh(attributes))

    def _metadata(self, attributes: Attributes) -> None:
        name = attributes.get("name", "")
        if name not in METADATA or name in self.metadata:
            raise self._error(f"metadata {name!r}, unknown or twice")
        self.text = ""
        self.metadata[name] = ""

    def _characters(self, text: str) -> None:
        if self.path and self.path[-1] == "metadata":
            self.text += text
        elif text.strip():
            raise self._error(f"text {text.strip()[:20]!r} outside of metadata")

    def _end(self, _: str) -> None:
        if self.path.pop() == "metadata":
            self.metadata[next(reversed(self.metadata))] = self.text

    def _body(self, mesh: _Mesh) -> Body:
        subject = f"object {mesh.attributes['id']}"
        if not (mesh.coordinates and mesh.corners):
            raise self._error(f"{subject} has no vertices or no triangles")
        vertices = np.array(self._floats(mesh.coordinates, subject)).reshape(-1, 3)
        triangles = np.array(self._integers(mesh.corners, subject), dtype=np.int64).reshape(-1, 3)
        if triangles.max() >= len(vertices):
            raise self._error(f"{subject}: a triangle names vertex {triangles.max()} of {len(vertices)}")
        if (triangles == np.roll(triangles, 1, axis=1)).any():
            raise self._error(f"{subject}: a triangle names one vertex twice")
        number = mesh.attributes.get("partnumber", "")
        return Body(mesh.attributes.get("name", ""), number, vertices, triangles, self._material(mesh, subject))

    def _material(self, mesh: _Mesh, subject: str) -> int:
        group, index = (
            mesh.attributes.get("pid", ""),
            self._integers([mesh.attributes.get("pindex", "0")], subject)[0],
        )
        if index >= len(self.materials.get(group, ())):
            raise self._error(f"{subject}: material {index} of group {group!r}, which is not there")
        return self.first_material[group] + index

    def _item(self, item: Attributes, ids: dict[str, int]) -> Item:
        wanted = item.get("objectid", "")
        if wanted not in ids:
            raise self._error(f"an item names object {wanted!r}, which is not there")
        numbers = self._floats(item.get("transform", "1 0 0 0 1 0 0 0 1 0 0 0").split(), f"item of object {wanted}")
        if len(numbers) != _TWELVE:
            raise self._error(f"item of object {wanted}: a transform of {len(numbers)} numbers; allowed {_TWELVE}")
        return Item(ids[wanted], _matrix(numbers), item.get("partnumber", ""))

    def _floats(self, texts: list[str], subject: str) -> list[float]:
        if not _NUMBER_CHARACTERS.issuperset("".join(texts)):
            raise self._error(f"{subject}: a number with a character that no number has")
        try:
            numbers = [float(text) for text in texts]
        except ValueError as error:
            raise self._error(f"{subject}: a number that cannot be read: {error}") from error
        if not np.isfinite(numbers).all():
            raise self._error(f"{subject}: a number that is not finite")
        return numbers

    def _integers(self, texts: list[str], subject: str) -> list[int]:
        lengths = {len(text) for text in texts}
        if 0 in lengths or max(lengths) > _MOST_DIGITS or not _DIGITS.issuperset("".join(texts)):
            raise self._error(f"{subject}: an index that is no whole number")
        return [int(text) for text in texts]


def _matrix(numbers: list[float]) -> Matrix:
    """Our column-vector matrix of the format's twelve numbers."""
    a, b, c, d, e, f, g, h, i, x, y, z = numbers
    return (a, d, g, x), (b, e, h, y), (c, f, i, z), (0.0, 0.0, 0.0, 1.0)
