"""A log that an earlier version kept opens with every tick in its place, whatever things are called since.

`kept/log-2.sql` was written by version 2 of the log, in which a tick was known by words: everything that can be ticked
in `kept/job.toml` is ticked in it.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from dataclasses import fields, replace
from pathlib import Path
from typing import Final, get_args

import pytest

from storyrod.adapters.files import read_job
from storyrod.adapters.log import BenchLog, carry_over, export_log, import_log, open_log, rescue
from storyrod.adapters.web._ticks_words import Words, digest
from storyrod.model.feature import Shape
from storyrod.model.workshop import Workshop
from storyrod.planning import Plan
from storyrod.telling import identity
from storyrod.telling.cards import things_of
from storyrod.telling.things import _SIZES, Thing, ThingKind, is_still

KEPT: Final = Path(__file__).parent / "kept"


@pytest.fixture(scope="module")
def plan() -> Plan:
    read = read_job(KEPT / "job.toml")
    return Plan(read.job, read.workshop)


@pytest.fixture(scope="module")
def things(plan: Plan) -> tuple[Thing, ...]:
    return things_of(plan)


@pytest.fixture(scope="module")
def renamed(plan: Plan) -> tuple[Thing, ...]:
    """The same job, in a workshop that calls every method otherwise."""
    return things_of(Plan(plan.job, _renamed(plan.workshop)))


def _renamed(shop: Workshop) -> Workshop:
    return replace(shop, methods=tuple(replace(m, name=f"our way {n} of 99") for n, m in enumerate(shop.methods)))


def old_log(path: Path) -> Path:
    connection = sqlite3.connect(path)
    connection.executescript((KEPT / "log-2.sql").read_text(encoding="utf-8"))
    connection.close()
    return path


@pytest.fixture
def old(tmp_path: Path) -> Iterator[BenchLog]:
    with open_log(old_log(tmp_path / "bench.db")) as log:
        yield log


def test_every_kind_of_tick_lies_in_the_old_log(old: BenchLog, things: tuple[Thing, ...]) -> None:
    ticked = {t.thing.id for t in old.ticks("Kept")}

    assert {t.id for t in things} <= ticked
    assert {k.value for k in ThingKind} - {ThingKind.SHEETS.value} <= {i.split(" ")[0] for i in ticked} | {
        "finish",
        "coat",
    }
    assert all(t.thing.key == "" for t in old.ticks("Kept"))


@pytest.mark.parametrize("names", ["as they were", "all changed"])
def test_every_tick_of_an_old_log_is_in_its_place(
    old: BenchLog, things: tuple[Thing, ...], renamed: tuple[Thing, ...], names: str
) -> None:
    now = things if names == "as they were" else renamed
    carried = carry_over(old.ticks("Kept"), now)

    assert (carried.changed, carried.gone) == ((), ())
    assert {t.thing.id for t in carried.held} == {t.id for t in now}


def test_the_page_sees_the_ticks_of_an_old_log_as_done(old: BenchLog, renamed: tuple[Thing, ...]) -> None:
    """The page compares fingerprints: an old tick must come with that of what is wanted now."""
    now = {t.id: t for t in renamed}
    words = Words(last={(t.thing.id, t.copy): t for t in old.ticks("Kept")})
    words.rows = dict.fromkeys(words.last, 1)

    told = {w[0]: w[5] for w in words.told(now)}
    assert {i: told[i] for i in now} == {i: digest(t) for i, t in now.items()}
    assert words.told({})[0][5] != digest(renamed[0])


def test_new_ticks_hold_under_new_names_too(
    tmp_path: Path, things: tuple[Thing, ...], renamed: tuple[Thing, ...]
) -> None:
    with open_log(tmp_path / "new.db") as log:
        for thing in things:
            log.tick("Kept", "v", thing)
        carried = carry_over(log.ticks("Kept"), renamed)

    assert len(carried.held) == len(renamed)
    assert any(a.content != b.content for a, b in zip(things, renamed, strict=True))


def test_a_joint_held_by_another_method_at_the_same_places_is_another_joint(things: tuple[Thing, ...]) -> None:
    joint = next(t for t in things if t.id.startswith("joint ") and ", dowels" in t.content)
    other = joint.content.replace(", dowels", ", biscuits")
    key = json.loads(joint.key)
    key[key.index("dowels")] = "biscuits"

    assert "biscuits" in joint.other_methods
    assert not is_still(replace(joint, content=other, key=""), joint)
    assert not is_still(replace(joint, key=json.dumps(key)), joint)
    assert is_still(replace(joint, content=joint.content.replace(", dowels", ", round pegs"), key=""), joint)


def test_figures_are_the_same_within_half_a_tenth_and_codes_exactly(things: tuple[Thing, ...]) -> None:
    cut = next(t for t in things if t.id.startswith("cut "))
    parts = json.loads(cut.key)

    def moved(by: float) -> Thing:
        return replace(cut, key=json.dumps([*parts[:-1], parts[-1] + by]))

    assert is_still(moved(0.04), cut)
    assert not is_still(moved(0.06), cut)
    assert not is_still(replace(cut, key=json.dumps(["2", *parts[1:]])), cut)
    assert not is_still(replace(cut, key=json.dumps([*parts[:2], "other", *parts[3:]])), cut)


def test_every_size_of_every_shape_is_told_and_known() -> None:
    """A size that is left out would let a cut of another size pass for one that was made."""
    shapes = get_args(Shape)

    assert set(_SIZES) == set(identity._SHAPES) == set(shapes)
    assert len({code for code, _ in identity._SHAPES.values()}) == len(shapes)
    for shape in shapes:
        sizes = {f.name.replace("_", " ") for f in fields(shape) if "float" in str(f.type)}
        assert set(_SIZES[shape]) == sizes


def test_an_export_and_a_damaged_log_of_an_earlier_version_are_read(tmp_path: Path, things: tuple[Thing, ...]) -> None:
    with open_log(old_log(tmp_path / "a.db")) as log:
        export_log(log, tmp_path / "out")
    ticks = tmp_path / "out" / "ticks.csv"
    lines = [line.split(",") for line in ticks.read_text(encoding="utf-8").splitlines()]
    at = lines[0].index("key")
    ticks.write_text("\n".join([",".join(c for n, c in enumerate(lines[0]) if n != at)]) + "\n", encoding="utf-8")
    with open_log(tmp_path / "b.db") as other:
        assert import_log(other, tmp_path / "out") > 0
    rescued = rescue(old_log(tmp_path / "c.db"), tmp_path / "d.db")

    assert dict(rescued.rows)["ticks"] == len(things) + 1
    assert rescued.unread == ()


def test_what_is_brought_into_its_place_is_called_as_the_maker_calls_it(things: tuple[Thing, ...]) -> None:
    names = {t.id: t.name for t in things if t.id.startswith("place ")}

    assert names["place A.drawer-1"] == "drawer 1 put in"
    assert names["place A.door-1"] == "door 1 hung"
