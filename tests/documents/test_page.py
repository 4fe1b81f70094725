"""index.html, read back with the parser of the standard library."""

from __future__ import annotations

import html
import re
from html.parser import HTMLParser
from itertools import pairwise
from typing import TYPE_CHECKING
from urllib.parse import unquote

import pytest

from nookwright.checks.cautions.words import CAUTIONS, DEFERENCE
from nookwright.documents.page import page_html
from nookwright.exchange.kit import KitFinding
from nookwright.ground.findings import Severity

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.exchange.kit import Kit

VOID = {"meta", "input", "link", "br", "hr", "img"}


class Reader(HTMLParser):
    """Collects what the tests ask for, and whether every tag is closed in order."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str]]] = []
        self.open: list[str] = []
        self.faults: list[str] = []
        self.texts: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Keep it, and wait for its end."""
        self.tags.append((tag, {name: value or "" for name, value in attrs}))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Keep it."""
        self.tags.append((tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        """See that the last one opened is closed."""
        if not self.open or self.open.pop() != tag:
            self.faults.append(tag)

    def handle_data(self, data: str) -> None:
        """Keep what people read."""
        if not self.open or self.open[-1] not in {"script", "style"}:
            self.texts.append(data)

    @property
    def text(self) -> str:
        """All text of the page, blanks made one."""
        return " ".join(" ".join(self.texts).split())


def read(kit: Kit) -> Reader:
    """The page of a kit, read."""
    reader = Reader()
    reader.feed(page_html(kit))
    reader.close()
    return reader


def test_tags_are_closed_in_order(kit: Kit) -> None:
    """The page is well formed to the last tag."""
    reader = read(kit)
    assert reader.faults == []
    assert reader.open == []


def test_links_lead_to_files_of_the_kit(kit: Kit) -> None:
    """Every relative link names a file of the kit, every piece, part and bedful is linked, anchors exist."""
    reader = read(kit)
    links = [unquote(attributes["href"]) for tag, attributes in reader.tags if tag == "a"]
    ids = {attributes["id"] for _, attributes in reader.tags if "id" in attributes}
    files = {one.file for one in kit.pieces} | {one.file for one in kit.bedfuls} | {part.stl for part in kit.parts}
    assert {link for link in links if not link.startswith("#")} == files | {"bill.csv", "kit.json"}
    assert {link[1:] for link in links if link.startswith("#")} <= ids


def test_file_names_are_quoted_in_links(kit: Kit) -> None:
    """A file name with a blank, a hash or a colon still leads to that file and to nothing else."""
    name = "javascript:alert(1) #2?.stl"
    piece = kit.pieces[0].model_copy(update={"file": name})
    reader = read(kit.model_copy(update={"pieces": (piece, *kit.pieces[1:])}))
    links = [attributes["href"] for tag, attributes in reader.tags if tag == "a"]
    assert "javascript%3Aalert%281%29%20%232%3F.stl" in links


def test_nothing_is_fetched(kit: Kit) -> None:
    """No element loads anything, and no address of a network stands in the page."""
    page = page_html(kit)
    for tag, attributes in read(kit).tags:
        assert tag not in {"link", "img", "iframe", "object", "embed", "base", "form"}
        assert "src" not in attributes
    assert not re.search(r"@import|url\(|fetch\(|XMLHttpRequest", page)
    assert re.sub(r'xmlns="http://www\.w3\.org/2000/svg"', "", page).count("http") == 0


def test_names_cannot_become_markup(make_kit: Callable[..., Kit]) -> None:
    """A script in the name of a room, a space, a lot or a finding arrives as text everywhere."""
    evil = "<script>alert('x')</script>\"'><b>"
    kit = make_kit(300, 200, [(0, 0, 4, 4, evil)], name=evil, room=evil)
    finding = KitFinding(code="c", severity=Severity.WARN, subject=evil, text=evil, remedy=evil)
    bed = kit.bedfuls[0].model_copy(update={"colour": "red;background:url(x)"})
    reader = read(kit.model_copy(update={"findings": (finding,), "bedfuls": (bed, *kit.bedfuls[1:])}))
    assert [tag for tag, _ in reader.tags].count("script") == 1
    assert "b" not in {tag for tag, _ in reader.tags}
    assert reader.faults == []
    assert evil in reader.text
    assert all("url" not in attributes.get("style", "") for _, attributes in reader.tags)


def test_same_kit_gives_the_same_bytes(kit: Kit) -> None:
    """Nothing in the page changes from run to run."""
    assert page_html(kit) == page_html(kit.model_copy(deep=True))


def test_headings_are_in_order(kit: Kit) -> None:
    """One first heading, and no level is left out on the way down."""
    levels = [int(tag[1]) for tag, _ in read(kit).tags if re.fullmatch("h[1-6]", tag)]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))


def test_has_landmarks_and_names(kit: Kit) -> None:
    """Header, navigation, main and footer are there; what scrolls can be reached and has a name; so has the field."""
    tags = read(kit).tags
    names = [tag for tag, _ in tags]
    for landmark in ("header", "nav", "main", "footer"):
        assert names.count(landmark) == 1
    for tag, attributes in tags:
        if "scroll" in attributes.get("class", "").split():
            assert attributes["role"] == "region"
            assert attributes["tabindex"] == "0"
            assert attributes["aria-label"]
        if tag == "svg":
            assert attributes["role"] == "img"
            assert attributes["aria-label"]
        if tag == "input":
            assert attributes["id"] in {label["for"] for name, label in tags if name == "label"}
        if tag == "html":
            assert attributes["lang"] == "en"


def test_ids_are_unique(kit: Kit) -> None:
    """However many plans stand in the page, no id comes twice."""
    ids = [attributes["id"] for _, attributes in read(kit).tags if "id" in attributes]
    assert len(ids) == len(set(ids))


def test_findings_come_first_and_by_weight(kit: Kit) -> None:
    """Stop before warn before note, each with its remedy, before the first space."""
    text = read(kit).text
    places = [text.index(finding.text) for finding in kit.findings]
    assert [finding.severity for finding in kit.findings] == [Severity.STOP, Severity.WARN, Severity.NOTE]
    assert places == sorted(places)
    assert places[-1] < text.index("Clear height")
    assert all(finding.remedy in text for finding in kit.findings)


@pytest.mark.parametrize(("count", "unfolded"), [(6, True), (7, False)])
def test_many_notes_start_folded(kit: Kit, count: int, unfolded: bool) -> None:  # noqa: FBT001 - a case, not an option
    """Up to six notes are shown at once, more start folded up; what stops is always shown."""
    notes = tuple(
        KitFinding(code="n", severity=Severity.NOTE, subject=str(n), text=f"note {n}", remedy="") for n in range(count)
    )
    stops = tuple(
        KitFinding(code="s", severity=Severity.STOP, subject=str(n), text=f"stop {n}", remedy="") for n in range(9)
    )
    tags = read(kit.model_copy(update={"findings": (*notes, *stops)})).tags
    groups = {attributes["class"]: "open" in attributes for tag, attributes in tags if tag == "details" and attributes}
    assert groups == {"findings stop": True, "findings note": unfolded}


def test_every_lot_is_in_the_table_with_its_space(kit: Kit) -> None:
    """Where is it? Each lot with how many, and the space that it is in."""
    text = read(kit).text
    table = text[text.index("Where is it? Show") : text.index("Bedfuls One bedful")]
    for lot in kit.lots:
        assert f"{lot.name} {lot.count} " in table


def test_summary_says_the_totals(kit: Kit) -> None:
    """Grams, hours, pieces and bedfuls at the top are those of the kit."""
    text = read(kit).text
    assert f"Pieces to print {kit.totals.pieces} " in text
    assert f"Bedfuls {kit.totals.bedfuls} " in text
    assert f"Lots placed {kit.totals.lots_placed} of {kit.totals.lots} " in text
    assert f"Prints {kit.totals.mass_g / 1000:.2f} kg" in text


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"gap": 0.0, "bound": 908.5}, "No layout with these choices can be better"),
        ({"gap": 0.055, "proven": True}, "at most 5.5 % of that could still be gained"),
        ({"gap": 0.055, "proven": False}, "as far as the search got before it stopped"),
        ({"by_clock": True}, "stopped by the clock"),
    ],
)
def test_layout_is_judged_in_plain_words(kit: Kit, changes: dict[str, object], said: str) -> None:
    """What the bound, the gap and a stop by the clock mean is said."""
    changed = kit.model_copy(update={"layout": kit.layout.model_copy(update=changes)})
    assert said in read(changed).text


def test_both_layouts_and_the_price_of_calm_are_shown(kit: Kit) -> None:
    """Which one is built, what calm takes more, how to have the other, and each part of the cost beside the other's."""
    text = read(kit).text
    assert "builds the calm one" in text
    assert "Calm takes +2.5 dm² of floor and -14 g of plastic" in text
    assert 'layout = "tightest"' in text
    assert "edges edges of trays that do not line up 12.0 88.5" in text
    other = kit.model_copy(update={"layout": kit.layout.model_copy(update={"style": "tightest"})})
    assert 'layout = "calm"' in read(other).text


