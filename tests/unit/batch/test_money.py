"""Who pays what, and the one buying list: to the cent, in whole packs, each line traced to where it goes."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.model.account import CostKind
from storyrod.model.batch import BoughtTogether
from storyrod.model.buying import BuyKind
from storyrod.model.workshop import Price, Workshop
from storyrod.planning import Batch
from storyrod.telling.batch import for_jobs, supplier_groups
from tests.unit.batch.conftest import batch_of, job_text

DOWEL = "dowel 8 x 35"
FINISH = '\n[finish]\nname = "hard-wax oil"\nprice = 30\ntin = 0.75\ncoats = 2\ncovers_m2 = 20\n'


def line(batch: Batch, item: str) -> BoughtTogether:
    return next(b for b in batch.bought if b.line.item == item)


def shop_with(**more: object) -> Workshop:
    """The packaged workshop with another price of dowels."""
    shop = packaged_workshop()
    price = replace(Price(item=DOWEL, pack=25, price_cents=310), **more)  # type: ignore[arg-type]
    return replace(shop, prices=(*(p for p in shop.prices if p.item != DOWEL), price))


@pytest.fixture(scope="module")
def edged() -> Batch:
    """Two jobs with edging, a back, and dowels sold by 25."""
    tape = '[edgings.tape]\nname = "tape"\nthickness = 0.6\nprice_per_m = 0.55\nroll = 10\n'
    one, two = (
        job_text(t)
        .replace("thickness = 18\n", 'thickness = 18\nedging = "tape"\n')
        .replace("[[cases]]", f"{tape}\n[[cases]]")
        for t in ("One", "Two")
    )
    return batch_of(one, two, workshop=shop_with(supplier="Dowel shop", on_hand=3))


def test_every_sum_adds_up_to_the_cent(edged: Batch) -> None:
    account = edged.together.account

    assert all(sum(c.by_job) == c.cents for c in edged.costs)
    assert sum(c.cents for c in edged.costs) == account.cash_cents
    assert sum(b.line.cents or 0 for b in edged.bought) == account.pay_cents + account.kept_cents
    sheets = [c for c in edged.costs if c.kind is CostKind.SHEETS]
    assert [c.cents for c in sheets] == [b.cents for b in edged.boards]


def test_packs_are_counted_once_for_all(edged: Batch) -> None:
    bought = line(edged, DOWEL).line
    alone = [next(b for b in p.account.to_buy if b.item == DOWEL) for p in edged.plans]

    assert bought.uses == sum(b.uses for b in alone)
    assert bought.spare == math.ceil(bought.uses * 0.05)
    assert bought.packs == math.ceil((bought.uses + bought.spare - 3) / 25)
    assert bought.packs <= sum(b.packs for b in alone)


def test_edging_is_bought_by_the_roll(edged: Batch) -> None:
    tape = line(edged, "tape").line

    assert tape.pack == 10
    assert tape.packs == math.ceil(tape.need / 10)
    assert tape.cents == tape.packs * 550
    assert next(r.buy for g in supplier_groups(edged) for r, b in g.rows if b.line is tape).endswith("of 10 m")


def test_every_amount_is_traced_to_joints_edges_and_fittings(edged: Batch) -> None:
    for one in edged.bought:
        told = math.fsum(t.amount for t in one.traces)
        match one.line.kind:
            case BuyKind.CONNECTORS | BuyKind.FITTINGS | BuyKind.EDGING | BuyKind.HANDLES | BuyKind.WALL:
                assert told == pytest.approx(one.line.uses), one.line.name
            case BuyKind.GLUE:
                assert math.ceil(told - 1e-9) == one.line.uses
            case BuyKind.SHEETS:
                assert {t.about for t in one.traces} == {p.id for p in edged.together.parts}
    joints = {t.about for t in line(edged, DOWEL).traces}
    assert joints == {str(j.id) for c in edged.together.details.cases for j in c.joints if j.connectors}


def test_the_list_is_grouped_by_supplier(edged: Batch) -> None:
    groups = {g.title: g for g in supplier_groups(edged)}

    assert next(iter(groups)) == "Boards and edging"
    assert [b.line.item for _, b in groups["Dowel shop"].rows] == [DOWEL]
    assert for_jobs(edged, line(edged, DOWEL)) == "1, 2"


def test_the_least_order_is_heeded() -> None:
    batch = batch_of(job_text("One"), job_text("Two"), workshop=shop_with(pack=100, least=4))

    assert line(batch, DOWEL).line.packs == 4
    assert line(batch, DOWEL).line.cents == 4 * 310


def test_what_the_shelf_has_enough_of_is_not_bought() -> None:
    batch = batch_of(job_text("One"), job_text("Two"), workshop=shop_with(on_hand=1000, least=4))

    assert line(batch, DOWEL).line.packs == 0
    assert line(batch, DOWEL).line.is_here


def test_one_tin_serves_jobs_of_one_finish_and_no_others() -> None:
    other = FINISH.replace("hard-wax oil", "varnish")
    bare = job_text("One", more="")
    with_finish = [f"{bare}{FINISH}", job_text("Two") + FINISH, job_text("Three") + other, job_text("Four")]
    batch = batch_of(*with_finish)
    tins = {b.line.name: b.line for b in batch.bought if b.line.kind is BuyKind.FINISH}
    paid = {c.what: c for c in batch.costs if c.kind is CostKind.FINISH}
    alone = [sum(b.uses for b in p.account.to_buy if b.kind is BuyKind.FINISH) for p in batch.plans]

    assert set(tins) == {"hard-wax oil", "varnish"}
    assert tins["hard-wax oil"].uses == pytest.approx(alone[0] + alone[1])
    assert tins["varnish"].uses == pytest.approx(alone[2])
    assert paid["varnish"].by_job == (0, 0, paid["varnish"].cents, 0)
    assert paid["hard-wax oil"].by_job[2:] == (0, 0)
    assert sum(paid["hard-wax oil"].by_job) == paid["hard-wax oil"].cents
