"""Reading the model part of a 3MF: strict, quick, and without trust in what stands there.

Nearly all of a model is numbers, so these are read in bulk: the insides of all meshes are taken out, held against the
one form in which they are written, and turned into arrays; what is left is small and goes through an XML parser.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING
from xml.parsers import expat

import numpy as np

from nookwright.exchange.threemf_model import CORE, METADATA, BaseMaterial, Body, Item, Paint, ThreeMF
from nookwright.ground.errors import FileFormatError

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from nookwright.exchange.kit import Matrix
    from nookwright.exchange.stl import Triangles, Vertices

Attributes = dict[str, str]
_NUMBER = r"-?[0-9]+(?:\.[0-9]+)?"
_TRANSFORM = re.compile(rf"{_NUMBER}(?: {_NUMBER}){{11}}")
_COLOUR = re.compile(r"#[0-9a-fA-F]{6}([0-9a-fA-F]{2})?")
_INDEX = re.compile(r"[0-9]{1,9}")
_OPENS = re.compile(rb"<(vertices|triangles)>")
_FORMS = {
    "vertices": (re.compile(rf'(?:<vertex x="{_NUMBER}" y="{_NUMBER}" z="{_NUMBER}"/>)*+'.encode()), "numbers"),
    "triangles": (
        re.compile(
            rb'(?:<triangle v1="[0-9]{1,9}" v2="[0-9]{1,9}" v3="[0-9]{1,9}"(?: pid="[0-9]{1,9}" p1="[0-9]{1,9}")?+/>)*+'
        ),
        "indices",
    ),
}
_PAINT = re.compile(rb' pid="([0-9]+)" p1="([0-9]+)"')
_ALL_BUT_NUMBERS = bytes(byte if byte in b"-.0123456789" else ord(" ") for byte in range(256))
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


def _set_apart(xml: bytes) -> tuple[bytes, list[tuple[bytes, bytes]]]:
    """The XML with the insides of all vertices and triangles taken out, and these, each with its element's name."""
    rest, insides, at = [], [], 0
    while opens := _OPENS.search(xml, at):
        element, start = opens[1], opens.end()
        end = xml.find(b"</%b>" % element, start)
        if end < 0:
            break
        rest += [xml[at : opens.start()], b"<%b/>" % element]
        insides.append((element, xml[start:end]))
        at = end + len(element) + len(b"</>")
    return b"".join([*rest, xml[at:]]), insides