def test_what_could_be_left_out_is_priced(kit: Kit) -> None:
    """Grams, hours, what it gives up and the lines of the room file; no section where nothing is worth it."""
    text = read(kit).text
    assert "Sparse liner 93 6.0 Narrow parts stand loose." in text
    assert 'liner = "sparse"' in text
    assert "What you could leave out" not in read(kit.model_copy(update={"savings": ()})).text


def test_the_module_stands_in_the_table_that_it_was_chosen_from(kit: Kit) -> None:
    """Every pitch that was judged, the one that was taken marked."""
    text = read(kit).text
    assert "18 (taken) 6 4.2 13.1 800 50 21 2.5 0 900" in text
    assert "19 6 4.2 13.1 800 50 21 2.5 0 1100" in text


def test_kit_without_anything_has_a_page(kit: Kit) -> None:
    """A kit in which nothing was placed or found still gives a whole page."""
    bare = kit.model_copy(
        update=dict.fromkeys(("lots", "parts", "placements", "pieces", "bedfuls", "findings", "materials"), ())
    )
    reader = read(bare)
    assert reader.faults == []
    assert "Nothing to report" in reader.text
    assert "Nothing is kept here yet" in reader.text


def _luminance(colour: str) -> float:
    """WCAG 2.2, relative luminance."""
    channels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_colours_have_contrast(kit: Kit) -> None:
    """WCAG 2.2, 1.4.3 (AA): text on paper has at least 4.5 to 1, by day and by night."""
    page = page_html(kit)
    schemes = re.findall(r":root \{([^}]*)\}", page)
    assert len(schemes) == 2
    for scheme in schemes:
        colours = dict(re.findall(r"--([a-z]+): (#[0-9a-f]{6})", scheme))
        paper = _luminance(colours["paper"])
        for name in ("ink", "faint", "link", "stop", "warn", "note"):
            light, dark = sorted((_luminance(colours[name]), paper), reverse=True)
            assert (light + 0.05) / (dark + 0.05) >= 4.5, name


def test_cautions_stand_in_a_section_of_their_own_with_their_sources(kit: Kit) -> None:
    """Those that stop or warn among the findings too, notes only there; without any there is no such section."""
    note = KitFinding(code="food-contact", severity=Severity.NOTE, subject="kit", text="Cups & more.", remedy="Wash.")
    page = page_html(kit.model_copy(update={"findings": (*kit.findings, note)}))
    section = page.split('<section id="cautions"')[1].split("</section>")[0]
    assert section.count("Cups &amp; more.") == page.count("Cups &amp; more.") == 1
    assert CAUTIONS["food-contact"].source in html.unescape(section)
    assert "The bread knife lies in a plain tray" in section
    assert page.count("The bread knife lies in a plain tray") == 2
    assert html.unescape(section).count(DEFERENCE) == 1
    assert section.index("bread knife") < section.index("Cups")
    assert 'id="cautions"' not in page_html(kit.model_copy(update={"findings": ()}))
