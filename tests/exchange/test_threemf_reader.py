"""A zoo of files that are wrong, each with what the reader says about it."""

from __future__ import annotations

import numpy as np
import pytest

from nookwright.exchange.threemf_reader import parse_model
from nookwright.ground.errors import FileFormatError

CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
CORNERS = "".join(f'<vertex x="{x}" y="{y}" z="{z}"/>' for x, y, z in ((0, 0, 0), (9, 0, 0), (0, 9, 0), (0, 0, 9.0)))
FACES = "".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in ((0, 2, 1), (0, 1, 3), (1, 2, 3), (0, 3, 2)))
GOOD = f"""<?xml version="1.0" encoding="UTF-8"?>
<model unit="millimeter" xml:lang="en-US" xmlns="{CORE}">
<metadata name="Title">a &amp; b</metadata>
<resources>
<basematerials id="5"><base name="grey" displaycolor="#808080FF"/></basematerials>
<object id="7" name="lump" partnumber="no 1" type="model" pid="5" pindex="0">
<mesh><vertices>{CORNERS}</vertices><triangles>{FACES}</triangles></mesh></object>
</resources>
<build><item objectid="7" transform="1 0 0 0 1 0 0 0 1 4 5 6"/></build>
</model>
"""


def test_the_file_that_the_zoo_is_made_of_is_good() -> None:
    """Without damage it is read, so each message below is about the damage alone."""
    content = parse_model(GOOD.encode(), "bed.3mf")
    assert content.metadata == (("Title", "a & b"),)
    assert content.materials[0].colour == "#808080"
    assert content.items[0].bed_from_body == ((1, 0, 0, 4), (0, 1, 0, 5), (0, 0, 1, 6), (0, 0, 0, 1))
    np.testing.assert_array_equal(content.bodies[0].vertices[3], [0, 0, 9])
    np.testing.assert_array_equal(content.bodies[0].triangles[0], [0, 2, 1])


ZOO = [
    ('v3="1"/>', 'v3="1" pid="5" p1="1"/>', "material 1 of group '5'"),
    ('v3="1"/>', 'v3="1" pid="6" p1="0"/>', "material 0 of group '6'"),
    ('v3="1"/>', 'v3="1" p1="0"/>', "triangles with"),
    ('v3="1"/>', 'v3="1" pid="5" p1="0" p2="0"/>', "triangles with"),
    ("<?xml", "<!DOCTYPE x [<!ENTITY a 'b'>]><?xml", "document type definition"),
    ('encoding="UTF-8"?>', 'encoding="UTF-8"?><!DOCTYPE x [<!ENTITY a "b">]>', "document type definition"),
    ("<resources>", "<!-- <vertices></vertices> --><resources>", "a comment"),
    ("a &amp; b", "<![CDATA[a & b]]>", "a comment"),
    ("a &amp; b", "a & b", "line 3"),
    ("</model>", "", "line"),
    ("</model>", "</model><model/>", "line"),
    (CORE, "urn:other", "<model> in <nothing>"),
    ('unit="millimeter"', 'unit="inch"', "unit 'inch'"),
    ('unit="millimeter"', 'unit="millimeter" requiredextensions="p"', "needs the extensions 'p'"),
    ("<metadata name", "<metadato name", "line 3"),
    ("<resources>", '<metadato name="x"/><resources>', "<metadato> in <model>"),
    ('name="Title"', 'name="Weather"', "metadata 'Weather'"),
    ("<resources>", "<resources>words", "text 'words' outside"),
    ("<resources>\n", "<resources>\n<components/>", "<components> in <resources>"),
    ("<base ", '<base displaycolor="#808080"/><mesh ', "<mesh> in <basematerials>"),
    ("#808080FF", "grey", "displaycolor 'grey'"),
    ('<object id="7"', "<object", "an object without an id"),
    ('type="model"', 'type="support"', "another type than model"),
    ('pid="5"', 'pid="6"', "material 0 of group '6'"),
    ('pindex="0"', 'pindex="1"', "material 1 of group '5'"),
    ('pindex="0"', 'pindex="-1"', "material -1 of group '5'"),
    (CORNERS, "", "vertices with 'nothing'"),
    (FACES, "", "triangles with 'nothing'"),
    ("<vertices>", "<vertices><vertices/></vertices><vertices>", "vertices> with attributes, empty, or a second"),
    ("<vertices>", "<vertices n='4'>", "vertices> with attributes"),
    (f"<vertices>{CORNERS}</vertices>", "<vertices/>", "<vertices> with attributes, empty"),
    (f"<vertices>{CORNERS}</vertices>", "", "vertices with 'nothing'"),
    (CORNERS, f"words{CORNERS}", "vertices with 'words<vertex"),
    (CORNERS, f"{CORNERS}words", "vertices with 'words', expected numbers"),
    ('x="9"', 'x="nan"', 'vertices with \'<vertex x="nan"'),
    ('x="9"', 'x="9_0"', "expected numbers"),
    ('x="9"', f'x="{"9" * 400}"', "not finite"),
    ('x="9"', 'x="9-9"', "expected numbers"),
    ('x="9"', 'x="9.9.9"', "expected numbers"),
    ('x="9"', "", "expected numbers"),
    ('x="9"', 'x="9" w="9"', "expected numbers"),
    ('v1="1"', 'v1="4"', "a triangle names vertex 4 of 4"),
    ('v1="1"', 'v1="1.0"', "expected indices"),
    ('v1="1"', 'v1="-1"', "expected indices"),
    ('v1="1"', 'v1="١"', "expected indices"),
    ('v1="1"', 'v1=""', "expected indices"),
    ('v1="1"', 'v1="99999999999"', "expected indices"),
    ('v1="1" v2="2"', 'v1="2" v2="2"', "names one vertex twice"),
    ('objectid="7"', 'objectid="8"', "an item names object '8'"),
    ("0 0 0 1 4 5 6", "0 0 0 1 4 5", "no transform of twelve numbers"),
    ("4 5 6", "4 5 inf", "no transform of twelve numbers"),
    ("4 5 6", f"4 5 {'9' * 400}", "no transform of twelve numbers"),
    ("</resources>", '<basematerials id="5"/></resources>', "basematerials id '5' twice"),
    ("</resources>", '<object id="8"><mesh/></object></resources>', "object 8: vertices with 'nothing'"),
]


@pytest.mark.parametrize(("old", "new", "message"), ZOO)
def test_a_wrong_file_is_refused_with_what_and_where(old: str, new: str, message: str) -> None:
    """Each damage alone gives a FileFormatError that names the file and the damage."""
    assert old in GOOD
    with pytest.raises(FileFormatError, match=r"bed\.3mf: ") as refused:
        parse_model(GOOD.replace(old, new, 1).encode(), "bed.3mf")
    assert message in str(refused.value)


def test_two_objects_with_one_id_are_refused() -> None:
    """An id that names two objects names none."""
    start, end = GOOD.index("<object"), GOOD.index("</resources>")
    with pytest.raises(FileFormatError, match="the same id"):
        parse_model((GOOD[:end] + GOOD[start:end] + GOOD[end:]).encode(), "bed.3mf")


def test_bytes_that_are_no_text_are_refused() -> None:
    """A file with bytes that are not UTF-8 is refused as any other."""
    with pytest.raises(FileFormatError, match="line 3"):
        parse_model(GOOD.encode().replace(b"a &amp;", b"\xff"), "bed.3mf")
