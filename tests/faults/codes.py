"""Every code that proving may find, with its severities and the module that says it, read from the source."""

from __future__ import annotations

import ast
import importlib
import re
from collections import defaultdict
from dataclasses import dataclass
from pathlib import Path

import nookwright.checks
from nookwright.checks.cautions.words import CAUTIONS
from nookwright.ground.findings import Severity

CODE = re.compile(r"[a-z]+(-[a-z]+)+|glue|rattle|blades|ballast|heat|overhead")
STOPS = frozenset({"stop", "_stop"})
SAYS = frozenset({"Finding", "worst_of", "_Words"}) | STOPS
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
    found = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Dict):
            found += _worded(node)
        if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Name):
            continue
        name = node.func.id
        codes = [code for one in node.args[:1] for code in _texts(one, named)] if name in SAYS | {"caution"} else []
        if name in SAYS and node.args and isinstance(node.args[0], ast.Name):
            codes += [] if codes else handed_on
        for code in codes:
            if CODE.fullmatch(code):
                found.append((code, _severity(name, code, node)))
    return found


def _worded(node: ast.Dict) -> list[tuple[str, str]]:
    """Codes that are keys of a table of words, or values of a table of codes."""
    found = []
    for key, value in zip(node.keys, node.values, strict=True):
        words = isinstance(value, ast.Call) and isinstance(value.func, ast.Name) and value.func.id == "_Words"
        if words and isinstance(key, ast.Constant) and isinstance(key.value, str):
            found.append((key.value, _severity("_Words", key.value, value)))
        sorts = isinstance(key, ast.Tuple) and isinstance(value, ast.Constant)
        if sorts and isinstance(value, ast.Constant) and isinstance(value.value, str) and CODE.fullmatch(value.value):
            found.append((value.value, Severity.STOP.value))
    return found


def _severity(name: str, code: str, node: ast.AST) -> str:
    """How severe a finding is, by what stands in the call."""
    if name in STOPS:
        return Severity.STOP.value
    if name == "caution":
        return CAUTIONS[code].severity.value
    words = [
        one.attr.lower()
        for one in ast.walk(node)
        if isinstance(one, ast.Attribute) and isinstance(one.value, ast.Name) and one.value.id == "Severity"
    ]
    return words[0] if len(words) == 1 else "by the case"


def _constants(tree: ast.Module) -> dict[str, list[str]]:
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
