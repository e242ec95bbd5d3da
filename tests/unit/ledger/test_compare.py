"""The comparison: every method that fits, those that do not with the reason, what-ifs, and the command."""

from __future__ import annotations

import argparse
import json
from dataclasses import replace
from pathlib import Path

import pytest

from storyrod import carcass
from storyrod.adapters.commands._compare import add
from storyrod.adapters.files import packaged_workshop, read_job
from storyrod.adapters.log import open_log
from storyrod.faults import JobError
from storyrod.ledger import by_method, compare
from storyrod.model.comparison import Comparison, WorkedOut
from storyrod.model.job import Job, JointClass, MethodChoice
from storyrod.model.machining import JigKind
from storyrod.model.method import Work
from storyrod.model.workshop import Tool, ToolKind, Workshop
from storyrod.planning import Plan
from tests import builders
from tests.places import EXAMPLES
from tests.unit.ledger import small

ALL = [JointClass.CORNER, JointClass.MID_PANEL, JointClass.PLINTH]


def plain_work_out(job: Job, workshop: Workshop) -> WorkedOut:
    return WorkedOut(details=small.details(job, workshop))


@pytest.fixture(scope="module")
def comparison() -> Comparison:
    """A divided box by every packaged method, without runs of set-ups: quick, and enough for what is asked here."""
    job = builders.job(builders.case(inside=builders.columns(builders.opening(), builders.opening()), width=900.0))
    return compare(job, packaged_workshop(), plain_work_out)


def test_every_method_is_told_once_fitting_or_not(comparison: Comparison) -> None:
    told = [r.candidate.method for r in comparison.rows] + [c.method for c in comparison.misfits]

    assert sorted(told) == sorted(m.code for m in packaged_workshop().methods)
    assert all(c.why_not for c in comparison.misfits)
    assert comparison.own is not None
    assert comparison.own.candidate.method == "dowels"


def test_rows_are_in_order_of_money_and_every_pair_is_weighed(comparison: Comparison) -> None:
    money = [r.cost_cents for r in comparison.rows]
    n = len(money)

    assert money == sorted(money)
    assert len(comparison.break_evens) == n * (n - 1) // 2
    assert all(comparison.between(b.dear, b.cheap) is b for b in comparison.break_evens)


def test_a_method_that_is_not_for_corners_leaves_them_to_the_job_s_own(comparison: Comparison) -> None:
    housing = comparison.row("housing")

    assert housing is not None
    assert housing.candidate.keeps == ("corner joints stay as they are: it does not suit them",)


def test_only_tools_not_owned_are_laid_out(comparison: Comparison) -> None:
    tenons, dowels = comparison.row("loose tenons"), comparison.row("dowels")

    assert tenons is not None
    assert dowels is not None
    assert tenons.candidate.not_owned == ("loose-tenon cutter",)
    assert tenons.outlay_cents == 105_000
    assert dowels.outlay_cents == 0


def test_what_is_missing_is_told() -> None:
    """Neither owned nor priced; no cutter; not for carcass joints; too thick a board for its sizes."""
    methods = (
        small.method("pegs"),
        small.method("tenons", needs=("loose-tenon cutter",)),
        small.method("discs", needs=("disc cutter", "disc")),
        small.method("backs", classes=(JointClass.BACK,)),
        small.method("thin", sizes=(replace(small.method().sizes[0], low=3, high=10),)),
    )
    shop = small.shop(methods=methods)
    cutter = Tool(code="t", kind=ToolKind.LOOSE_TENON_CUTTER, name="cutter", owned=False)
    shop = replace(shop, tools=(*shop.tools, cutter))
    job = builders.job(methods=MethodChoice(corner="pegs", mid_panel="pegs", plinth="pegs"))

    told = {c.method: " ".join(c.why_not) for c in compare(job, shop, plain_work_out).misfits}

    assert set(told) == {"tenons", "discs", "backs", "thin"}
    assert "you do not own and which has no price" in told["tenons"]
    assert "disc cutter, and the workshop has none" in told["discs"]
    assert "only for: back" in told["backs"]
    assert "in a board of 18 mm" in told["thin"]


def test_a_job_that_mixes_methods_stands_beside_the_others_as_planned() -> None:
    shop = small.shop(methods=(small.method("pegs"), small.method("pins", work=Work(setup_min=1.0))))
    mixed = MethodChoice(corner="pegs", mid_panel="pins", plinth="pegs")
    job = builders.job(builders.case(inside=builders.columns(builders.opening(), builders.opening())), methods=mixed)
    told = compare(job, shop, plain_work_out)

    assert told.own is not None
    assert told.own.candidate.name == "as planned: pegs and pins"
    assert {r.candidate.method for r in told.rows} == {"as planned", "pegs", "pins"}


