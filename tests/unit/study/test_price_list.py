"""A price list: rounded up as asked, laid out for a customer, and refused where something has no price."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pypdf
import pytest

import storyrod
from storyrod.adapters.study import run_study
from storyrod.faults import JobError
from storyrod.model.study import Pricing
from storyrod.planning import Plan
from storyrod.telling.price_list import Priced, list_price, price_list_of
from tests.places import ROOT
from tests.unit.study.shared import JOB, STUDY, variants_in

LIST = (
    STUDY.replace('"biscuits", ', "").replace("from = 400\nto = 700\nstep = 100", "values = [500, 400]")
    + '\n[price_list]\ntitle = "Peg racks"\nround_to = 2.5\nsurcharge = "10 %"\nvalid = "31 March 2027"\n'
)


@pytest.fixture(scope="module")
def plan() -> Plan:
    return storyrod.plan(ROOT / "examples" / "hymn-book-unit.toml")


@pytest.mark.parametrize(
    ("cents", "pricing", "told"),
    [
        (10_001, Pricing(), 10_100),
        (10_000, Pricing(), 10_000),
        (10_000, Pricing(surcharge=0.1, round_to=500), 11_000),
        (10_010, Pricing(surcharge=0.1, round_to=500), 11_500),
        (3_333, Pricing(round_to=1), 3_333),
        (3_333, Pricing(round_to=0), 3_333),
    ],
)
def test_prices_are_rounded_up_after_the_surcharge(cents: int, pricing: Pricing, told: int) -> None:
    assert list_price(cents, pricing) == told


def test_two_things_make_a_table_of_one_by_the_other(plan: Plan) -> None:
    priced = [
        Priced(values=(900.0, "oak"), cents=20_001),
        Priced(values=(800.0, "oak"), cents=10_000),
        Priced(values=(800.0, "birch"), cents=9_000, is_open=True),
        Priced(values=(900.0, "birch"), cents=None),
    ]
    told = price_list_of(plan, Pricing(valid="Easter"), ("width", "board"), priced)

    assert told.heads == ("width", "board oak", "board birch")
    assert told.rows == (("800", "100.00", "on request"), ("900", "201.00", "\u2013"))
    assert "These prices hold until Easter." in told.sentences
    assert any("not made in this size" in words for words in told.sentences)


def test_one_or_three_things_are_a_list(plan: Plan) -> None:
    told = price_list_of(plan, Pricing(), ("width",), [Priced(values=(800,), cents=10_000)])

    assert (told.heads, told.rows) == (("width", "EUR"), (("800", "100.00"),))


def test_a_study_writes_its_price_list(tmp_path: Path) -> None:
    shop = "[money]\nrate_per_hour = 40\n"
    (tmp_path / "shop.toml").write_text(shop, encoding="utf-8")
    variants = variants_in(tmp_path, LIST, 'workshop = "shop.toml"\n' + JOB)

    run_study(variants, tmp_path / "out")

    text = (tmp_path / "out" / "price-list.csv").read_text(encoding="utf-8")
    heads, *rows = csv.reader(io.StringIO(text))
    assert heads == ["width", "corner dowels", "corner glue and hope"]
    assert [(r[0], r[2]) for r in rows] == [("400", "\u2013"), ("500", "\u2013")]
    prices = [float(r[1]) for r in rows]
    assert prices == sorted(prices)
    assert all(p % 2.5 == 0 for p in prices)
    page = pypdf.PdfReader(tmp_path / "out" / "price-list.pdf").pages[0].extract_text()
    for words in ("Peg racks", "31 March 2027", f"{prices[0]:.2f}"):
        assert words in page


def test_what_a_customer_would_get_for_nothing_is_told_before_it_begins(tmp_path: Path) -> None:
    with pytest.raises(JobError) as caught:
        run_study(variants_in(tmp_path, LIST, JOB.replace(", price = 30.00", "")), tmp_path / "out")

    assert {f.code for f in caught.value.faults} == {"no-price"}
    assert not (tmp_path / "out").exists()
