"""A job planned anew keeps the ticks that still hold, and names those that do not."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from pathlib import Path
from typing import Any

from storyrod.adapters.files import packaged_workshop
from storyrod.adapters.log import carry_over, open_log
from storyrod.planning import Plan
from storyrod.telling.cards import things_of
from storyrod.telling.things import Thing, is_still
from tests import builders


def planned(**more: Any) -> Plan:
    return Plan(builders.job(builders.case(inside=builders.rows(builders.opening(), builders.opening()), **more)), SHOP)


SHOP = packaged_workshop()


def test_everything_to_be_done_can_be_ticked_and_has_a_name_of_its_own() -> None:
    plan = planned()
    things = things_of(plan)

    case = plan.details.cases[0]
    kinds = Counter(t.id.split(" ")[0] for t in things)
    assert (kinds["panel"], kinds["cut"], kinds["joint"]) == (len(case.panels), len(case.features), len(case.joints))
    assert kinds["mark"] == len(case.panels)
    assert len({t.id for t in things}) == len(things)
    assert all(t.name and t.content for t in things)


def test_all_ticks_hold_when_nothing_changed(tmp_path: Path) -> None:
    things = things_of(planned())
    with open_log(tmp_path / "bench.db") as log:
        for thing in things:
            log.tick("job", "v1", thing)
        carried = carry_over(log.ticks("job"), things_of(planned()))

    assert len(carried.held) == len(things)
    assert (carried.changed, carried.gone) == ((), ())
    assert carried.lines() == (f"{len(things)} ticks still hold.",)


def test_a_cut_ticked_under_another_name_of_its_kind_is_still_done() -> None:
    """In logs without keys a cut is known by its figures: another word for it is the same cut."""
    of = planned()
    methods = replace(of.job.methods, corner="two-part clip connector")
    of = Plan(replace(of.job, methods=methods), SHOP)
    things = [t for t in things_of(of) if t.id.startswith("cut ")]
    kinds = {t.content.split(" ")[0] for t in things}
    old = [replace(t, key="") for t in things]
    renamed = [replace(t, content=re.sub(r"^[a-z]+", "lipped", t.content)) for t in old]
    moved = [replace(t, content=re.sub(r"[0-9]+", "999", t.content, count=1)) for t in old]

    assert {"undercut", "hole"} <= kinds
    assert all(is_still(done, now) for done, now in zip(renamed, things, strict=True))
    assert not any(is_still(done, now) for done, now in zip(moved, things, strict=True))


def test_a_tick_written_to_a_tenth_still_holds_and_a_move_of_a_tenth_does_not() -> None:
    """Earlier versions wrote 58.85 as 58.9 or 58.8; half a millimetre, the usual step of a mark, is another place."""
    now = Thing(id="cut A.x", name="A1 mark 1", content="hole diameter 8, depth 58.85 at u 50, v 17.05, w 0")

    for words in ("depth 58.9 at u 50, v 17.1, w 0", "depth 58.8 at u 50, v 17, w 0"):
        assert is_still(replace(now, content=f"hole diameter 8, {words}"), now)
    for words in ("depth 58.7 at u 50, v 17.1, w 0", "depth 58.9 at u 50.5, v 17.1, w 0", "depth 58.9 at u 50, v 17.1"):
        assert not is_still(replace(now, content=f"hole diameter 8, {words}"), now)
    panel = Thing(id="panel A.side", name="A1 cut", content="720 x 399.95 x 17.7, b18")
    assert is_still(replace(panel, content="720 x 400 x 17.7, b18"), panel)
    assert not is_still(replace(panel, content="720 x 400 x 17.7, b19"), panel)


def test_a_deeper_case_keeps_what_is_the_same_and_names_what_is_not(tmp_path: Path) -> None:
    """40 mm deeper: every panel is cut anew, the front holes stay, the rear ones move."""
    before, after = planned(), planned(depth=440.0)
    with open_log(tmp_path / "bench.db") as log:
        for thing in things_of(before):
            log.tick("job", before.version, thing)
        carried = carry_over(log.ticks("job"), things_of(after))

    changed = {c.tick.thing.name: str(c) for c in carried.changed}
    assert carried.gone == ()
    assert changed["A1 left side cut"] == "A1 left side cut: done as 720 x 400 x 18, b18, now 720 x 440 x 18, b18"
    front = [t.thing for t in carried.held if t.thing.id.startswith("cut ") and "v 50" in t.thing.content]
    assert front
    assert all("v 50" not in c.tick.thing.content for c in carried.changed if c.tick.thing.id.startswith("cut A.side"))


def test_another_method_names_what_is_gone_and_an_undone_tick_is_not_carried(tmp_path: Path) -> None:
    before = planned()
    job = replace(before.job, methods=replace(before.job.methods, corner="glued butt", mid_panel="glued butt"))
    things = things_of(before)
    cut = next(t for t in things if t.id.startswith("cut "))
    panel = next(t for t in things if t.id.startswith("panel "))
    with open_log(tmp_path / "bench.db") as log:
        log.tick("job", "v1", cut)
        log.tick("job", "v1", panel)
        log.tick("job", "v1", things[-1])
        log.tick("job", "v1", things[-1], done=False)
        carried = carry_over(log.ticks("job"), things_of(Plan(job, SHOP)))

    assert [t.thing for t in carried.held] == [panel]
    assert [t.thing for t in carried.gone] == [cut]
    assert carried.lines()[0] == "1 tick still holds."
    assert carried.lines()[1].startswith(f"Not in this plan: {cut.name}, done as")
