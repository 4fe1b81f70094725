"""Renew the exact versions of the whole dependency closure in pyproject.toml.

They stand there as constraints instead of in a lock file, because a lock file records the hosts of a registry::

    python -m uv run python scripts/renew_constraints.py
"""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
BEGIN, END = "# begin of the closure", "# end of the closure"


def closure() -> list[str]:
    """All distributions that any group needs, with exact versions and markers, sorted."""
    uv = [sys.executable, "-m", "uv"] if _has_uv() else ["uv"]
    everything = ("--all-groups", "--all-extras", "--no-emit-project")
    export = [*uv, "export", *everything, "--no-hashes", "--no-annotate", "--no-header"]
    done = subprocess.run(export, cwd=ROOT, check=True, capture_output=True, text=True)
    return sorted(line.strip() for line in done.stdout.splitlines() if "==" in line)


def _has_uv() -> bool:
    return subprocess.run([sys.executable, "-m", "uv", "--version"], check=False, capture_output=True).returncode == 0


def main() -> None:
    """Resolve anew without the old constraints, then write the new ones."""
    path = ROOT / "pyproject.toml"
    text = path.read_text(encoding="utf-8")
    block = re.compile(re.escape(BEGIN) + r".*?" + re.escape(END), re.DOTALL)
    path.write_text(block.sub(f"{BEGIN}\nconstraint-dependencies = []\n{END}", text), encoding="utf-8")
    (ROOT / "uv.lock").unlink(missing_ok=True)
    lines = "".join(f'    "{line.replace(chr(34), chr(39))}",\n' for line in closure())
    new = f"{BEGIN}\nconstraint-dependencies = [\n{lines}]\n{END}"
    path.write_text(block.sub(lambda _: new, text), encoding="utf-8")
    print(f"{lines.count(chr(10))} distributions pinned")


if __name__ == "__main__":
    main()
