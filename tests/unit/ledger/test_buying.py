"""What is bought: everything that cards, joints and steps use, with spares, and the same money in every view."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from functools import cache

import pytest
from hypothesis import given, reject, settings

from storyrod.adapters.files import packaged_workshop, read_job
from storyrod.adapters.output import buying_csv
from storyrod.adapters.packet._buying import buying_section
from storyrod.faults import JobError
from storyrod.ledger import account, check_buying
from storyrod.model.account import Account, show_money
from storyrod.model.buying import CLEAT_SCREW, HANDLE, BuyKind, ToBuy, bought_cents
from storyrod.model.hung import Hung, HungBy, WallKind
from storyrod.model.job import Back, BackKind, FrontKind, Fronts, Job, MethodChoice
from storyrod.model.tool import CutterKind
from storyrod.model.wall import WallFixing
from storyrod.model.workshop import Workshop
from storyrod.planning import Plan
from storyrod.telling.blocks import Table, Words
from storyrod.telling.buying import HERE, NO_PRICE, buying_list, buying_of, missing_words
from tests import builders
from tests.places import EXAMPLES
from tests.strategies import jobs

SHOP = packaged_workshop()
NAMES = sorted(p.stem for p in EXAMPLES.glob("*.toml") if "[[cases]]" in p.read_text(encoding="utf-8"))


@cache
def example(name: str) -> Plan:
    read = read_job(EXAMPLES / f"{name}.toml")
    plan = Plan(read.job, read.workshop)
    return plan.with_sheets(plan.sheets_costed)  # as many sheets at the same cost, sooner


def found(plan: Plan, listed: tuple[ToBuy, ...]) -> set[str]:
    """Return the items of which a list has too little or too much, or that nobody uses."""
    faults = check_buying(
        listed,
        plan.details,
        plan.workshop,
        run=plan.machining,
        assembly=plan.assembly,
        sheets=plan.sheets,
        walls=plan.walls,
    )
    return {f.field.removeprefix("buying list, ") for f in faults}


def money_agrees(told: Account) -> None:
    """Assert that what the job takes of each thing adds up to its cost, and what is paid to what is laid out."""
    used = [b.used_cents or 0 for b in told.to_buy if not b.kind.is_kept]
    assert sum(used) == told.cash_cents
    assert told.pay_cents == bought_cents(told.to_buy, kept=False)
    assert told.pay_cents + told.kept_cents == sum(b.cents or 0 for b in told.to_buy)
    for line in told.to_buy:
        assert line.bought + line.on_hand >= line.need - 1e-6, line
        assert (line.cents is None) == (line.used_cents is None) or line.kind.is_kept, line
    unpriced = {b.name for b in told.to_buy if b.cents is None and not b.kind.is_kept}
    assert unpriced == {m.name for m in told.missing if m.field.split(".")[0] not in {"money", "tools"}}


@pytest.mark.parametrize("name", NAMES)
def test_nothing_that_an_example_uses_is_missing_and_its_money_agrees(name: str) -> None:
    plan = example(name)

    assert plan.buying_faults == ()
    money_agrees(plan.account)


@settings(max_examples=4)
@given(job=jobs(SHOP))
def test_nothing_that_a_random_job_uses_is_missing(job: Job) -> None:
    plan = Plan(job, SHOP)
    try:
        plan.details, plan.machining, plan.assembly  # noqa: B018  # worked out when asked for
    except JobError:
        reject()
    told = account(plan.details, SHOP, run=plan.machining, walls=plan.walls)
    assert (
        check_buying(
            told.to_buy,
            plan.details,
            SHOP,
            run=plan.machining,
            assembly=plan.assembly,
            sheets=None,
            walls=plan.walls,
        )
        == ()
    )
    money_agrees(told)


def test_a_thing_left_out_or_miscounted_is_found() -> None:
    plan = example("percussion-chest")
    listed = plan.account.to_buy
    assert {b.kind for b in listed} >= {
        BuyKind.SHEETS,
        BuyKind.EDGING,
        BuyKind.CONNECTORS,
        BuyKind.FITTINGS,
        BuyKind.WALL,
        BuyKind.GLUE,
        BuyKind.JIGS,
        BuyKind.CUTTERS,
    }
    for n, line in enumerate(listed):
        rest = listed[:n] + listed[n + 1 :]
        assert line.item in found(plan, rest), f"{line.item} is missed when it is left out"
        assert line.item in found(
            plan, (*rest, replace(line, uses=line.uses - 1, spare=line.spare + 1))
        ) or line.kind in {
            BuyKind.GLUE,
            BuyKind.CUTTERS,
        }
        if line.packs:
            assert found(plan, (*rest, replace(line, packs=line.packs - 1))) == {line.item}
    extra = replace(listed[0], kind=BuyKind.FITTINGS, item="doorbell", name="doorbell")
    assert found(plan, (*listed, extra)) == {"doorbell"}


def listed(job: Job, shop: Workshop = SHOP) -> dict[str, ToBuy]:
    """Return what is bought for a job, by its names; no sheets laid out and no run of set-ups."""
    plan = Plan(replace(job, methods=MethodChoice(corner="dowels", mid_panel="dowels", back="screwed back")), shop)
    return {b.name: b for b in account(plan.details, shop, walls=plan.walls).to_buy}


def two_doors(kind: FrontKind) -> Job:
    """Return three cabinets with a pair of doors over a drawer, without hand holds, 720 wide inside 684."""
    inside = builders.rows(builders.doors(), builders.drawer(160.0))
    return builders.job(builders.case(width=720.0, count=3, inside=inside, fronts=Fronts(kind=kind)))


def test_hinges_are_told_by_how_far_the_door_lies_over_the_side_and_fronts_without_a_hold_get_handles() -> None:
    """A reveal of 1.5 leaves 16.5 of a side of 18 under an overlay door; an inset one lies over nothing."""
    over, inset = listed(two_doors(FrontKind.OVERLAY)), listed(two_doors(FrontKind.INSET))

    (hinge,) = (b for b in over.values() if b.item == "cup hinge")
    assert "for a door 16.5 mm over the side" in hinge.name
    assert hinge.uses == hinge.packs == 3 * 2 * 2
    assert any("for an inset door" in name for name in inset)
    (handle,) = (b for b in over.values() if b.item == HANDLE)
    assert (handle.uses, handle.spare, handle.cents) == (9, 0, None), "two doors and a drawer front, three times"


def test_a_case_on_cleats_is_kept_there_by_one_screw_that_does_not_reach_the_wall() -> None:
    """Through a back of 6 into a cleat of 18: 24 at the most, of the lengths kept 22."""
    hung = Hung(top_at=2100.0, wall=WallKind.MASONRY, by=HungBy.CLEATS)
    one = builders.case(hung=hung, back=Back(kind=BackKind.GROOVED, board="b6"))
    bought = listed(builders.job(one))

    stop = bought["pan-head screw 4 x 22, that stops a case lifting off its cleat"]
    assert (stop.item, stop.uses) == (CLEAT_SCREW, 1)


def test_one_item_wanted_for_two_purposes_is_bought_in_one_pack() -> None:
    """A bracket takes the same screws as a drawer's front where these are as short: one pack, one spare count."""
    shop = replace(
        SHOP, screws=tuple(replace(s, lengths=(18.0,)) if s.code == "pan-head screw 4" else s for s in SHOP.screws)
    )
    job = two_doors(FrontKind.INSET)
    boards = (replace(job.boards[0], thickness=22.0, measured=22.0), *job.boards[1:])
    thin = replace(job.cases[0], drawers=replace(job.cases[0].drawers, board="b12"), count=1)
    plan = Plan(
        replace(
            job,
            boards=boards,
            cases=(thin,),
            methods=MethodChoice(corner="dowels", mid_panel="dowels", drawer_box="glued butt", back="screwed back"),
        ),
        shop,
    )
    told = account(plan.details, shop, walls=plan.walls)
    lines = [b for b in told.to_buy if b.item == "pan-head screw 4 x 18"]

    assert len(lines) == 1
    front = sum(
        f.screws.count for f in plan.details.cases[0].built.fixings if f.screws and f.screws.item == lines[0].item
    )
    assert front > 0
    wall = plan.walls["A"]
    assert isinstance(wall, WallFixing)
    assert lines[0].uses == front + 2 * len(wall.places)
    assert lines[0].packs == 1


