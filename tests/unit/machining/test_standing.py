"""Jigs worth keeping for real shelves of several depths: in step, drawn, owned, and used by later plans."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PdfReader

from storyrod.adapters.cli import main
from storyrod.adapters.files import read_job, read_workshop
from storyrod.adapters.keeping import KeepAsked, family_of, own_in
from storyrod.faults import JobError
from storyrod.model.machining import JigKind
from storyrod.planning import Family, Plan
from storyrod.planning._standing import _standing as weigh
from storyrod.telling.standing import TOO_MANY, head_words, line_row
from tests.places import EXAMPLES

SHELVES = EXAMPLES / "score-shelves.toml"


@pytest.fixture(scope="module")
def family() -> Family:
    """Score shelves, 350 and 394 deep, three times a year each; 450 deep is thought of."""
    return family_of(KeepAsked(jobs=(SHELVES,), a_year=(3.0,), depths=("350", "394"), more=("450",)))


def minutes(plan: Plan) -> float:
    return plan.machining.run.minutes + sum(j.making_min for j in plan.machining.jigs if not j.owned)


def test_the_two_jigs_of_a_joint_share_their_zero_stations_and_stops(family: Family) -> None:
    (kept,) = family.standing.sets
    edge, line = kept.jigs

    assert (edge.kind, line.kind) == (JigKind.EDGE, JigKind.LINE)
    assert line.in_step_with == edge.id
    assert edge.stations == line.stations
    assert [(s.label, s.at) for s in edge.stops] == [(s.label, s.at) for s in line.stops]


def test_a_later_plan_cuts_both_halves_of_a_joint_at_the_same_stop_and_passes_its_checker(family: Family) -> None:
    assert family.faults == ()
    for plan in family.owning[:2]:
        stops: dict[str, set[str]] = {}
        owned = {j.id for j in plan.machining.jigs if j.owned.startswith("K")}
        for set_up in plan.machining.set_ups:
            if set_up.setting is not None and set_up.setting.jig in owned:
                for o in set_up.operations:
                    stops.setdefault(str(o.joint), set()).add(f"{o.stop_offset:.2f}")
        assert stops
        assert all(len(offsets) == 1 for offsets in stops.values())


def test_what_they_save_is_the_difference_of_the_plans_of_a_year(family: Family) -> None:
    """Every job planned without them and with them, three times a year; the depth only thought of is not counted."""
    (kept,) = family.standing.sets
    a_year = [j.a_year for j in family.jobs]

    assert a_year == [3.0, 3.0, 0.0]
    without = sum(n * minutes(p) for n, p in zip(a_year, family.plans, strict=True))
    with_them = sum(n * minutes(p) for n, p in zip(a_year, family.owning, strict=True))
    assert kept.saves_min == pytest.approx(without - with_them)
    assert kept.saves_min * family.standing.years > kept.making_min
    assert kept.pays_after_years == pytest.approx(kept.making_min / kept.saves_min)


def test_one_more_depth_costs_what_the_jigs_then_take_more_to_make(family: Family) -> None:
    more = next(line for line in family.standing.left if line.part_max > 440)
    jobs = [replace(j, a_year=3.0) for j in family.jobs]
    wider = weigh(jobs, family.plans, family.plans[0].workshop, family.standing.years)

    keyholes = next(s for s in wider.sets if "keyholes" in s.lines[0].what)
    assert more.part_max in {line.part_max for line in keyholes.lines}
    assert keyholes.making_min == pytest.approx(family.standing.sets[0].making_min + more.adds_min)
    assert (more.placings, more.saves_min) == (0, 0)


def test_jigs_that_are_owned_are_used_by_the_next_plan_of_the_file(family: Family, tmp_path: Path) -> None:
    shop = tmp_path / "workshop.toml"
    shutil.copy(EXAMPLES / "choir-workshop.toml", shop)
    owned = own_in(shop, family)
    read = read_job(SHELVES)

    workshop = read_workshop(shop)
    job = family.plans[1].job
    plan = Plan(job, workshop)

    assert [j.code for j in owned] == ["K1", "K2"]
    assert {"K1", "K2"} <= {j.owned for j in plan.machining.jigs}
    assert plan.run_check.faults == ()
    assert minutes(plan) < minutes(Plan(job, read.workshop))
    again = own_in(shop, family)  # beside those that are there, never in their place
    assert [j.code for j in again] == ["K3", "K4"]


def test_what_jigs_lose_where_they_are_owned_is_not_kept(family: Family) -> None:
    """The row of small holes would pay by its own figures, but then calls for two more jigs in every job."""
    rows = [line for line in family.standing.left if "holes 3.5" in line.what]

    assert len(rows) == 2
    assert not any(line.is_kept for line in rows)
    assert TOO_MANY in {line_row(line, family.plans[0].job.lengths)[-1] for line in rows}


def test_the_command_says_it_draws_them_and_owns_them(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, family: Family
) -> None:
    monkeypatch.setattr("storyrod.adapters.keeping.family_of", lambda _: family)
    paper, shop = tmp_path / "jigs.pdf", tmp_path / "shop.toml"

    assert main(["jigs", str(SHELVES), "--a-year", "3", "--out", str(paper), "--own", str(shop)]) == 0

    told = capsys.readouterr().out
    assert head_words(family)[0] in told
    assert "Owned from now on" in told
    text = " ".join(" ".join(p.extract_text().split()) for p in PdfReader(paper).pages)
    for words in ("Jigs worth keeping", "bore their stations clamped together", "Check it before you trust it"):
        assert words in text
    assert "K1: edge jig with a fence" in shop.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("asked", "code"),
    [
        (KeepAsked(jobs=(SHELVES,), a_year=(1.0, 2.0)), "keep-a-year"),
        (KeepAsked(jobs=(SHELVES,), depths=("300",) * 21), "keep-depths"),
        (KeepAsked(jobs=(SHELVES, EXAMPLES / "first-box.toml"), depths=("300",)), "keep-depths"),
        (KeepAsked(jobs=(SHELVES,), depths=("deep",)), "length"),
        (KeepAsked(jobs=(SHELVES, SHELVES)), "batch-twice"),
        (KeepAsked(jobs=(EXAMPLES / "gone.toml",)), "file-missing"),
    ],
)
def test_what_is_asked_wrongly_says_so(asked: KeepAsked, code: str) -> None:
    with pytest.raises(JobError) as caught:
        family_of(asked)

    assert code in {f.code for f in caught.value.faults}


def test_numbers_a_year_that_are_none_say_so(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["jigs", str(SHELVES), "--a-year", "often"]) == 1
    assert "how often" in capsys.readouterr().err