def test_single_joints_and_cases_of_their_own_follow_the_method() -> None:
    read = read_job(EXAMPLES / "low-units.toml")
    changed = by_method(read.job, "dowels", ALL)

    assert changed.methods.corner == "dowels"
    assert {c.methods.mid_panel for c in changed.cases if c.methods} == {"dowels"}
    assert changed.methods.drawer_box == read.job.methods.drawer_box


def test_the_carcass_that_is_shared_is_the_one_that_would_be_built() -> None:
    read = read_job(EXAMPLES / "low-units.toml")
    plan = Plan(read.job, read.workshop)
    for code in ("dowels", "loose tenons", "housing"):
        method = read.workshop.method(code)
        assert method is not None
        changed = by_method(read.job, code, [c for c in ALL if c in method.classes])

        assert plan.by_other_methods(changed, read.workshop).carcass == carcass.build(changed, read.workshop)


def test_drawer_boxes_are_put_together_once_for_all_methods_and_as_each_job_by_itself_has_them() -> None:
    read = read_job(EXAMPLES / "percussion-chest.toml")
    plan = Plan(read.job, read.workshop)
    plan.by_methods  # noqa: B018  # from here on drawers are shared
    plan.assembly  # noqa: B018
    assert plan.orders is not None
    found = plan.orders.found
    assert {order.body.code for order in found} == {d.id for c in plan.details.cases for d in c.built.drawers}

    for code in ("biscuits", "loose tenons"):
        changed = by_method(read.job, code, ALL)
        other = plan.by_other_methods(changed, read.workshop)

        assert other.assembly == Plan(changed, read.workshop).assembly
        assert all(one is two for one, two in zip(plan.orders.found, found, strict=True))

    stiffer = replace(read.job, methods=replace(read.job.methods, drawer_box="dowels"))
    assert plan.by_other_methods(stiffer, read.workshop).assembly == Plan(stiffer, read.workshop).assembly
    assert len(plan.orders.found) == 2 * len(found)


def test_a_comparison_does_not_tidy_the_job_s_own_sheets() -> None:
    read = read_job(EXAMPLES / "first-box.toml")
    plan = Plan(read.job, read.workshop)
    by_money = plan.compared(methods=("dowels", "biscuits"))

    assert not plan.knows("sheets")
    assert plan.sheets.boards
    assert by_money == plan.compared(methods=("dowels", "biscuits"))
    assert by_money == Plan(read.job, read.workshop).with_sheets(plan.sheets).compared(methods=("dowels", "biscuits"))


def test_account_and_comparison_are_kept_and_other_terms_need_no_second_run(monkeypatch: pytest.MonkeyPatch) -> None:
    read = read_job(EXAMPLES / "first-box.toml")
    shop = read.workshop
    plan = Plan(read.job, replace(shop, methods=tuple(m for m in shop.methods if m.code in {"dowels", "biscuits"})))
    kept = plan.comparison
    own = kept.own

    assert plan.comparison is kept
    assert plan.account is plan.account
    assert own is not None
    assert own.candidate.account == plan.account

    monkeypatch.setattr("storyrod.joinery.join", lambda *_: pytest.fail("worked out a second time"))
    dearer = plan.compared(replace(kept.terms, rate_cents_per_h=kept.terms.rate_cents_per_h + 6000))
    assert [r.minutes for r in dearer.rows] == [r.minutes for r in kept.rows]
    assert dearer.rows[0].cost_cents > kept.rows[0].cost_cents


@pytest.mark.parametrize("name", ["first-box.toml", "percussion-chest.toml"])
def test_sheets_as_far_as_money_goes_cost_what_the_tidied_ones_cost(name: str) -> None:
    read = read_job(EXAMPLES / name)
    costed, tidied = Plan(read.job, read.workshop).sheets_costed, Plan(read.job, read.workshop).sheets

    for one, other in zip(costed.boards, tidied.boards, strict=True):
        assert one.figures.sheets == other.figures.sheets
        assert one.figures.cents == other.figures.cents
        assert one.figures.yield_share == pytest.approx(other.figures.yield_share)


