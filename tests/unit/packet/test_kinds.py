"""Parts of one kind on one sheet: the letters come to each part's own figures, and nothing else is left out."""

from __future__ import annotations

import re
from functools import cache

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.adapters.packet._kind_tables import kind_tables
from storyrod.adapters.packet._kinds import Kind, Parts, kinds_of
from storyrod.adapters.packet._set_out_tables import AXES, line_cells, mark_cells, runs_of
from storyrod.drawing import Figures, Running, panel_set_out_small
from storyrod.measure.length import Unit
from storyrod.measure.writing import LengthWriter
from storyrod.model.mark import PanelSetOut
from storyrod.model.panel import Role
from storyrod.planning import Plan
from storyrod.telling.blocks import Table
from storyrod.telling.shown import Shown
from tests.builders import case, drawer, job, rows

UNITS = pytest.mark.parametrize("unit", list(Unit))
_LETTER = re.compile(r"\b[a-z]\b")


@cache
def plan() -> Plan:
    """Return a case with three drawers of three heights."""
    return Plan(job(case(inside=rows(drawer(120.0), drawer(200.0), drawer()))), packaged_workshop())


def found(unit: Unit) -> list[Kind]:
    outs = {p.panel.id: p for c in plan().set_out.cases for p in c.panels}
    cases = plan().details.cases
    parts = Parts(
        panels={p.id: p for c in cases for p in c.panels},
        drawers={d.opening: d.name for c in cases for d in c.built.drawers},
    )
    every = kinds_of(plan().set_out.gangs, outs, parts, Shown(LengthWriter(unit)), Figures(unit=unit))
    assert {o.panel.id for k in every for o in (members_of(k) if isinstance(k, Kind) else ())} <= set(outs)
    return [k for k in every if isinstance(k, Kind)]


def members_of(kind: Kind) -> list[PanelSetOut]:
    return [o for outs in kind.members for o in outs]


def tables(kind: Kind, unit: Unit) -> list[Table]:
    marks = {p.panel.id: p.panel.mark for c in plan().set_out.cases for p in c.panels}
    return kind_tables(kind, marks, Shown(LengthWriter(unit)))


def column(table: Table, head: str) -> list[str]:
    at = [c.head for c in table.columns].index(head)
    return [row[at] for row in table.rows]


def letters(kind: Kind, unit: Unit) -> dict[str, dict[str, str]]:
    """Return what the tables of sizes say of each part."""
    told: dict[str, dict[str, str]] = {}
    for table in tables(kind, unit):
        if table.title.startswith("What each letter"):
            for row in table.rows:
                own = {c.head: cell for c, cell in zip(table.columns, row, strict=True) if _LETTER.fullmatch(c.head)}
                for mark in row[0].split(", "):
                    told.setdefault(mark, {}).update(own)
    return told


def spelled(words: str, own: dict[str, str]) -> str:
    return _LETTER.sub(lambda m: own[m[0]], words).replace("\u00a0", " ")


def test_drawers_of_three_heights_have_their_sides_and_backs_on_one_sheet() -> None:
    roles = {o.panel.role for kind in found(Unit.MM) for o in members_of(kind)}

    assert {Role.DRAWER_SIDE, Role.DRAWER_BACK} <= roles
    sides = next(k for k in found(Unit.MM) if members_of(k)[0].panel.role is Role.DRAWER_SIDE)
    assert len(members_of(sides)) == 6


@UNITS
def test_the_letters_of_each_part_come_to_its_own_figures(unit: Unit) -> None:
    """Each row is spelled out part by part, and is that of the sheet which the part would have by itself."""
    shown = Shown(LengthWriter(unit))
    marks = {p.panel.id: p.panel.mark for c in plan().set_out.cases for p in c.panels}
    compared = 0
    for kind in found(unit):
        told = letters(kind, unit)
        assert kind.letters
        every = {t.title.split(",")[0].split(" where")[0]: t for t in tables(kind, unit)}
        for outs in kind.members:
            own = told[outs[0].panel.mark]
            runs = runs_of(outs, shown)
            heads = {"u": "datum end", "v": "face edge", "w": "face side"}
            for axis in AXES:
                if heads[axis] in [c.head for c in every["Marks"].columns]:
                    mine = [mark_cells(outs, run, shown)[2][axis].replace("\u00a0", " ") for run in runs]
                    assert [spelled(c, own) for c in column(every["Marks"], heads[axis])] == mine
                    compared += len(mine)
            if outs[0].lines:
                lines = [[c.replace("\u00a0", " ") for c in line_cells(li, marks, shown)[2:5]] for li in outs[0].lines]
                for n, head in enumerate(("datum end", "face edge", "face side at")):
                    assert [spelled(c, own) for c in column(every["Lines"], head)] == [row[n] for row in lines]
    assert compared > 10


def test_every_part_has_a_row_with_its_own_joints_and_mates() -> None:
    for kind in found(Unit.MM):
        rows_of = [t for t in tables(kind, Unit.MM) if t.title.startswith("What stands")]
        for out in members_of(kind):
            mine = " ".join(" ".join(row) for t in rows_of for row in t.rows if row[0] == out.panel.mark)
            for line in out.lines:
                assert f"{line.number}: {line.mate_mark} {line.mate_surface}" in mine
            for mark in out.marks:
                if mark.mate:
                    mate = mark.mate.rpartition(".")[0]
                    assert f"{mark.joint}: {mate}." in mine or (f"{mark.joint}: {mate} " in mine and f"{mate}." in mine)


@UNITS
def test_a_letter_is_in_the_drawing_where_its_figure_would_be(unit: Unit) -> None:
    """A letter that stood in no drawing would be looked for in vain, and one figure must not stand for two letters."""
    figures = Figures(unit=unit)
    for kind in found(unit):
        out = kind.members[kind.drawn][0]
        plain = panel_set_out_small(out, figures=figures)
        lettered = panel_set_out_small(out, figures=figures, manner=kind.manner(out, figures))
        own = {k: v.rstrip('"') for k, v in letters(kind, unit)[out.panel.mark].items()}
        for one, other in zip(plain, lettered, strict=True):
            figured = [s.text for run in one.items if isinstance(run, Running) for s in run.stops]
            told = [s.text for run in other.items if isinstance(run, Running) for s in run.stops]
            assert [spelled(t, own) for t in told] == figured
        shown = {s.text for d in lettered for run in d.items if isinstance(run, Running) for s in run.stops}
        assert shown & set(own)
