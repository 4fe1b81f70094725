"""Both kernels on the whole family: every kind at every size, each at two tolerances, so that differences shrink.

    nice .venv/bin/python -m benchmarks.solids.agreement                    # a table, and exit code 1 where they differ
    nice .venv/bin/python -m benchmarks.solids.agreement --only panel       # parts whose size and name hold this text

Each case runs in a child process; one that takes longer than ``LIMIT_S`` counts as a disagreement.
"""

from __future__ import annotations

import argparse
import sys
import time
from typing import TYPE_CHECKING, Any

from fuzz.watch import cases, tell

from nookwright.ground import tolerances
from nookwright.module.choice import module_of
from nookwright.parts.family import examples
from nookwright.solids.agreement import disagreements, gaps
from nookwright.solids.exact import exact
from nookwright.solids.mesh import build

if TYPE_CHECKING:
    from nookwright.parts.model import Example

TOLERANCES = (4 * tolerances.MESH, tolerances.MESH)
LIMIT_S = 600.0  # the longest takes 10 s of a quiet processor; with ``nice`` on a busy one, many times that
HEAD = f"{'':>4} {'size and part':<56} {'exact s':>8} {'mesh s':>7}  {'volume off':>17}  {'area off':>17}  verdict"


def family() -> tuple[Example, ...]:
    """All examples; the module is the one of the tests."""
    return examples(module_of(18.0, 6.0, 0.2, "for the comparison"))


def tried(example: Example) -> dict[str, Any]:
    """One example through both kernels; times are of the processor, the mesh's of the finer tolerance."""
    recipe = example.part.recipe
    times = [time.process_time()]
    true = exact(recipe)
    times.append(time.process_time())
    meshes = {}
    for tolerance in TOLERANCES:
        meshes[tolerance] = build(recipe, tolerance)
        times.append(time.process_time())
    wrong = [*disagreements(meshes, true)]
    if true.components != example.components or example.genus not in (None, true.genus):
        wrong.append(
            f"{true.components} and {true.genus}, not {example.components} and {example.genus} as the kind says"
        )
    found = gaps(meshes, true)
    return {
        "exact_s": times[1] - times[0],
        "mesh_s": times[-1] - times[-2],
        "volume": [gap.volume_mm3 for gap in found],
        "area": [gap.area_mm2 for gap in found],
        "verdict": "differ" if wrong else "agree",
        "words": "; ".join(wrong),
    }


def row(told: dict[str, Any], name: str) -> str:
    """A row of the table."""
    said = f"{told['verdict']} {told.get('words', '')}".rstrip()
    if "exact_s" not in told:
        return f"{told['case']:>4} {name:<56} {'':>8} {'':>7}  {'':>17}  {'':>17}  {said}"
    volume, area = (" ".join(f"{value:8.3f}" for value in told[key]) for key in ("volume", "area"))
    return f"{told['case']:>4} {name:<56} {told['exact_s']:8.2f} {told['mesh_s']:7.3f}  {volume}  {area}  {said}"


def main() -> int:
    """Go through the family; the exit code says whether the kernels agree on all of it."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--only", default="", help="parts whose size and name hold this text")
    parser.add_argument("--from", dest="first", type=int, help=argparse.SUPPRESS)
    parser.add_argument("--count", type=int, help=argparse.SUPPRESS)
    asked = parser.parse_args()
    chosen = [example for example in family() if asked.only in f"{example.size} {example.part.name}"]
    names = [f"{example.size} {example.part.name}" for example in chosen]
    if asked.first is not None:
        tell(asked.first, asked.count, lambda _: {}, lambda case: tried(chosen[case]))
        return 0
    print(HEAD)
    extra = [f"--only={asked.only}"]
    ended = []
    for told in cases("benchmarks.solids.agreement", 0, len(chosen), limit_s=LIMIT_S, extra=extra):
        ended.append(told)
        print(row(told, names[told["case"]]), flush=True)
    differ = [names[told["case"]] for told in ended if told["verdict"] != "agree"]
    seconds = [sum(told.get(key, 0.0) for told in ended) for key in ("exact_s", "mesh_s")]
    print(f"{len(ended)} parts: {seconds[0]:.1f} s exact, {seconds[1]:.1f} s as meshes of {TOLERANCES[-1]:g} mm")
    print(f"the kernels differ on {len(differ)}: {', '.join(differ)}" if differ else "the kernels agree on all of them")
    return 1 if differ or not ended else 0


if __name__ == "__main__":
    sys.exit(main())
