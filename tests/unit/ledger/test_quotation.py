"""The quotation: what a customer is sent adds up and holds nothing from inside; without a price it is refused."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest
from pypdf import PdfReader

from storyrod.adapters.files import job_from_text, job_to_toml, read_job, workshop_from_text
from storyrod.adapters.packet import make_quotation
from storyrod.faults import JobError
from storyrod.model.account import show_money
from storyrod.model.job import Edging, Finish, HandHold, HandHoldKind, Job
from storyrod.model.workshop import Quoting, TaxKind, Workshop
from storyrod.planning import Plan
from storyrod.telling.quotation import quotation_faults, quotation_of
from tests.places import EXAMPLES

OURS = Quoting(
    maker="The shed behind the rehearsal room",
    address="12 Chapel Lane\nUpper Measure",
    tax=TaxKind.ADDED,
    tax_name="VAT",
    tax_rate=0.2,
    valid_days=14,
    terms="Half is paid on order.\nThe rest on delivery.",
)


def planned(job: Job, shop: Workshop) -> Plan:
    plan = Plan(job, shop)
    return plan.with_sheets(plan.sheets_costed)


@cache
def priced() -> Plan:
    """Return a plan of which everything has a price: three hymn-book units with an oil finish."""
    read = read_job(EXAMPLES / "hymn-book-unit.toml")
    money = replace(read.workshop.money, overhead_share=0.25, margin_share=0.15)
    finish = Finish(name="clear oil", coats=2, covers_m2=10.0, tin_l=1.0, price_cents=2500)
    job = replace(read.job, customer="The choir's committee", number="2026-7", finish=finish)
    tape = Edging(code="tape", name="birch tape", thickness=0.5, price_cents_per_m=55)
    boards = tuple(replace(b, edging="tape") if b.code == "birch18" else b for b in job.boards)
    job = replace(job, boards=boards, edgings=(tape,), cases=(replace(job.cases[0], count=3, edged=True),))
    return planned(job, replace(read.workshop, money=money, quotation=OURS))


def test_the_quotation_adds_up_with_its_tax() -> None:
    plan = priced()
    told, account = quotation_of(plan), plan.account

    assert quotation_faults(account) == ()
    assert sum(round(x.count * float(x.each.replace(",", "")) * 100) for x in told.lines) == account.price_cents
    net, tax, gross = (round(float(m.replace(",", "")) * 100) for _, m in told.sums)
    assert net == account.price_cents
    assert tax == (account.price_cents * 2 + 5) // 10
    assert gross == net + tax
    assert [name for name, _ in told.sums] == ["In all, without VAT", "VAT, 20 %", "To pay, with VAT"]


@pytest.mark.parametrize(
    ("kind", "words"), [(TaxKind.LEFT_OUT, "The price is without VAT."), (TaxKind.NONE, "No VAT is charged.")]
)
def test_what_is_said_of_tax_is_what_the_workshop_says(kind: TaxKind, words: str) -> None:
    plan = priced()
    other = Plan(plan.job, replace(plan.workshop, quotation=replace(OURS, tax=kind)), plan)
    told = quotation_of(other)

    assert told.tax == words
    assert told.sums == (("In all", show_money(plan.account.price_cents)),)


def test_the_paper_has_what_a_customer_asks_and_no_figure_from_inside() -> None:
    """Read back from the PDF: no minutes, rates, costs, margin, connectors or method, none of their sums, no bar."""
    plan = priced()
    pages = PdfReader(io.BytesIO(make_quotation(plan, date="30 November 2026"))).pages
    text = "\n".join(page.extract_text() for page in pages)

    for wanted in (
        "The choir's committee",
        "The shed behind the rehearsal room",
        "12 Chapel Lane",
        "No. 2026-7",
        "30 November 2026",
        "valid for 14 days",
        "clear oil, 2 coats",
        "birch plywood 18",
        "Half is paid on order.",
        show_money(plan.account.price_cents),
    ):
        assert wanted in text.replace("’", "'"), wanted
    inside = ("minute", "margin", "cost", "labour", "hour", "overhead", "dowel", "jig", "written off", "connector")
    assert [word for word in (*inside, "check the bar", plan.version) if word in text.lower()] == []
    account = plan.account
    sums = {show_money(x.cents) for x in account.lines} | {show_money(account.cost_cents)}
    shown = set(re.findall(r"\d[\d,]*\.\d\d", text))
    assert shown & (sums - {show_money(account.price_cents)}) == set()


def _no_sheet(plan: Plan) -> Plan:
    boards = [replace(b, sheets=tuple(replace(s, price_cents=None) for s in b.sheets)) for b in plan.job.boards]
    return planned(replace(plan.job, boards=(boards[0], *plan.job.boards[1:])), plan.workshop)


def _no_edging(plan: Plan) -> Plan:
    tape = replace(plan.job.edgings[0], price_cents_per_m=None)
    return planned(replace(plan.job, edgings=(tape,)), plan.workshop)


def _no_item(item: str) -> Callable[[Plan], Plan]:
    def without(plan: Plan) -> Plan:
        prices = tuple(p for p in plan.workshop.prices if p.item != item)
        return planned(plan.job, replace(plan.workshop, prices=prices))

    return without


def _no_hinge(plan: Plan) -> Plan:
    hinges = tuple(replace(h, price_cents=None) for h in plan.workshop.hinges)
    return planned(plan.job, replace(plan.workshop, hinges=hinges))


def _no_rate(plan: Plan) -> Plan:
    return planned(plan.job, replace(plan.workshop, money=replace(plan.workshop.money, rate_cents_per_h=0)))


def _no_handle(plan: Plan) -> Plan:
    case = plan.job.cases[0]
    fronts = replace(case.fronts, hand_hold=HandHold(kind=HandHoldKind.NONE))
    return planned(replace(plan.job, cases=(replace(case, fronts=fronts),)), plan.workshop)


def _no_finish(plan: Plan) -> Plan:
    assert plan.job.finish is not None
    return planned(replace(plan.job, finish=replace(plan.job.finish, price_cents=None)), plan.workshop)


@pytest.mark.parametrize(
    ("without", "field", "named"),
    [
        (_no_sheet, "boards.birch18.sheets", "birch plywood 18"),
        (_no_edging, "edgings.tape.price_per_m", "birch tape"),
        (_no_item("dowel 8 x 35"), "prices.dowel 8 x 35", "some fittings"),
        (_no_item("glue"), "prices.glue", "some fittings"),
        (_no_hinge, "hinges.cup hinge.price", "some fittings"),
        (_no_handle, "prices.handle", "handles"),
        (_no_finish, "finish.price", "clear oil"),
        (_no_rate, "money.rate_per_hour", "the work itself"),
    ],
)
def test_it_is_refused_where_anything_has_no_price_and_without_says_what_it_leaves_out(
    without: Callable[[Plan], Plan], field: str, named: str
) -> None:
    plan = without(priced())
    with pytest.raises(JobError) as refused:
        make_quotation(plan)
    assert [f.field for f in refused.value.faults] == [field]
    assert all(f.code == "no-price" and f.found.startswith("no price for ") for f in refused.value.faults)

    assert quotation_of(plan).without == f"This price is without {named}."
    pdf = make_quotation(plan, quote_without=True)
    assert f"without {named}." in " ".join(PdfReader(io.BytesIO(pdf)).pages[0].extract_text().split())


@cache
def chest() -> Plan:
    """Return a plan with drawers, cams, dowels, biscuits and wall fixings, of which everything has a price."""
    read = read_job(EXAMPLES / "percussion-chest.toml")
    return Plan(read.job, replace(read.workshop, money=replace(read.workshop.money, rate_cents_per_h=4000)))


def test_it_is_refused_for_each_thing_bought_whose_price_is_gone_by_its_own_field() -> None:
    """Every connector, screw, bracket, plug and the glue, one by one, then all at once: eleven of them."""
    plan = chest()
    assert quotation_faults(plan.account) == ()
    refused = []
    for price in plan.workshop.prices:
        shop = replace(plan.workshop, prices=tuple(p for p in plan.workshop.prices if p is not price))
        refused += [f.field for f in quotation_faults(Plan(plan.job, shop, plan).account)]
    bought = {b.name for b in plan.account.to_buy if b.cents is not None}
    own = {p.item for p in plan.workshop.prices}

    assert {f"prices.{name}" for name in bought & own} <= set(refused)
    assert len(refused) == len(set(refused)) == 11
    assert {f.field for f in quotation_faults(Plan(plan.job, replace(plan.workshop, prices=()), plan).account)} == set(
        refused
    )


def test_it_is_refused_for_runners_without_a_price() -> None:
    plan = chest()
    shop = replace(plan.workshop, runners=tuple(replace(r, price_cents=None) for r in plan.workshop.runners))

    (fault,) = quotation_faults(Plan(plan.job, shop, plan).account)
    assert fault.field.startswith("runners.")
    assert "runner" in fault.found


def test_finish_is_bought_by_the_tin_and_takes_its_minutes() -> None:
    """By hand: both faces and all edges of bare boards, two coats at 10 m2 a litre, in tins of a litre at 25.00."""
    plan = priced()
    area = sum(
        2 * (p.length * p.width + (p.length + p.width) * p.thickness) / 1e6 for p in plan.details.cases[0].panels
    )
    (oil,) = (b for b in plan.account.to_buy if b.name == "clear oil")
    coats = [i for i in plan.account.work.items if i.act.startswith("put on a coat")]

    assert oil.uses == pytest.approx(3 * area * 2 / 10)
    assert oil.packs == -(-oil.uses // 1)
    assert oil.cents == oil.packs * 2500
    assert sum(i.count * i.copies for i in coats) == pytest.approx(3 * area * 2)


def test_shares_are_read_as_percentages_and_what_is_written_is_read_again() -> None:
    shop = workshop_from_text('[money]\nmargin_share = "12,5 %"\noverhead_share = 0.3\n', name="w.toml")
    assert (shop.money.margin_share, shop.money.overhead_share) == (0.125, 0.3)
    with pytest.raises(JobError, match="which is 1500 %"):
        workshop_from_text("[money]\nmargin_share = 15\n", name="w.toml")
    with pytest.raises(JobError, match="0 to 500 %"):
        workshop_from_text('[money]\nmargin_share = "a lot"\n', name="w.toml")
    job = priced().job
    assert job_from_text(job_to_toml(job), name="j.toml").job.finish == job.finish
