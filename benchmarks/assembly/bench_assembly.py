"""How long an order of assembly takes, by number of panels and way of joining, beside plain search where that ends.

Absolute times depend on the machine; states and splits do not. Plain search looks at every way of parting every group
(`tests/unit/assembly/brute.py`); it asks the same questions of other code and finds the same cost.
"""

from __future__ import annotations

import time
from dataclasses import replace

from benchmarks._timing import show_table, time_work
from storyrod import carcass, joinery
from storyrod.adapters.files import packaged_workshop
from storyrod.assembly import plan_assembly
from storyrod.assembly._body import make_body, make_ties
from storyrod.assembly._groups import Groups
from storyrod.assembly._order import preferred
from storyrod.assembly._parts import bodies_of
from storyrod.model.assembly import AssemblyPlan, BodyResult
from storyrod.model.detail import Joined
from storyrod.model.job import Back, BackKind, Case, MethodChoice, Opening, Plinth
from tests import builders
from tests.unit.assembly.brute import Brute, Passing

SHOP = packaged_workshop()
BACK = Back(kind=BackKind.REBATED, board="b6")
PLINTH = Plinth(height=80.0, setback=40.0)


def levels(count: int, first: float | None = None) -> Opening:
    """Return an opening cut by `count` shelves, the uppermost compartment `first` high if that is given."""
    return builders.rows(builders.opening(first), *(builders.opening() for _ in range(count)))


def whole(inside: Opening) -> Case:
    return builders.case(width=1800.0, height=1900.0, inside=inside, back=BACK, plinth=PLINTH)


CASES: dict[int, Case] = {
    4: builders.case(),
    8: whole(levels(2)),
    12: whole(builders.columns(levels(1, 400), levels(1, 500), levels(2, 600))),
    16: whole(builders.columns(levels(2, 500), levels(3, 630), levels(3, 250))),
}
LARGE: dict[int, Case] = {
    24: builders.case(
        width=2400.0,
        height=2200.0,
        inside=builders.columns(levels(5, 400), levels(6, 330), levels(5, 250)),
        back=BACK,
        plinth=PLINTH,
    ),
    40: builders.case(
        width=2400.0,
        height=2700.0,
        inside=builders.columns(levels(11, 260), levels(10, 330), levels(11, 200)),
        back=BACK,
        plinth=PLINTH,
    ),
}
"""Not by screws: shelves so close would be screwed through one divider from both sides at one place."""
BOOKCASE: dict[int, Case] = {n: builders.case(height=2400.0, inside=levels(n - 4)) for n in (8, 12, 16, 24, 40)}
BY = {"dowels": "dowels", "screws": "carcass screws", "keyholes": "one-part keyhole connector"}


def joined_by(case: Case, method: str) -> Joined:
    """Return a case joined by one method; a plinth by screws, since no keyhole plinth goes in."""
    plinth = "carcass screws" if method == BY["keyholes"] else method
    chosen = MethodChoice(corner=method, mid_panel=method, plinth=plinth)
    job = builders.job(case, methods=chosen)
    return joinery.join(carcass.build(job, SHOP), SHOP)


def of_body(plan: AssemblyPlan) -> BodyResult:
    return plan.cases[0].bodies[0]


def plain_search(joined: Joined) -> tuple[float, int]:
    """Return milliseconds of the processor and cost of plain search with the preferred locks."""
    (parts,) = bodies_of(joined, joined.cases[0], SHOP, ())
    groups = Groups(make_body(parts, {}), SHOP.handling)
    ties = make_ties(parts, {})
    ways = preferred(ties, {})
    began = time.process_time()
    passing = Passing(joined.cases[0], {m.code: m for m in SHOP.methods})
    locks = {t.joint.id: t.joint.lock for t in ties if t.joint.id in ways and t.joint.lock is not None}
    cost = Brute(passing, groups, locks).least(groups.body.everything)
    return (time.process_time() - began) * 1000, cost


def row(name: str, joined: Joined) -> list[object]:
    began = time.process_time()
    plan = plan_assembly(joined, SHOP)
    processor_ms = (time.process_time() - began) * 1000
    result = of_body(plan)
    repeats = 1 if result.panels > 16 else 3 if result.panels > 8 else 7
    timing = time_work("plan", lambda: plan_assembly(joined, SHOP), repeats=repeats, warm_up=0)
    plain: list[object] = ["-", "-", "-"]
    if result.panels <= 8:
        ms, cost = plain_search(joined)
        assert cost >= result.cost
        plain = [ms, cost, ms / timing.processor_ms]
    return [
        name,
        result.panels,
        timing.median_ms,
        processor_ms,
        result.states,
        result.splits,
        result.cost,
        result.bound,
        result.verdict.value,
        *plain,
    ]


def main() -> None:
    head = [
        "case",
        "panels",
        "ms",
        "processor ms",
        "states",
        "splits",
        "cost",
        "no order below",
        "verdict",
        "plain search, processor ms",
        "its cost",
        "times longer",
    ]
    rows = [row(f"cabinet, {by}", joined_by(case, code)) for by, code in BY.items() for case in CASES.values()]
    rows += [row(f"cabinet, {by}", joined_by(c, BY[by])) for by in ("dowels", "keyholes") for c in LARGE.values()]
    rows += [row(f"bookcase, {by}", joined_by(case, code)) for by, code in BY.items() for case in BOOKCASE.values()]
    show_table("one body, planned as far as the work allowed goes", head, rows)

    once = joined_by(CASES[8], BY["dowels"])
    many = replace(
        once,
        cases=tuple(replace(c, built=replace(c.built, case=replace(c.built.case, count=100))) for c in once.cases),
    )
    single = time_work("one case", lambda: plan_assembly(once, SHOP))
    hundred = time_work("the same case a hundred times", lambda: plan_assembly(many, SHOP))
    show_table(
        "a job of 100 cases, planned once for each distinct case",
        ["job", "ms", "processor ms", "times one case, by processor time"],
        [[t.name, t.median_ms, t.processor_ms, t.work_ratio_to(single)] for t in (single, hundred)],
    )


if __name__ == "__main__":
    main()
