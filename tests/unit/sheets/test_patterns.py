"""Regular layouts: what goes in comes out again, within the sheets there are."""

from __future__ import annotations

import random
from collections import Counter

import pytest

from storyrod.sheets._fill import Filler
from storyrod.sheets._patterns import Patterns
from storyrod.sheets._task import Task, task_of
from storyrod.sheets._tidy import Tidier
from storyrod.sheets._tree import kinds_in
from tests.unit.sheets.jobs import random_job
from tests.unit.sheets.test_lay_out import BOARD, PLAIN, part
from tests.unit.sheets.test_tree import assert_tight


def task_for(number: int) -> tuple[Task, list[int]]:
    """Return a random job's task, with a set of sheets that has room to spare."""
    task = task_of("ply", *random_job(number))
    return task, [min(size.copies, 8) for size in task.sizes]


@pytest.mark.parametrize("number", range(40))
def test_a_regular_layout_has_every_part_or_tells_it_left_over(number: int) -> None:
    task, mix = task_for(number)
    patterns = Patterns(Filler(task, random.Random(number), gathers=False), mix)
    for _ in range(3):  # The second and third choose among the sheets that were tried before, too.
        sheets, out = patterns.lay()

        assert Counter(out) + sum((Counter(kinds_in(s.root)) for s in sheets), Counter()) == Counter(task.wanted)
        assert all(sum(s.size == i for s in sheets) <= n for i, n in enumerate(mix))
        for sheet in sheets:
            size = task.sizes[sheet.size]
            assert sheet.root[0] <= size.w
            assert sheet.root[1] <= size.h
            assert_tight(sheet.root)
            kinds = kinds_in(sheet.root)
            assert sheet.count == len(kinds)
            assert sheet.used == sum(task.kinds[k].area for k in kinds)


def test_sheets_that_are_cut_alike_are_cut_together() -> None:
    """Sixty sides and forty-eight shelves, enough for whole sheets of each: few layouts, each cut often."""
    parts = [part("side", 720, 560, copies=60), part("shelf", 764, 300, copies=48)]
    task = task_of("ply", parts, [BOARD], PLAIN)
    patterns = Patterns(Filler(task, random.Random(1), gathers=False), [16])

    sheets, out = min((patterns.lay() for _ in range(5)), key=lambda lay: len(lay[1]))

    assert out == []
    assert len({s.root for s in sheets}) <= 4


@pytest.mark.parametrize("number", [3, 8, 21, 34])
def test_tidying_keeps_parts_and_sheets_and_never_wants_more(number: int) -> None:
    task = task_of("ply", *random_job(number))
    chance = random.Random(number)
    filler = Filler(task, chance)
    sheets, out = Patterns(filler, [min(size.copies, 8) for size in task.sizes]).lay()
    assert out == []
    tidier = Tidier(filler, sheets)
    before = tidier.score, tidier.settings

    tidier.run(600, lambda: 0.0)

    assert tidier.score <= before[0]
    kept, was = (Counter(k for s in which for k in kinds_in(s.root)) for which in (tidier.sheets, sheets))
    assert kept == was
    assert Counter(s.size for s in tidier.sheets) == Counter(s.size for s in sheets)
