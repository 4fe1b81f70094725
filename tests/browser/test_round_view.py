"""A space in the round: drawn roughly at once, then solid part by part, in step with what a hand does."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest
from playwright.sync_api import expect
from tests.browser.hands import begin_anew, kept, move, tray

if TYPE_CHECKING:
    from playwright.sync_api import Page, Route

NEXT_FRAME = "() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))"
ROUGHLY = "Drawn roughly until the solids are there."
SAME = """async (pairs) => {
  const { change } = await import("nw-round");
  return pairs.map(([before, after]) => change(before, after));
}"""
COLOURS = """async (src) => {
  const { GLTFLoader } = await import("nicegui-scene");
  const { bodiesIn, roughBody } = await import("nw-round");
  const row = { size: [9, 9, 9], place: [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0], wall: 0 };
  const seen = (body) => "#" + body.material.color.getHexString();
  const solids = bodiesIn((await new GLTFLoader().loadAsync(src)).scene).map(([, body]) => seen(body));
  return [solids, ["#f2f2f2", "#0a141e"].map((colour) => seen(roughBody({ ...row, colour })))];
}"""
FETCHED = 'performance.getEntriesByType("resource").map((one) => one.name).find((name) => name.includes("/solids/"))'
ROW = {"name": "a", "size": [1, 2, 3], "place": [1, 0, 0, 5], "colour": "#fff", "wall": 0, "shape": "s"}


@pytest.fixture
def plan(page: Page) -> Page:
    """The page with a plan on it, nothing awaited."""
    expect(page.locator(".tray").first).to_be_visible()
    begin_anew(page)
    return page


class Held:
    """Files of solids, held back until they are let go."""

    def __init__(self, page: Page) -> None:
        """Hold back all that a page asks for from now on."""
        self.routes: list[Route] = []
        self.hold = True
        page.route("**/solids/**", self.take)

    def take(self, route: Route) -> None:
        """Keep what was asked for, or hand it on."""
        if self.hold:
            self.routes.append(route)
        else:
            route.continue_()

    def let_go(self) -> None:
        """Hand on all of it, and what comes after."""
        self.hold = False
        for route in self.routes:
            route.continue_()


def test_it_is_drawn_roughly_before_any_solid_is_there(plan: Page) -> None:
    """And says so to those who do not see it; each part gives way to its solid, and nothing is said any more."""
    held = Held(plan)
    plan.get_by_role("button", name="See it in the round").click()
    view, words = plan.locator(".stage"), plan.locator(".solid-view .words")
    expect(view).to_have_attribute("data-state", "rough")
    expect(words).to_have_text(ROUGHLY)
    expect(words).to_have_attribute("role", "status")
    expect(view).to_have_attribute("data-meshes", "0")
    parts = int(view.get_attribute("data-rough") or 0)
    assert parts >= 3
    held.let_go()
    expect(view).to_have_attribute("data-state", "ready")
    expect(view).to_have_attribute("data-meshes", str(parts))
    expect(view).to_have_attribute("data-rough", "0")
    expect(words).to_be_empty()


def test_solids_that_do_not_come_leave_it_drawn_roughly(plan: Page) -> None:
    """It says that they could not be fetched, and what there is stays to be seen."""
    plan.route("**/solids/**", lambda route: route.fulfill(status=200, body="no solid"))
    plan.get_by_role("button", name="See it in the round").click()
    view = plan.locator(".stage")
    expect(view).to_have_attribute("data-state", "failed")
    expect(plan.locator(".solid-view .words")).to_have_text("The solids could not be fetched.")
    assert int(view.get_attribute("data-rough") or 0) >= 3


def test_a_move_is_seen_in_the_round_before_it_is_planned(plan: Page) -> None:
    """The part goes where the hand put it with no solid fetched anew, and all stay solid."""
    plan.get_by_role("button", name="See it in the round").click()
    view = plan.locator(".stage")
    expect(view).to_have_attribute("data-state", "ready")
    held, before = Held(plan), view.screenshot()
    move(plan, "dice")
    plan.evaluate(NEXT_FRAME)
    assert view.screenshot() != before
    expect(view).to_have_attribute("data-rough", "0")
    assert held.routes == [] or plan.locator("[data-job]").text_content() == "Nothing to wait for"
    held.let_go()
    kept(plan)
    expect(view).to_have_attribute("data-state", "ready")


PICK = """(name) => getElement(parseInt(document.querySelector(".solid-view").id.slice(1))).$emit("pick", name)"""


def test_a_part_that_is_clicked_is_chosen_in_the_plan(plan: Page) -> None:
    """And marked in the round when it is chosen there; a name that is forged chooses nothing."""
    plan.get_by_role("button", name="See it in the round").click()
    view = plan.locator(".stage")
    expect(view).to_have_attribute("data-state", "ready")
    names: dict[str, str] = {}
    for lot in ("corks", "dice", "notes"):
        tray(plan, lot).focus()
        expect(view).to_have_attribute(
            "data-chosen", re.compile("^(?!" + "|".join([*names.values(), "$"]) + ")drawer-")
        )
        names[lot] = view.get_attribute("data-chosen") or ""
    for lot, name in names.items():
        plan.evaluate(PICK, "no such <b>")
        plan.evaluate(PICK, name)
        expect(tray(plan, lot)).to_have_class(re.compile("picked"))


def test_what_becomes_of_a_body_follows_its_row(plan: Page) -> None:
    """Elsewhere it moves; of another size, shape or colour it is made anew, and so it is where there is no row."""
    others: list[dict[str, object] | None] = [
        ROW,
        {**ROW, "place": [1, 0, 0, 6]},
        {**ROW, "size": [1, 2, 4]},
        {**ROW, "shape": ""},
        {**ROW, "colour": "#000"},
        None,
    ]
    found = plan.evaluate(SAME, [[ROW, other] for other in others])
    assert found == ["same", "moved", "other", "other", "other", "other"]
    assert plan.evaluate(SAME, [[None, ROW]]) == ["other"]


def test_a_solid_is_seen_in_the_colour_of_its_filament(plan: Page) -> None:
    """As what is drawn roughly before it: files say light, the view makes the colour of it that was typed."""
    plan.get_by_role("button", name="See it in the round").click()
    expect(plan.locator(".stage")).to_have_attribute("data-state", "ready")
    solids, rough = plan.evaluate(COLOURS, plan.evaluate(FETCHED))
    assert solids
    assert set(solids) == {"#f2f2f2"}
    assert rough == ["#f2f2f2", "#0a141e"]