def test_sheets_laid_out_anew_are_counted_anew() -> None:
    read = read_job(EXAMPLES / "first-box.toml")
    plan = Plan(read.job, read.workshop)
    before = plan.account
    anew = plan.with_sheets_laid_out(0.05)

    assert anew.account is not before
    assert plan.account is before
    assert anew.machining is plan.machining


def test_a_higher_rate_moves_money_to_time() -> None:
    shop = packaged_workshop()
    job = builders.job()
    cheap, dear = (
        compare(job, replace(shop, money=replace(shop.money, rate_cents_per_h=rate)), plain_work_out)
        for rate in (0, 6000)
    )

    for row in cheap.rows:
        other = dear.row(row.candidate.method)
        assert other is not None
        assert other.each_cents - row.each_cents == pytest.approx(row.all_minutes.usual * 100, abs=1)
    assert any("No hourly rate is set" in n for n in cheap.notes)


def test_the_plinth_of_keyholes_is_screwed_where_it_would_be_shut_out() -> None:
    read = read_job(EXAMPLES / "rehearsal-room.toml")
    told = Plan(read.job, read.workshop).compared(methods=("one-part keyhole connector", "dowels"))
    keyholes = told.row("one-part keyhole connector")

    assert keyholes is not None
    assert keyholes.candidate.keeps[0].startswith("plinth joints by carcass screws: case A: the plinth cannot go in")
    keyed = dict.fromkeys(("corner", "mid_panel"), "one-part keyhole connector")
    methods = replace(read.job.methods, **keyed, plinth="carcass screws")
    so_made = Plan(replace(read.job, methods=methods), read.workshop).machining.jigs
    assert keyholes.jigs == sum(jig.kind in {JigKind.EDGE, JigKind.LINE} for jig in so_made) == 2


# The command ----------------------------------------------------------------------------------------------------------


def command(*words: str) -> int:
    parser = argparse.ArgumentParser()
    add(parser.add_subparsers())
    arguments = parser.parse_args(["compare", *words])
    return int(arguments.run(arguments))


JOB = str(EXAMPLES / "first-box.toml")


def test_the_command_prints_rows_reasons_and_when_it_pays(capsys: pytest.CaptureFixture[str]) -> None:
    assert command(JOB, "--rate", "30", "--per-year", "50", "--methods", "dowels", "loose tenons", "groove") == 0

    out = capsys.readouterr().out
    assert "Peg box\n  at 30.00 an hour, 50 carcasses a year" in out
    assert "*  dowels" in out
    assert "buy the loose-tenon cutter" in out
    assert "in a groove: It is not for carcass joints" in out
    assert "Loose tenons, against dowels: 1,050.00 to spend first" in out


def test_the_command_prints_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert command(JOB, "--json", "--methods", "dowels") == 0

    told = json.loads(capsys.readouterr().out)
    assert told["comparison"]["rows"][0]["candidate"]["method"] == "dowels"


def test_my_own_measured_times_are_taken_from_the_log(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with open_log(tmp_path / "bench.db") as log:
        for _ in range(20):
            log.add_span("Peg box", "drill a hole", 12.0, count=12, method="dowels")
    words = (JOB, "--json", "--methods", "dowels")
    command(*words)
    before = json.loads(capsys.readouterr().out)["comparison"]["rows"][0]["minutes"]["usual"]
    command(*words, "--log", str(tmp_path / "bench.db"))
    told = json.loads(capsys.readouterr().out)

    assert told["comparison"]["rows"][0]["minutes"]["usual"] > before + 5
    assert told["learned"][0]["text"].startswith("drill a hole: 0.90 min")


def test_a_batch_and_learning_change_the_minutes(capsys: pytest.CaptureFixture[str]) -> None:
    found = []
    for more in ((), ("--batch", "10"), ("--learning", "80"), ("--allowance", "20")):
        command(JOB, "--json", "--methods", "dowels", *more)
        found.append(json.loads(capsys.readouterr().out)["comparison"]["rows"][0]["minutes"]["usual"])

    assert found[1] < found[0] < found[3] < found[2]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--rate", "-1"), "--rate: found -1; allowed: 0 to 10000"),
        (("--learning", "40", "--batch", "0"), "--batch: found 0; allowed: 1 to 1000"),
        (("--methods", "dowel"), '"dowel"'),
        (("--log", "nowhere.db"), 'no file "nowhere.db"'),
    ],
)
def test_bad_use_is_told(words: tuple[str, ...], said: str) -> None:
    with pytest.raises(JobError) as caught:
        command(JOB, *words)

    assert said in str(caught.value)
