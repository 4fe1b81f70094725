"""Every code that proving may find, with its severities and the module that says it, read from the source."""

from __future__ import annotations

import ast
import importlib
import re
from collections import defaultdict
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import nookwright.checks
from nookwright.checks.cautions.words import CAUTIONS
from nookwright.ground.findings import Severity

CODE = re.compile(r"[a-z]+(-[a-z]+)+|glue|rattle|blades|ballast|heat|overhead")
STOPS = frozenset({"stop", "_stop"})
SAYS = frozenset({"Finding", "worst_of", "said_once", "_Words"}) | STOPS
WORDS = "cautions/words"
ROOT = Path(nookwright.checks.__file__).parent


@dataclass(frozen=True, order=True)
class Said:
    """A code, where it is said, and how severe it may be.

    Attributes:
        code: of the finding.
        module: that says it, below ``checks``.
        severities: as words, the gravest first; ``by the case`` where it is worked out.
    """

    code: str
    module: str
    severities: tuple[str, ...]


@cache
def codes_said() -> tuple[Said, ...]:
    """All codes of the checks, sorted."""
    found: dict[tuple[str, str], set[str]] = defaultdict(set)
    for path in sorted(ROOT.rglob("*.py")):
        module = path.relative_to(ROOT).with_suffix("").as_posix()
        if module == WORDS:
            continue  # its words are said elsewhere
        for code, severity in _in(ast.parse(path.read_text(encoding="utf-8"))):
            found[code, module].add(severity)
    order = [*(one.value for one in Severity), "by the case"]
    return tuple(
        Said(code, module, tuple(sorted(words, key=order.index))) for (code, module), words in sorted(found.items())
    )


def _in(tree: ast.Module) -> list[tuple[str, str]]:
    """Codes that a module says, each with a severity."""
    named, handed_on = _constants(tree), _handed_on(tree)
    within = {id(call): one for one in ast.walk(tree) if isinstance(one, ast.FunctionDef) for call in ast.walk(one)}
    found = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Dict):
            found += _worded(node)
        if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Name):
            continue
        name, inside = node.func.id, within.get(id(node))
        known = named | (_constants(inside) if inside else {})
        codes = [code for one in node.args[:1] for code in _texts(one, known)] if name in SAYS | {"caution"} else []
        if name in SAYS and node.args and isinstance(node.args[0], ast.Name):
            codes += [] if codes else handed_on
        for code in codes:
            if CODE.fullmatch(code):
                found += [(code, severity) for severity in _severities(code, node, inside, tree)]
    return found


def _worded(node: ast.Dict) -> list[tuple[str, str]]:
    """Codes that are keys of a table of words, or values of a table of codes."""
    found = []
    for key, value in zip(node.keys, node.values, strict=True):
        words = isinstance(value, ast.Call) and isinstance(value.func, ast.Name) and value.func.id == "_Words"
        if words and isinstance(key, ast.Constant) and isinstance(key.value, str):
            graver = [Severity.WARN.value] if any(one.arg == "graver" for one in value.keywords) else []  # type: ignore[attr-defined]
            found += [(key.value, severity) for severity in (*_severities_in(value), *graver)]
        sorts = isinstance(key, ast.Tuple) and isinstance(value, ast.Constant)
        if sorts and isinstance(value, ast.Constant) and isinstance(value.value, str) and CODE.fullmatch(value.value):
            found.append((value.value, Severity.STOP.value))
    return found


def _severities(code: str, node: ast.Call, within: ast.FunctionDef | None, tree: ast.Module) -> list[str]:
    """How severe a finding may be: by the call, its function, who calls that, or a table of its module by code."""
    name = getattr(node.func, "id", "")
    if name in STOPS:
        return [Severity.STOP.value]
    if name == "caution":
        return [CAUTIONS[code].severity.value]
    names = {one.id for one in node.args if isinstance(one, ast.Name)}
    places = ([node], _bound(names, within), _callers(within, tree), _rows(code, tree))
    said = next((found for some in places if (found := [one for place in some for one in _severities_in(place)])), [])
    return list(dict.fromkeys(said)) or ["by the case"]


def _bound(names: set[str], within: ast.FunctionDef | None) -> list[ast.AST]:
    """What names are bound to in a function, by assignments and loops."""
    bound: list[ast.AST] = []
    for one in ast.walk(within) if within else ():
        pair = (one.targets[0], one.value) if isinstance(one, ast.Assign) else ()
        pair = (one.target, one.iter) if isinstance(one, ast.For) else pair
        if pair and names & {at.id for at in ast.walk(pair[0]) if isinstance(at, ast.Name)}:
            bound.append(pair[1])
    return bound


def _callers(within: ast.FunctionDef | None, tree: ast.Module) -> list[ast.AST]:
    """Calls of a function in its module, where it is handed a severity."""
    handed = within and any(one.arg == "severity" for one in ast.walk(within.args) if isinstance(one, ast.arg))
    calls = [one for one in ast.walk(tree) if isinstance(one, ast.Call) and isinstance(one.func, ast.Name)]
    return [one for one in calls if handed and within and getattr(one.func, "id", "") == within.name]


def _rows(code: str, tree: ast.Module) -> list[ast.AST]:
    """What the tables of a module say of a code."""
    tables = [one for one in ast.walk(tree) if isinstance(one, ast.Dict)]
    pairs = [pair for one in tables for pair in zip(one.keys, one.values, strict=True)]
    return [value for key, value in pairs if isinstance(key, ast.Constant) and key.value == code]


def _severities_in(node: ast.AST) -> list[str]:
    """All severities that an expression names."""
    return [
        one.attr.lower()
        for one in ast.walk(node)
        if isinstance(one, ast.Attribute) and isinstance(one.value, ast.Name) and one.value.id == "Severity"
    ]


def _constants(tree: ast.AST) -> dict[str, list[str]]:
    """Texts that a name may stand for, by name."""
    named: dict[str, list[str]] = defaultdict(list)
    for node in ast.walk(tree):
        if isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name):
            named[node.targets[0].id] += _texts(node.value, {})
        if isinstance(node, ast.For) and isinstance(node.target, ast.Tuple):
            named[getattr(node.target.elts[0], "id", "")] += _texts(node.iter, {})
    return named


def _handed_on(tree: ast.Module) -> list[str]:
    """Texts that functions give back, and keys of tables: codes that are chosen in one place and said in another."""
    found = []
    for node in ast.walk(tree):
        chosen = [node.value] if isinstance(node, ast.Return) else node.keys if isinstance(node, ast.Dict) else []
        found += [text for one in chosen if isinstance(one, ast.Constant) for text in _texts(one, {})]
    return found


def _texts(node: ast.AST, named: dict[str, list[str]]) -> list[str]:
    """All texts in an expression, names looked up."""
    found = []
    for one in ast.walk(node):
        if isinstance(one, ast.Constant) and isinstance(one.value, str):
            found.append(one.value)
        if isinstance(one, ast.Name) and one.id in named:
            found += named[one.id]
    return found


def load_faults() -> None:
    """Import every module that has faults, so that the table is whole."""
    for path in sorted(Path(__file__).parent.glob("*.py")):
        if re.match(r"(in|of|on|under)_", path.stem):
            importlib.import_module(f".{path.stem}", __package__)
