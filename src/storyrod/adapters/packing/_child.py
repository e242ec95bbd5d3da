"""The child's end: reads one question, writes one JSON line for each better plan.

Settings that worked, measured: whole numbers with kerf and trim folded in, three stages of cuts, either way first;
for one sheet size the quick objective first, then the fewest sheets; for several sizes the least cost. The library
may work out a bound before it has any plan, throw on odd tasks, or return nothing when time runs out: then
nothing is written, and our own engine goes on alone.
"""

from __future__ import annotations

import contextlib
import json
import os
import sys
import time
from collections.abc import Iterator
from typing import Any

STAGES = 3


def main() -> None:
    """Answer the question on standard input."""
    question = json.loads(sys.stdin.readline())
    out = _own_output()
    end = time.monotonic() + float(question["limit_s"])
    from packingsolver import Objective

    several = len(question["sheets"]) > 1
    goals = [Objective.VariableSizedBinPacking] if several else [Objective.BinPackingCuttingCost, Objective.BinPacking]
    for n, goal in enumerate(goals):
        left = end - time.monotonic()
        with contextlib.suppress(Exception):
            _solve(question, goal, left if n == len(goals) - 1 else min(left, 1.0), out)


def _own_output() -> Any:  # noqa: ANN401 - a text stream
    """Keep our lines apart from whatever the library prints."""
    out = os.fdopen(os.dup(1), "w", encoding="utf-8")
    os.dup2(2, 1)
    return out


def _solve(question: dict[str, Any], goal: Any, limit_s: float, out: Any) -> None:  # noqa: ANN401 - untyped library
    import packingsolver.rectangleguillotine as library

    builder = library.InstanceBuilder()
    builder.set_objective(goal)
    builder.set_number_of_stages(STAGES)
    builder.set_first_stage_orientation(library.CutOrientation.Any)
    for w, h, cost, copies in question["sheets"]:
        builder.add_bin_type(w, h, cost=float(cost), copies=copies)
    for w, h, copies, may_turn in question["parts"]:
        builder.add_item_type(w, h, copies=copies, oriented=not may_turn)
    dials = library.OptimizeParameters()
    dials.time_limit = limit_s
    dials.verbosity_level = 0

    def tell(output: Any) -> None:  # noqa: ANN401
        solution = output.solution() if callable(output.solution) else output.solution
        if solution.full():
            out.write(json.dumps(list(_sheets(solution))) + "\n")
            out.flush()

    dials.new_solution_callback = tell
    tell(library.optimize(builder.build(), dials))


def _sheets(solution: Any) -> Iterator[tuple[int, list[tuple[int, int, int, int, int]]]]:  # noqa: ANN401
    for n in range(solution.number_of_different_bins()):
        sheet = solution.bin(n)
        parts = [(p.item_type_id, p.l, p.b, p.r - p.l, p.t - p.b) for p in _value(sheet.nodes) if _is_part(p)]
        for _ in range(_value(sheet.copies)):
            yield _value(sheet.bin_type_id), parts


def _is_part(node: Any) -> bool:  # noqa: ANN401
    """Tell whether a node of the library's tree is a part: a leaf with a kind, neither strip nor rest."""
    return node.item_type_id >= 0 and not _value(node.children)


def _value(thing: Any) -> Any:  # noqa: ANN401 - some names are methods in one release and plain in another
    return thing() if callable(thing) else thing


if __name__ == "__main__":
    main()
