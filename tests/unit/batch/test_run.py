"""The merged set-ups: nothing of any job is missing, and no other order found changes in less."""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterator, Sequence
from dataclasses import replace

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.machining._minutes import change_minutes, minutes_of
from storyrod.machining._turns import Wants, turns_in
from storyrod.model.act import Act
from storyrod.model.machining import JigKind, SetUp
from storyrod.model.workshop import Jig
from storyrod.planning import Batch
from tests.unit.batch.conftest import batch_of, job_text

KEYHOLE = "one-part keyhole connector"


def cut(batch: Batch) -> list[SetUp]:
    return [s for s in batch.together.machining.set_ups if s.is_cut]


def test_every_cut_of_every_job_is_made_once(two: Batch) -> None:
    merged = sorted(str(f) for s in cut(two) for o in s.operations for f in o.features)
    alone = sorted(
        str(f) for p in two.plans for s in p.machining.set_ups if s.is_cut for o in s.operations for f in o.features
    )

    assert merged == alone
    assert two.together.run_check.faults == ()


def test_alike_set_ups_are_done_once_for_both_jobs(two: Batch) -> None:
    run = two.run

    assert run.set_ups < run.alone_set_ups
    assert run.changes_min < run.alone_changes_min
    assert run.saves_min == pytest.approx(sum(run.alone_min) - run.minutes)
    assert run.saves_min > 0
    assert run.jigs <= run.alone_jigs


@pytest.fixture(scope="module")
def mixed() -> Batch:
    """Three jobs by different methods, so that there is an order to be found."""
    by = ("dowels", "biscuits", KEYHOLE)
    return batch_of(*(job_text(m, width=400 + 50 * n).replace('"dowels"', f'"{m}"') for n, m in enumerate(by)))


def minutes_of_order(batch: Batch, order: Sequence[SetUp]) -> float:
    """Return the minutes of changing and of turning jigs over in an order, as the run counts them."""
    shop = batch.together.workshop
    jigs = {j.id: j for j in batch.together.machining.jigs}
    total, last = 0.0, None
    wants = []
    for one in order:
        assert one.setting is not None
        total += change_minutes(last, one.setting, shop)
        last = one.setting
        jig = one.setting.jig if one.setting.jig and jigs[one.setting.jig].kind is not JigKind.TEMPLATE else ""
        wants.append(Wants(jig, frozenset(one.hands)) if jig else Wants("", frozenset()))
    return total + minutes_of(shop, Act.CHANGE_JIG_OVER) * sum(t.count for t in turns_in(wants))


def found_minutes(batch: Batch) -> float:
    return minutes_of_order(batch, cut(batch))


def keeps(order: Sequence[SetUp], before: Sequence[tuple[str, str]]) -> bool:
    place = {s.id: n for n, s in enumerate(order)}
    return all(place[a] < place[b] for a, b in before if a in place and b in place)


def random_merges(batch: Batch, count: int) -> Iterator[list[SetUp]]:
    """Yield orders that keep precedence, by chance."""
    rng = random.Random(1)
    before = batch.together.machining.run.before
    for _ in range(count):
        left, order = cut(batch), []
        while left:
            ids = {s.id for s in left}
            free = [s for s in left if not any(b == s.id and a in ids for a, b in before)]
            step = rng.choice(free)
            order.append(step)
            left.remove(step)
        yield order


def test_no_random_merge_of_200_changes_in_less(mixed: Batch) -> None:
    found = found_minutes(mixed)
    trials = sum(s.trial_min for s in mixed.together.machining.run.steps)

    assert mixed.run.changes_min == pytest.approx(found + trials, abs=0.02)
    others = [minutes_of_order(mixed, order) for order in random_merges(mixed, 200)]
    assert found <= min(others) + 1e-6
    assert min(others) < max(others), "orders that all take the same would show nothing"


def test_small_batches_have_the_best_order_there_is(two: Batch) -> None:
    every = cut(two)
    before = two.together.machining.run.before
    assert 1 < len(every) <= 7

    best = min(minutes_of_order(two, o) for o in itertools.permutations(every) if keeps(o, before))
    assert found_minutes(two) == pytest.approx(best)
    assert two.run.is_best


def test_an_owned_jig_serves_all_jobs_first() -> None:
    """The jig that a first batch makes, written into the workshop file, is made by no later one."""
    jobs = [job_text(t).replace('"dowels"', f'"{KEYHOLE}"') for t in ("One", "Two")]
    first = batch_of(*jobs)
    made = [j for j in first.together.machining.jigs if not j.owned]
    assert made, "without a jig nothing would be shown"
    owned = tuple(
        Jig(
            code=f"jig-{n}",
            name=f"jig {n}",
            stations=j.stations,
            opening_length=j.opening[0],
            opening_width=j.opening[1],
            length=j.end,
            thickness=j.thickness,
            behind_stop=-j.start,
            near=-j.near,
            far=j.far,
            for_mid_panel=j.kind is JigKind.LINE,
        )
        for n, j in enumerate(made)
    )
    later = batch_of(*jobs, workshop=replace(packaged_workshop(), jigs=owned))

    assert (first.run.jigs, first.run.alone_jigs) == (2, 4)
    assert later.run.jigs == 0
