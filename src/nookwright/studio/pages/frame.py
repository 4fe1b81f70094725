"""What every page has: the head with the stages, the words of the studio, and the foot with what can be taken back."""

from __future__ import annotations

import html
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any, Final
from urllib.parse import quote

from nicegui import app, ui

from nookwright.studio.jobs import State
from nookwright.studio.state import Topic

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from nookwright.studio.state import Studio

STAGES: Final = (
    ("survey", "Survey"),
    ("module", "Module"),
    ("layout", "Layout"),
    ("parts", "Parts"),
    ("make", "Make"),
    ("prove", "Prove"),
)


_FIRST: Final = "(event) => event.detail < 2 && emit()"


def button(
    words: str, do: Callable[..., object], *, main: bool = False, once: bool = False, **props: str
) -> ui.element:
    """A plain button of the page.

    Args:
        words: on it.
        do: what it does.
        main: whether it is what most people want here.
        once: whether the second click of a double click is no second one.
        props: of the element.
    """
    made = ui.element("button").classes("plain main" if main else "plain").props('type="button"')
    for name, value in props.items():
        made.props[name.replace("_", "-")] = value
    with made:
        text(words)
    made.on("click", do, [], js_handler=_FIRST if once else "() => emit()")
    return made


def text(words: str, tag: str = "span", classes: str = "") -> ui.html:
    """Words as they are; nothing in them is markup."""
    return ui.html(html.escape(words), sanitize=False, tag=tag).classes(classes)


@contextmanager
def page(studio: Studio, stage: str, title: str) -> Iterator[None]:
    """The frame of a page; what is made in the block is its body."""
    dark = ui.dark_mode(studio.dark)
    ui.page_title(f"{title}: {studio.name}")
    ui.add_css(_css())
    with ui.element("header").classes("sheet-head"):
        text("To the content", "a", "skip").props('href="#content"')
        with ui.element("div"):
            text("nookwright studio", "p", "overline")
            name = text(studio.name, "h1")
        with ui.element("nav").props('aria-label="Stages of the job"'), ui.element("ol").classes("stages"):
            for path, word in STAGES:
                with ui.element("li"):
                    link = text(word, "a").props(f'href="/{path}"')
                    if path == stage:
                        link.props('aria-current="page"')
        undo = button("Take back", studio.undo, data_do="undo")
        redo = button("Make again", studio.redo, data_do="redo")
        _lamp(studio, dark)
    words = text(studio.said, "p", "words sheet-foot").props('role="status" aria-live="polite" data-said')
    with ui.element("div").classes("sheet-body").props('id="content"'):
        text(title, "h2", "hear")
        with ui.element("div").classes("panel next row") as waits:
            why = text("", "p", "words").props("data-waits")
            text("To the survey", "a", "plain main").props('href="/survey"')
        yield
    with ui.element("footer").classes("sheet-foot"):
        job = text("", "span").props("data-job")
        kept = text("", "span").props("data-kept")

    def refresh(topic: Topic | None = None) -> None:
        _offer(undo, "Take back", studio.desk.done)
        _offer(redo, "Make again", studio.desk.undone)
        if topic in {None, Topic.WORDS}:
            reword(words, studio.said)
        reword(job, _job(studio))
        reword(kept, _kept(studio))
        reword(name, studio.name)
        reword(why, _before(studio))
        if waits.visible != (hidden := studio.planned is None and stage != "survey"):
            waits.set_visibility(hidden)

    refresh()
    follow(studio, refresh)


def follow(studio: Studio, refresh: Callable[[Topic], None]) -> None:
    """Have a part of this page refreshed at every change, until the page is closed."""
    client = ui.context.client

    def told(topic: Topic) -> None:
        with client:
            refresh(topic)

    leave = studio.on_change(told)
    client.on_delete(leave)


def at_address(path: str, **query: str) -> None:
    """Have the address say what is shown, so that a reload or the back button leads here again.

    Args:
        path: of the page.
        query: what is shown on it; whatever is in it is escaped.
    """
    shown = "&".join(f"{name}={quote(value, safe='')}" for name, value in query.items() if value)
    ui.navigate.history.replace(f"{path}?{shown}" if shown else path)


def reword(element: ui.html, words: str) -> None:
    """Other words in an element that ``text`` made; nothing is sent where they are the same."""
    content = html.escape(words)
    if element.content != content:
        element.set_content(content)


def hindered(studio: Studio) -> str:
    """Why there is no plan of the room as it is now, and where that is said; empty where there may be one."""
    if studio.begun_only:
        return "The survey is not filled in yet: it asks for one thing after the other."
    if studio.room is None:
        return "Something in the survey is wrong: the page Survey says what, and where."
    return "It cannot be planned as it stands: the page Survey says why." if studio.unplanned is not None else ""


def _before(studio: Studio) -> str:
    """What there is to do or to wait for before there is a first plan."""
    return hindered(studio) or "The first plan is being made; it comes here by itself."


def _lamp(studio: Studio, dark: ui.dark_mode) -> None:
    """A button for the other of light and dark, whichever is seen now; all pages keep to it."""

    def turn(event: Any) -> None:  # noqa: ANN401 - as the toolkit hands it over
        studio.dark = event.args is not True
        dark.set_value(studio.dark)

    made = button("Light or dark", lambda _: None, data_do="dark")
    made.on("click", turn, js_handler="() => emit(document.body.classList.contains('body--dark'))")


def _offer(button: ui.element, words: str, gestures: tuple[str, ...]) -> None:
    """Have a button offer the last of some gestures; nothing is sent where it does so already."""
    title = f"{words}: {gestures[-1]}" if gestures else f"Nothing to {words.lower()}"
    if button.props.get("title") != title:
        button.props.update(title=title, disabled=not gestures)


def _job(studio: Studio) -> str:
    running = [job for job in studio.running.values() if job.state is State.RUNNING]
    if running:
        share = "" if running[0].share is None else f" ({100 * running[0].share:.0f} %)"
        return f"Working: {running[0].stage}{share}"
    if studio.room is None:
        if studio.begun_only:
            return "Not planned yet: the page Survey says what is still to fill in"
        return "No new plan while something is wrong: the page Survey says what"
    if studio.unplanned is not None:
        return hindered(studio).rstrip(".")
    return "The plan is being made" if studio.outdated else "Nothing to wait for"


def _kept(studio: Studio) -> str:
    if not studio.settled:
        return "Being written down"
    return f"All of it is in {studio.file.name}" if studio.desk.folded else f"In the journal of {studio.file.name}"


def _css() -> str:
    from importlib.resources import files

    return files("nookwright.studio").joinpath("web", "sheet.css").read_text(encoding="utf-8")


__all__ = ["STAGES", "app", "at_address", "button", "follow", "hindered", "page", "reword", "text"]
