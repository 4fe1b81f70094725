from __future__ import annotations

import zipfile
from typing import TYPE_CHECKING

import pytest

from nookwright.exchange import package
from nookwright.exchange.package import read_model_part, write_package
from nookwright.ground.errors import FileFormatError

if TYPE_CHECKING:
    from pathlib import Path

MODEL = b"<model>" + b"x" * 1000 + b"</model>"


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A sound package."""
    write_package(tmp_path / "bed.3mf", MODEL)
    return tmp_path / "bed.3mf"


def rewrite(file: Path, **changes: str | None) -> None:
    """Write the package anew with a member changed or left out; ``types``, ``rels`` or ``model``."""
    names = {"types": "[Content_Types].xml", "rels": "_rels/.rels", "model": "3D/3dmodel.model"}
    with zipfile.ZipFile(file) as archive:
        members: dict[str, str | None] = {key: archive.read(name).decode() for key, name in names.items()}
    with zipfile.ZipFile(file, "w") as archive:
        for key, text in (members | changes).items():
            if text is not None:
                archive.writestr(names[key], text)


def test_the_model_comes_back(file: Path) -> None:
    """What was put in is what is read."""
    assert read_model_part(file) == MODEL


@pytest.mark.parametrize("member", ["types", "rels", "model"])
def test_a_part_that_is_missing_is_named(file: Path, member: str) -> None:
    """A 3MF has content types, relationships and a model; without one of them it is none."""
    rewrite(file, **{member: None})
    with pytest.raises(FileFormatError, match=r"bed\.3mf: has no part"):
        read_model_part(file)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("<Relationships/>", "names 0 models"),
        ("<Relationships", "is no XML"),
        ('<!DOCTYPE x [<!ENTITY a "b">]><x/>', "document type definition"),
    ],
)
def test_relationships_without_a_model_are_refused(file: Path, text: str, message: str) -> None:
    """The relationships must say which part is the model."""
    rewrite(file, rels=text)
    with pytest.raises(FileFormatError, match=message):
        read_model_part(file)


def test_damaged_bytes_are_noticed(file: Path) -> None:
    """One byte changed inside the compressed model is no longer the model."""
    data = bytearray(file.read_bytes())
    data[data.index(b"3D/3dmodel.model") + 20] ^= 0xFF
    file.write_bytes(bytes(data))
    with pytest.raises(FileFormatError, match="no sound ZIP"):
        read_model_part(file)


@pytest.mark.parametrize("data", [b"", b"PK", b"solid part", bytes(1000)])
def test_what_is_no_archive_is_refused(tmp_path: Path, data: bytes) -> None:
    """Any other file gets a message, not a traceback."""
    (tmp_path / "bed.3mf").write_bytes(data)
    with pytest.raises(FileFormatError, match=r"bed\.3mf: is no sound ZIP archive"):
        read_model_part(tmp_path / "bed.3mf")


def test_a_missing_file_is_named(tmp_path: Path) -> None:
    """A file that is not there gets the same kind of message."""
    with pytest.raises(FileFormatError, match=r"bed\.3mf: cannot be read"):
        read_model_part(tmp_path / "bed.3mf")


def test_a_part_that_would_fill_the_memory_is_refused(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A member that claims to be larger than any bedful is not unpacked."""
    monkeypatch.setattr(package, "LARGEST_PART_BYTES", 999)
    with pytest.raises(FileFormatError, match="takes 1015 bytes; allowed 999"):
        read_model_part(file)
