"""STEP files (ISO 10303-21, schema AP242): exact solids for people who draw on with a CAD program.

Promise: one part a file, in millimetres, under the name that is given; the same part gives the same bytes. The header
carries a fixed time, because a clock would make two equal kits differ. What the files do not hold: colours, names of
faces, and curves in the parameter planes of surfaces, which every reader can find again from the edges in space.

It needs the extra ``step``.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from nookwright.ground.digest import digest
from nookwright.ground.errors import FileFormatError, SolidError
from nookwright.shapes.solids import Solid
from nookwright.solids.agreement import disagreement
from nookwright.solids.exact import ExactSolid, exact
from nookwright.solids.mesh import build
from nookwright.solids.occt import compound, occt, parts_of
from nookwright.solids.outlines import said

if TYPE_CHECKING:
    from pathlib import Path
    from typing import Any

_TIME = "2000-01-01T00:00:00"
_SCHEMA = "AP242_MANAGED_MODEL_BASED_3D_ENGINEERING_MIM_LF"
_SETTINGS = {"write.step.schema": "AP242DIS", "write.step.unit": "MM", "write.surfacecurve.mode": 0}


def write_step(path: Path, solid: Solid | ExactSolid, name: str) -> str:
    """Write one part as a STEP file.

    Args:
        path: file to write.
        solid: a recipe, or its exact solid.
        name: of the part, as it is to stand in the file.

    Returns:
        The sha256 of the file.

    Raises:
        FileFormatError: the library could not write it, or wrote another format than it should.
        SolidError: the recipe is no solid, or the exact kernel made another one of it than the mesh kernel.
        MissingExtraError: the extra ``step`` is not installed.
    """
    shape = (_agreed(solid) if isinstance(solid, Solid) else solid).shape
    writer = occt("STEPCAFControl").STEPCAFControl_Writer()
    # The library forgets settings that are made before its first writer.
    _set()
    document = _document(shape, name)
    if not writer.Transfer(document, occt("STEPControl").STEPControl_StepModelType.STEPControl_AsIs):
        raise FileFormatError(f"{name}: the STEP writer could not take this solid")
    _head(writer.ChangeWriter().Model(), name)
    if writer.Write(str(path)) != occt("IFSelect").IFSelect_ReturnStatus.IFSelect_RetDone:
        raise FileFormatError(f"{path}: the STEP writer could not write this file")
    data = path.read_bytes()
    _check(path, data)
    return digest(data)


def _agreed(solid: Solid) -> ExactSolid:
    """The exact solid, once the mesh kernel has said the same: the library finds valid what is wrong now and then."""
    found = exact(solid)
    wrong = disagreement(build(solid), found)
    if wrong:
        raise SolidError(f"{said(solid)}: the two kernels disagree; {wrong}")
    return found


def read_step(path: Path) -> ExactSolid:
    """The solids of a STEP file.

    Raises:
        FileFormatError: it cannot be read, or holds no solid.
        MissingExtraError: the extra ``step`` is not installed.
    """
    reader = occt("STEPControl").STEPControl_Reader()
    if reader.ReadFile(str(path)) != occt("IFSelect").IFSelect_ReturnStatus.IFSelect_RetDone:
        raise FileFormatError(f"{path}: this is no STEP file")
    reader.TransferRoots()
    solids = parts_of(reader.OneShape(), "SOLID")
    if not solids:
        raise FileFormatError(f"{path}: a STEP file of ours holds solids; this one holds none")
    return ExactSolid(solids[0] if len(solids) == 1 else compound(solids))


def part21(text: str) -> str:
    r"""A text in the characters that ISO 10303-21 allows: others by their numbers, a backslash doubled.

    >>> print(part21("22 × 40"))
    22 \X2\00D7\X0\ 40
    """
    return "".join(_letter(letter) for letter in text)


def _letter(letter: str) -> str:
    if letter == "\\":
        return "\\\\"
    if " " <= letter <= "~":
        return letter
    wide = ord(letter) > 0xFFFF  # noqa: PLR2004 - the last number of four digits
    return f"\\X4\\{ord(letter):08X}\\X0\\" if wide else f"\\X2\\{ord(letter):04X}\\X0\\"


def _set() -> None:
    static = occt("Interface").Interface_Static
    for key, value in _SETTINGS.items():
        done = static.SetIVal_s(key, value) if isinstance(value, int) else static.SetCVal_s(key, value)
        if not done:
            raise FileFormatError(f"the STEP writer knows no setting {key} = {value}")


def _document(shape: Any, name: str) -> Any:  # noqa: ANN401 - the library publishes no types
    """A document with one part, whose name the writer takes as it is; the plain writer would number it."""
    text = occt("TCollection").TCollection_ExtendedString
    document = occt("TDocStd").TDocStd_Document(text("XmlXCAF"))
    tool = occt("XCAFDoc").XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    label = tool.AddShape(shape, False)  # noqa: FBT003 - a part, no assembly
    occt("TDataStd").TDataStd_Name.Set_s(label, text(part21(name)))
    return document


def _head(model: Any, name: str) -> None:  # noqa: ANN401
    text = occt("TCollection").TCollection_HAsciiString
    header = occt("APIHeaderSection").APIHeaderSection_MakeHeader(model)
    header.SetName(text(part21(name)))
    header.SetTimeStamp(text(_TIME))
    header.SetOriginatingSystem(text("nookwright"))
    header.SetAuthorValue(1, text(""))
    header.SetOrganizationValue(1, text(""))


def _check(path: Path, data: bytes) -> None:
    """The header is what we asked for."""
    head = data[: data.find(b"ENDSEC;")].decode("ascii", "replace")
    schema = re.search(r"FILE_SCHEMA\s*\(\(\s*'([A-Z0-9_]+)", head)
    if schema is None or schema[1] != _SCHEMA:
        raise FileFormatError(f"{path}: FILE_SCHEMA is {schema and schema[1]}, not {_SCHEMA}")
    if _TIME not in head:
        raise FileFormatError(f"{path}: FILE_NAME does not hold the time {_TIME}")
