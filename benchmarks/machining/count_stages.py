"""Which steps of the run-order search real work uses: counted over batches drawn from the examples.

`python -m benchmarks.machining.count_stages [BATCHES] [SEED]`. A batch is one to ten cases of the examples made
together, each of its own size and some of other methods and counts, in the packaged workshop. Counted is how often
each step of the search is come to, how often it finds a cheaper order, and how often it is the one that proves it.
"""

from __future__ import annotations

import random
import sys
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

from benchmarks._needs import ROOT
from benchmarks._timing import show_table
from storyrod.adapters.files import read_job
from storyrod.faults import JobError
from storyrod.machining import _order
from storyrod.model.job import Job, JointClass, Spread
from storyrod.planning import Plan

EXAMPLES = sorted(p for p in (ROOT / "examples").glob("*.toml") if "workshop" not in p.name)
METHODS = {
    JointClass.CORNER: ("dowels", "biscuits", "screws", "one-part keyhole connector", "rebate"),
    JointClass.MID_PANEL: ("dowels", "biscuits", "housing", "screws", "one-part keyhole connector"),
}


def batch(rng: random.Random) -> Job:
    """Return one to ten cases of one example, each of its own size, some of other methods, some made several times."""
    job = read_job(rng.choice(EXAMPLES)).job
    cases = []
    for n in range(rng.choice((1, 1, 2, 3, 4, 6, 8, 10))):
        case = rng.choice(job.cases)
        by = {"width": rng.uniform(0.8, 1.3), "depth": rng.uniform(0.9, 1.3), "height": rng.uniform(0.9, 1.3)}
        sizes = {name: round(getattr(case, name) * factor) for name, factor in by.items()}
        chosen = {k.name.lower(): rng.choice(m) for k, m in METHODS.items()} if rng.random() < 0.6 else {}
        methods = replace(case.methods or job.methods, **chosen)
        count = rng.choice((1, 1, 1, 2, 5))
        cases.append(replace(case, code=f"C{n}", field=f"cases[{n}]", fits=None, methods=methods, count=count, **sizes))
    return replace(job, cases=tuple(cases), overrides=(), spread=rng.choice(tuple(Spread)))


COME_TO: Counter[str] = Counter()
BETTER: Counter[str] = Counter()
PROVED: Counter[str] = Counter()


def _noted(name: str, search: Callable[..., Any]) -> Callable[..., Any]:
    """Return a step of the search that is counted; it takes the problem, and in a later step the best order so far."""

    def run(problem: Any, *words: Any) -> Any:  # noqa: ANN401 - any step's own words
        COME_TO[name] += 1
        found = search(problem, *words)
        if words and found is not None:
            BETTER[name] += found.cost < words[0].cost
            PROVED[name] += found.proven
        return found

    return run


def main(words: Sequence[str]) -> int:
    """Print the table."""
    wanted, seed = (int(w) for w in (*words, *("300", "1")[len(words) :]))
    for name, function in {"nearest, moved": "good_order", "exact states": "order_by_states"}.items():
        setattr(_order, function, _noted(name, getattr(_order, function)))
    rng, planned, nodes = random.Random(seed), 0, []
    ends: Counter[str] = Counter()
    while planned < wanted:
        try:
            run = Plan(batch(rng), SHOP).machining.run
        except JobError:
            continue
        planned += 1
        nodes.append(len(run.steps))
        ends[f"{run.sureness.value}"] += 1
        if planned % 25 == 0:
            print(planned, dict(ends), dict(COME_TO), dict(BETTER), dict(PROVED), flush=True)
    nodes.sort()
    print(
        f"{wanted} batches of {nodes[0]} to {nodes[-1]} set-ups, {nodes[len(nodes) // 2]} in the middle: {dict(ends)}"
    )
    rows = [[step, COME_TO[step], BETTER[step], PROVED[step]] for step in COME_TO]
    show_table("Steps of the search", ["step", "come to", "found cheaper", "proved best"], rows)
    return 0


SHOP = read_job(EXAMPLES[0]).workshop

if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