@dataclass
class _Mesh:
    """An object while it is being read; its numbers are still text."""

    attributes: Attributes
    vertices: bytes = b""
    triangles: bytes = b""


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
        self.insides: Iterator[tuple[bytes, bytes]] = iter(())
        self.parser = expat.ParserCreate(namespace_separator=" ")
        self.parser.buffer_text = True
        self.parser.StartElementHandler = self._start
        self.parser.EndElementHandler = self._end
        self.parser.CharacterDataHandler = self._characters

    def read(self, xml: bytes) -> ThreeMF:
        """All of it."""
        if b"<!" in xml:
            raise self._error("a document type definition or a comment, which this reader does not take")
        rest, insides = _set_apart(xml)
        self.insides = iter(insides)
        try:
            self.parser.Parse(rest, True)  # noqa: FBT003 - expat takes it by position
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

    def _start(self, tag: str, attributes: Attributes) -> None:
        space, _, element = tag.rpartition(" ")
        parent = self.path[-1] if self.path else ""
        if space != CORE or _PARENTS.get(element) != parent:
            raise self._error(f"<{element}> in <{parent or 'nothing'}>, which this reader does not know")
        self.path.append(element)
        handlers: dict[str, Callable[[Attributes], None]] = {
            "model": self._model,
            "basematerials": self._group,
            "base": self._base,
            "object": self._object,
            "item": self.items.append,
            "vertices": self._inside,
            "triangles": self._inside,
            "metadata": self._metadata,
        }
        if element in handlers:
            handlers[element](attributes)

    def _inside(self, attributes: Attributes) -> None:
        """Take the next inside that was set apart; it belongs to this element, as nothing else looks like one."""
        element, inside = next(self.insides, (b"", b""))
        if attributes or element.decode() != self.path[-1] or getattr(self.meshes[-1], self.path[-1]):
            raise self._error(f"<{self.path[-1]}> with attributes, empty, or a second one")
        setattr(self.meshes[-1], self.path[-1], inside)

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
        vertices, triangles = self._vertices(mesh, subject), self._triangles(mesh, subject)
        if triangles.max() >= len(vertices):
            raise self._error(f"{subject}: a triangle names vertex {triangles.max()} of {len(vertices)}")
        if (triangles == np.roll(triangles, 1, axis=1)).any():
            raise self._error(f"{subject}: a triangle names one vertex twice")
        number = mesh.attributes.get("partnumber", "")
        material = self._material(mesh.attributes.get("pid", ""), mesh.attributes.get("pindex", "0"), subject)
        paint = self._paint(mesh, subject)
        return Body(mesh.attributes.get("name", ""), number, vertices, triangles, material, paint)

    def _vertices(self, mesh: _Mesh, subject: str) -> Vertices:
        self._hold_against_form(mesh.vertices, "vertices", subject)
        vertices = np.fromstring(mesh.vertices.translate(_ALL_BUT_NUMBERS), sep=" ").reshape(-1, 3)
        if not np.isfinite(vertices).all():
            raise self._error(f"{subject}: a coordinate that is not finite")
        return vertices

    def _triangles(self, mesh: _Mesh, subject: str) -> Triangles:
        self._hold_against_form(mesh.triangles, "triangles", subject)
        plain = _PAINT.sub(b"", mesh.triangles)
        numbers = np.fromstring(plain.translate(_ALL_BUT_NUMBERS), dtype=np.int64, sep=" ")
        return numbers.reshape(-1, 6)[:, 1::2]  # the names v1, v2, v3 leave a number each

    def _hold_against_form(self, inside: bytes, element: str, subject: str) -> None:
        """Refuse an inside that is empty or has anything but the elements that belong there."""
        form, what = _FORMS[element]
        matched = form.match(inside)
        end = matched.end() if matched else 0
        if not inside or end < len(inside):
            found = inside[end : end + 60].decode(errors="replace")
            raise self._error(f"{subject}: {element} with {found or 'nothing'!r}, expected {what}")

    def _paint(self, mesh: _Mesh, subject: str) -> tuple[Paint, ...]:
        """Runs of triangles that have a material of their own."""
        if b" pid=" not in mesh.triangles:
            return ()
        found = [_PAINT.search(element) for element in mesh.triangles.split(b"/>")[:-1]]
        named = [(match[1].decode(), match[2].decode()) if match else None for match in found]
        runs, first = [], 0
        for own, group in groupby(named):
            count = len(list(group))
            if own:
                runs.append(Paint(first, count, self._material(*own, subject)))
            first += count
        return tuple(runs)

    def _material(self, group: str, text: str, subject: str) -> int:
        if not _INDEX.fullmatch(text) or int(text) >= len(self.materials.get(group, ())):
            raise self._error(f"{subject}: material {text} of group {group!r}, which is not there")
        return self.first_material[group] + int(text)

    def _item(self, item: Attributes, ids: dict[str, int]) -> Item:
        wanted = item.get("objectid", "")
        if wanted not in ids:
            raise self._error(f"an item names object {wanted!r}, which is not there")
        text = item.get("transform", "1 0 0 0 1 0 0 0 1 0 0 0")
        numbers = [float(number) for number in text.split()] if _TRANSFORM.fullmatch(text) else []
        if not (numbers and np.isfinite(numbers).all()):
            raise self._error(f"item of object {wanted}: {text!r} is no transform of twelve numbers")
        return Item(ids[wanted], _matrix(numbers), item.get("partnumber", ""))


def _matrix(numbers: list[float]) -> Matrix:
    """Our column-vector matrix of the format's twelve numbers."""
    a, b, c, d, e, f, g, h, i, x, y, z = numbers
    return (a, d, g, x), (b, e, h, y), (c, f, i, z), (0.0, 0.0, 0.0, 1.0)