def test_a_drill_that_is_not_here_is_on_the_list_and_one_that_is_is_not() -> None:
    """A router's jig wants the hole for its bush, 17 mm: the shed behind the rehearsal room has no such bit."""
    plan = example("score-shelves")
    without = {b.size for b in plan.account.to_buy if b.kind is BuyKind.CUTTERS}
    assert without == {"17 mm"}
    drill = replace(
        next(c for c in plan.workshop.cutters if c.kind is CutterKind.DRILL), code="drill 17", diameter=17.0
    )
    shop = replace(plan.workshop, cutters=(*plan.workshop.cutters, drill))
    told = account(plan.details, shop, run=plan.machining, walls=plan.walls)
    assert [b for b in told.to_buy if b.kind is BuyKind.CUTTERS] == []


def test_the_sentences_that_make_a_jig_name_the_bits_that_are_looked_for() -> None:
    """Every bore that a jig's steps ask for is among its `bores`, and the other way round."""
    for name in ("low-units", "rehearsal-room", "percussion-chest", "robe-cupboard"):
        for jig in example(name).machining.jigs:
            asked = {
                values[0]
                for step in jig.steps
                for gap, values in step.lengths
                if ("Bore" in step.words and f"ore {{{gap}}}" in step.words)
                or f"hole of {{{gap}}}" in step.words
                or f"holes of {{{gap}}}" in step.words
                or f"Drill {{{gap}}}" in step.words
            }
            assert asked == set(jig.bores), (name, jig.name)


