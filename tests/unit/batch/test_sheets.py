"""Sheets shared by several jobs: judged as those of one job, never dearer than apart, and paid to the cent."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.faults import JobError
from storyrod.model.batch import PaidBy
from storyrod.model.sheet import CutRules, Part
from storyrod.model.workshop import RackOffcut, Workshop
from storyrod.planning import Batch
from storyrod.planning._batch_boards import BoardKindred
from storyrod.planning._batch_sheets import Sawing, SheetsTogether, lay_out_together
from storyrod.sheets import judge, lay_out
from tests.unit.batch.conftest import batch_of, job_of, job_text


def placed(batch: Batch) -> Counter[str]:
    return Counter(p.part for s in batch.together.sheets.sheets for p in s.placements)


def wanted(batch: Batch) -> Counter[str]:
    return Counter({p.id: p.copies for plan in batch.plans for p in plan.parts})


def test_two_jobs_share_a_sheet_and_the_judge_finds_nothing(two: Batch) -> None:
    (board,) = two.boards
    plan = two.together

    assert (board.sheets, sum(board.alone_sheets), board.is_shared) == (1, 2, True)
    assert placed(two) == wanted(two)
    assert not judge(plan.sheets, plan.parts, plan.stock, plan.cut_rules)
    assert two.faults == ()


def test_parts_bear_their_jobs_mark(two: Batch) -> None:
    marks = {p.mark for p in two.together.parts}

    assert {"1-A1", "2-A1"} <= marks
    assert {label.mark for label in two.together.part_labels} == marks


def test_a_shared_sheet_is_paid_by_area_to_the_cent(two: Batch) -> None:
    (board,) = two.boards
    areas = [sum(p.length * p.width * p.copies for p in plan.parts) for plan in two.plans]
    shares = [s or 0 for s in board.shares]

    assert sum(shares) == board.cents == 8001
    assert all(abs(s - 8001 * a / sum(areas)) < 1 for s, a in zip(shares, areas, strict=True))


def test_paid_by_cost_alone_no_job_pays_more_than_alone() -> None:
    batch = batch_of(job_text("One"), job_text("Two", width=1000, height=1200), paid_by=PaidBy.ALONE)
    (board,) = batch.boards

    assert sum(s or 0 for s in board.shares) == board.cents
    assert all((s or 0) <= (a or 0) for s, a in zip(board.shares, board.alone_cents, strict=True))


def test_a_job_on_sheets_of_its_own_shares_none() -> None:
    batch = batch_of(job_text("One"), job_text("Two"), job_text("Three"), own=(2,))
    (board,) = batch.boards
    jobs = [{p.part.split("-")[0] for p in s.placements} for s in batch.together.sheets.sheets]

    assert board.codes == ("ply18", "ply18-2", "ply18")
    assert sorted(jobs, key=sorted) == [{"1", "3"}, {"2"}]
    assert board.shares[1] == 8001
    assert sum(s or 0 for s in board.shares) == board.cents
    assert batch.faults == ()


def test_boards_measured_otherwise_lie_on_two_piles() -> None:
    thick = job_text("Two").replace("measured = 17.7", "measured = 18.1")
    batch = batch_of(job_text("One"), thick)
    jobs = [{p.part.split("-")[0] for p in s.placements} for s in batch.together.sheets.sheets]

    assert sorted(jobs, key=sorted) == [{"1"}, {"2"}]
    assert [b.marks for b in batch.boards] == [("1",), ("2",)]
    assert [b.name for b in batch.together.job.boards] == [
        "plywood 18, 17.7 mm measured",
        "plywood 18, 18.1 mm measured",
    ]
    assert batch.faults == ()


def test_the_lowest_price_is_taken_and_told() -> None:
    batch = batch_of(job_text("One"), job_text("Two").replace("80.01", "75"))

    assert batch.boards[0].cents == 7500
    assert any("75.00 EUR" in note for note in batch.notes)


def test_an_offcut_of_the_rack_is_cut_once() -> None:
    shop = packaged_workshop()
    shop = replace(shop, rack=(RackOffcut(code="R1", board="ply18", length=2400, width=1200),))
    batch = batch_of(job_text("One", height=1100, depth=500), job_text("Two", height=1100, depth=500), workshop=shop)
    (board,) = batch.boards

    assert sum(s.stock == "R1" for s in batch.together.sheets.sheets) == 1
    assert sum(board.alone_sheets) == 1, "apart, the second job finds the offcut gone"


def test_few_sheets_are_few_for_all() -> None:
    few = job_text("One", height=1200, depth=600).replace("price = 80.01", "price = 80.01, copies = 1")

    with pytest.raises(JobError) as told:
        batch_of(few, few)
    assert "stock" in told.value.faults[0].code


# Layouts of random parts, without the rest of a plan


def random_parts(rng: random.Random, mark: str) -> list[Part]:
    return [
        Part(
            id=f"{mark}.{n}",
            board="ply18",
            length=rng.randint(200, 1400),
            width=rng.randint(100, 600),
            copies=rng.choice((1, 1, 2, 4)),
            mark=f"{mark}{n}",
        )
        for n in range(rng.randint(1, 5))
    ]


def laid_out(parts: dict[str, Sequence[Part]], workshop: Workshop, paid_by: PaidBy) -> SheetsTogether:
    job = job_of(job_text("One"))
    kind = BoardKindred(code="ply18", board=job.board("ply18"), marks=tuple(parts), own=frozenset())
    sawing = Sawing(
        parts=parts, rules=CutRules(), workshop=workshop, job=job, rounds=lambda _: 5, work=10**6, paid_by=paid_by
    )
    return lay_out_together([kind], sawing)


@pytest.mark.parametrize("seed", range(12))
def test_together_never_costs_more_than_apart(seed: int) -> None:
    rng = random.Random(seed)
    parts: dict[str, Sequence[Part]] = {m: random_parts(rng, m) for m in ("1", "2", "3")}
    done = laid_out(parts, packaged_workshop(), rng.choice(tuple(PaidBy)))
    (board,) = done.boards
    codes = dict(zip(board.marks, board.codes, strict=True))
    every = [replace(p, board=codes[m]) for m, own in parts.items() for p in own]

    assert board.cents is not None
    assert board.cents <= sum(c or 0 for c in board.alone_cents)
    assert sum(s or 0 for s in board.shares) == board.cents
    assert not judge(done.sheets, every, done.stock, CutRules())


def test_where_the_search_finds_nothing_better_each_job_is_cut_by_itself(monkeypatch: pytest.MonkeyPatch) -> None:
    """A search that did badly on the parts of all: then they are cut job by job, and nobody pays for it."""

    def bad_together(parts: Sequence[Part], *more: object, **dials: object) -> object:
        plan = lay_out(parts, *more, **dials)  # type: ignore[arg-type]
        jobs = {p.id[0] for p in parts}
        (board,) = plan.boards
        dear = replace(board, figures=replace(board.figures, cents=board.figures.cents + 10**6 * (len(jobs) > 1)))
        return replace(plan, boards=(dear,))

    monkeypatch.setattr("storyrod.planning._batch_sheets.lay_out", bad_together)
    rng = random.Random(1)
    done = laid_out({m: random_parts(rng, m) for m in ("1", "2")}, packaged_workshop(), PaidBy.AREA)

    assert done.boards[0].codes == ("ply18-1", "ply18-2")
    assert done.boards[0].cents == sum(c or 0 for c in done.boards[0].alone_cents)
