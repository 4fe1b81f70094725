"""The house is executed: imports against the order of stages, the page against the tree, numbers against sources."""

from __future__ import annotations

import ast
import importlib
import pkgutil
import re
import subprocess
import sys
from itertools import pairwise
from pathlib import Path

import pytest

import nookwright
from nookwright.ground.sources import Fact, facts_of

ROOT = Path(__file__).resolve().parent.parent
SOURCE = ROOT / "src" / "nookwright"
STAGES = (
    "ground", "shapes", "survey", "sizing", "module", "layout", "parts", "cutting", "solids", "making", "exchange",
    "checks", "documents", "studio",
)  # fmt: skip
ABOVE_ALL = ("build", "terminal", "cli", "__main__", "__init__")
CHECKS_MAY_NOT = {"layout", "parts", "cutting", "making"}
HEAVY = ("numpy", "pydantic", "pint", "highspy", "manifold3d", "rich", "jinja2", "tree_sitter")


def imports_of(path: Path) -> set[str]:
    """Stages of ours that a module imports, wherever in it the import stands."""
    names: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module:
            names |= {f"{node.module}.{alias.name}" for alias in node.names}
        elif isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
    return {name.split(".")[1] for name in names if name.startswith("nookwright.")}


def modules() -> list[Path]:
    """All modules of the package."""
    return sorted(SOURCE.rglob("*.py"))


@pytest.mark.parametrize("path", [path for path in modules() if path.parent != SOURCE], ids=lambda path: path.stem)
def test_a_stage_imports_only_from_stages_above_it(path: Path) -> None:
    """One direction: what was measured, what is decided, what is made, what is written."""
    stage = path.relative_to(SOURCE).parts[0]
    allowed = set(STAGES[: STAGES.index(stage) + 1]) | {"__version__"}
    if stage == "checks":
        allowed -= CHECKS_MAY_NOT
    if stage == "studio":
        allowed |= {"build", "terminal"}
    assert imports_of(path) <= allowed


def test_every_folder_is_a_stage_and_the_page_lists_them_in_order() -> None:
    """The architecture page and the tree tell the same."""
    folders = {path.name for path in SOURCE.iterdir() if path.is_dir() and path.name != "__pycache__"}
    assert folders == set(STAGES)
    page = (ROOT / "docs" / "architecture.md").read_text(encoding="utf-8")
    assert tuple(re.findall(r"^\| `(\w+)/` \|", page, re.MULTILINE)) == STAGES


def test_no_imports_go_in_a_circle_inside_a_stage() -> None:
    """A newcomer can read every stage from its leaves up."""
    graph: dict[str, set[str]] = {}
    for path in modules():
        name = ".".join(("nookwright", *path.relative_to(SOURCE).with_suffix("").parts)).removesuffix(".__init__")
        graph[name] = _runtime_imports(path)
    done: set[str] = set()

    def visit(name: str, trail: tuple[str, ...]) -> None:
        assert name not in trail, f"{' -> '.join((*trail, name))}"
        if name not in done:
            for other in sorted(graph[name] & graph.keys()):
                visit(other, (*trail, name))
            done.add(name)

    for name in sorted(graph):
        visit(name, ())


def _runtime_imports(path: Path) -> set[str]:
    """Modules that are imported when this one is, those for type checking left out."""
    found: set[str] = set()

    def walk(nodes: list[ast.stmt]) -> None:
        for node in nodes:
            if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test):
                continue
            if isinstance(node, ast.ImportFrom) and node.module:
                found.add(node.module)
                found.update(f"{node.module}.{alias.name}" for alias in node.names)

    walk(ast.parse(path.read_text(encoding="utf-8")).body)
    own = ".".join(("nookwright", *path.relative_to(SOURCE).with_suffix("").parts)).removesuffix(".__init__")
    return found - {own, own.rpartition(".")[0]}


def test_help_imports_no_heavy_library() -> None:
    """What makes ``--help`` quick: nothing but the command line is imported."""
    code = "import sys, nookwright.cli; print(' '.join(sorted(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    loaded = {name.split(".")[0] for name in done.stdout.split()}
    assert not loaded & set(HEAVY)


def test_every_number_that_stands_as_a_constant_has_a_source() -> None:
    """A module constant that is a plain number decides something and does not say why."""
    naked = []
    for info in pkgutil.walk_packages(nookwright.__path__, "nookwright."):
        if info.name.endswith("__main__"):
            continue
        module = importlib.import_module(info.name)
        naked += [
            f"{info.name}.{name}"
            for name, value in vars(module).items()
            if name.isupper() and not name.startswith("_") and _is_number(value) and name != "FORMAT"
        ]
    assert naked == []


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool | Fact)


def test_the_page_of_facts_is_current() -> None:
    """docs/facts.md is what the code says; renew it with scripts/renew_docs.py."""
    page = (ROOT / "docs" / "facts.md").read_text(encoding="utf-8")
    for row in facts_of(nookwright):
        assert f"| `{row.name}` | {row.value:g} | {row.unit} | {row.kind} |" in page, row.name


def test_tolerances_stand_in_order() -> None:
    """Kernel << recipe << mesh << fit, each several times the one before."""
    from nookwright.ground import tolerances
    from nookwright.module.seat import CLEARANCE

    steps = (tolerances.KERNEL, tolerances.GRID, tolerances.CROSSING, tolerances.MESH, CLEARANCE)
    assert all(5 * low <= high for low, high in pairwise(steps))
