"""When a dear method pays, and the check value of two methods for one carcass.

Sources: break-even of two methods, `n = (F2 - F1) / (v1 - v2)`: engineering economics, the rule as any textbook has
it. The sums with 1,200 and 480 were worked out by hand. The check value (a three-drawer carcass with a divider and a
plinth, about thirty connectors, in a little under an hour by a jig and by a dedicated machine alike): common practice,
no source.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from storyrod.adapters.files import packaged_workshop, read_job
from storyrod.ledger import by_method, carcasses_to_pay, list_work
from storyrod.model.account import JOINERY, Comparison, total_minutes
from storyrod.model.job import JointClass
from storyrod.plan import Plan


@pytest.mark.parametrize(("saved_min", "carcasses"), [(5, 360), (10, 180), (20, 90)])
def test_1200_dearer_at_40_an_hour(saved_min: float, carcasses: float) -> None:
    assert carcasses_to_pay(0, saved_min * 40 / 60, 1200, 0) == pytest.approx(carcasses)


def test_connectors_a_tenth_dearer_put_it_off() -> None:
    """15 min at 40 an hour save 10, thirty connectors at 0.10 cost 3: 171.4 carcasses, and 120 with like connectors."""
    assert carcasses_to_pay(0, 10, 1200, 0) == pytest.approx(120)
    assert carcasses_to_pay(0, 10, 1200, 30 * 0.10) == pytest.approx(171.43, abs=0.005)


def test_480_at_1_60_a_joint_without_interest() -> None:
    assert carcasses_to_pay(0, 1.60, 480, 0) == pytest.approx(300)


def test_what_saves_nothing_never_pays() -> None:
    assert carcasses_to_pay(0, 5, 100, 5) is None
    assert carcasses_to_pay(0, 5, 100, 6) is None
    assert carcasses_to_pay(100, 6, 100, 5) == 0.0


@pytest.fixture(scope="module")
def job_file() -> Path:
    return Path(__file__).parents[2] / "examples" / "three-drawer-carcass.toml"


@pytest.fixture(scope="module")
def comparison(job_file: Path) -> Comparison:
    """The carcass by the cheap jig and by the dear cutter, with the shipped minutes, at 18 an hour and 12 a year."""
    shop = packaged_workshop()
    money = replace(shop.money, rate_cents_per_h=1800, carcasses_per_year=12)
    plan = Plan(read_job(job_file).job, replace(shop, money=money))
    return plan.compared(methods=("dowels", "loose tenons"))


def test_the_check_carcass_is_the_one_that_is_meant(job_file: Path) -> None:
    (case,) = Plan(read_job(job_file).job, packaged_workshop()).details.cases
    joints = [j for j in case.joints if j.kind.value in {"corner", "mid-panel", "plinth"}]

    assert len(case.built.drawers) == 3
    assert sum(p.body == "carcass" for p in case.panels) == 6
    assert len(joints) == 9
    assert 27 <= sum(len(j.stations) for j in joints) <= 33


def test_machining_and_assembly_take_45_to_65_minutes_by_both(comparison: Comparison) -> None:
    minutes = {r.candidate.method: r.minutes.usual for r in comparison.rows}

    assert set(minutes) == {"dowels", "loose tenons"}
    assert all(45 <= m <= 65 for m in minutes.values()), minutes
    assert abs(minutes["dowels"] - minutes["loose tenons"]) < 5


def test_so_they_do_by_the_figures_of_the_methods_without_a_run(job_file: Path) -> None:
    job, shop = read_job(job_file).job, packaged_workshop()
    for code in ("dowels", "loose tenons"):
        plan = Plan(by_method(job, code, [JointClass.CORNER, JointClass.MID_PANEL, JointClass.PLINTH]), shop)
        assert 45 <= total_minutes(list_work(plan.details, shop).of(*JOINERY)).usual <= 65


def test_the_dear_cutter_does_not_pay_and_it_is_said_where_it_would(comparison: Comparison) -> None:
    told = comparison.between("dowels", "loose tenons")

    assert told is not None
    assert (told.cheap, told.dear) == ("dowels", "loose tenons")
    assert told.outlay_cents == 105_000
    assert told.at is None
    assert told.per_year is None
    assert told.rate_cents_per_h is not None
    assert told.rate_cents_per_h > 50_000
    assert "Here it does not pay: at 12 carcasses a year it pays from" in told.text
    (many,) = [n for rate, n in told.at_rates if rate == 20_000]
    assert many is not None
    assert many > 12