def test_csv_and_paper_have_every_thing_once_and_their_sums_are_the_account_s() -> None:
    plan = example("low-units")
    told = plan.account
    rows = list(csv.DictReader(io.StringIO(buying_csv(plan))))
    (of_job, to_pay, _, kept, _) = buying_section(plan).blocks[1:]

    assert len(rows) == len(told.to_buy)
    assert sum(round(float(r["money"]) * 100) for r in rows if r["money"]) == told.pay_cents + told.kept_cents
    assert isinstance(of_job, Table)
    assert isinstance(kept, Table)
    assert len(of_job.rows) + len(kept.rows) == len(rows)
    printed = [r[4] for r in of_job.rows if r[4]]
    assert sum(round(float(m.replace(",", "")) * 100) for m in printed) == told.pay_cents
    assert isinstance(to_pay, Words)
    assert to_pay.text == f"To pay: {show_money(told.pay_cents, 'EUR')}."
    here = {r[0] for r in of_job.rows if r[5] == HERE}
    assert here == {"offcut R1: birch plywood 18, 900 × 420 mm", "dowel 6 x 25"}


def test_a_list_with_something_unpriced_says_at_least_and_names_it() -> None:
    plan = example("first-box")
    told = buying_of(plan.account)

    assert told.pay.startswith("at least ")
    assert [m.field for m in told.lacks] == ["boards.birch18.sheets"]
    assert missing_words(told) == ("No price is set for 18 mm plywood, 2440 × 1220 mm: the total leaves it out.")
    assert [r.money for g in told.groups for r in g.rows if r.line.kind is BuyKind.SHEETS] == [NO_PRICE]


def test_a_list_that_lacks_something_is_not_told() -> None:
    plan = example("first-box")
    rest = tuple(b for b in plan.account.to_buy if b.item != "dowel 8 x 35")
    short = plan.with_result("account", replace(plan.account, to_buy=rest))

    with pytest.raises(JobError, match="dowel 8 x 35"):
        buying_list(short)


def test_boards_of_one_name_are_told_apart_by_the_thickness_they_are_sold_as() -> None:
    """A shop cannot know which birch plywood; a name that says its thickness is left as it is."""
    names = {b.name for b in example("sheet-music-counter").account.to_buy if b.kind is BuyKind.SHEETS}
    assert names == {"Birch plywood, 18 mm", "Birch plywood, 6 mm", "beech, American, glued up, 27 mm"}
    inches = {b.name for b in example("music-stand-shelf-inches").account.to_buy if b.kind is BuyKind.SHEETS}
    assert inches == {"3/4 in maple plywood", "1/4 in maple plywood"}
