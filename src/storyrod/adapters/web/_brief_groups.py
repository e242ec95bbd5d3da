"""What can be changed about a whole case, in groups that a maker would look for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any, Final

from storyrod.adapters.files.asking import as_shown, names_in
from storyrod.adapters.web._brief_fields import Asking, FieldGroup, Paper, Part

_ENDS: Final = (*("top", "base", "rail_width", "rail_count", "rails_stand", "back_rail", "edged", "edged_ends"),)
_SIZE_FIELDS: Final = ("width", "height", "depth", "count", "name", "code", "board")


def case_groups(paper: Paper, number: int, wanted: str = "") -> tuple[FieldGroup, ...]:
    """Return the groups of one case; the one of the key `wanted` is open, and those with faults are."""
    at = f"cases[{number}]"
    case = paper.table(at)
    made = [
        group_of(paper, ("size", "Size and number"), [(at, _SIZE_FIELDS)], state=_size_state(case)),
        _plinth(paper, at),
        _feet(paper, at),
        _hung(paper, at),
        group_of(paper, ("ends", "Top and base"), [(at, _end_fields(at, case))], state=_ends_state(case)),
        _worktop(paper, at),
        _walls(paper, at),
        _back(paper, at),
        _fronts(paper, at),
        _drawers(paper, at),
        group_of(paper, ("loose-shelves", "Loose shelves and pins"), [(f"{at}.loose_shelves", None)]),
        group_of(
            paper,
            ("fits", "The place it must fit"),
            [(f"{at}.fits", None)],
            state=said(paper.table(f"{at}.fits"), "width", "height", "depth"),
            note="A size that the case leaves out follows from these.",
        ),
    ]
    return opened(made, wanted)


def opened(groups: Sequence[FieldGroup], wanted: str) -> tuple[FieldGroup, ...]:
    """Return the groups with the one of the key `wanted` open, and those with faults."""
    return tuple(replace(g, open=g.key == wanted or g.faults > 0) for g in groups)


def group_of(
    paper: Paper,
    name: tuple[str, str],
    tables: Sequence[tuple[str, Sequence[str] | None]],
    *,
    state: str = "",
    note: str = "",
) -> FieldGroup:
    """Return a group of the named fields of some tables, or of all that matter; `name` is its key and its title."""
    fields = tuple(ask_table(paper, at) if names is None else ask_all(paper, at, names) for at, names in tables)
    return FieldGroup(key=name[0], title=name[1], state=state, parts=(Part(fields=sum(fields, ())),), note=note)


def ask_all(paper: Paper, at: str, names: Sequence[str]) -> tuple[Asking, ...]:
    """Return the fields of one table."""
    return tuple(paper.ask(f"{at}.{n}" if at else n) for n in names)


def ask_table(paper: Paper, at: str, *, seldom: bool = False) -> tuple[Asking, ...]:
    """Return the fields of a table that matter beside what is written, or those of them that are seldom needed."""
    return ask_all(paper, at, names_in(at, paper.table(at), seldom=seldom))


def said(table: dict[str, Any], *names: str) -> str:
    """Return what is written in some fields, as sizes are told."""
    return " × ".join(as_shown(table[n]) for n in names if isinstance(table.get(n), str | int | float))


def _size_state(case: dict[str, Any]) -> str:
    size, count = said(case, "width", "height", "depth"), case.get("count")
    return f"{size}, {count} off" if isinstance(count, int) and count > 1 else size


def _end_fields(at: str, case: dict[str, Any]) -> tuple[str, ...]:
    return tuple(name for name in names_in(at, case) if name in _ENDS)


def _ends_state(case: dict[str, Any]) -> str:
    return str(case.get("top", "")) if isinstance(case.get("top"), str) else ""


def _plinth(paper: Paper, at: str) -> FieldGroup:
    plinth = paper.table(f"{at}.plinth")
    hint = "From the floor to the base's underside. Empty: no plinth."
    first, *more = ask_table(paper, f"{at}.plinth") if plinth else ask_all(paper, f"{at}.plinth", ("height",))
    fields = (paper.ask(first.path, hint=hint), *more)
    state = f"{as_shown(plinth.get('height'))} high" if plinth else "none"
    return FieldGroup(key="plinth", title="Plinth", state=state, parts=(Part(fields=fields),))


def _feet(paper: Paper, at: str) -> FieldGroup:
    feet = paper.table(f"{at}.feet")
    first, *more = ask_table(paper, f"{at}.feet") if feet else ask_all(paper, f"{at}.feet", ("height",))
    hint = "From the floor to the underside of the case. Empty: no feet."
    fields = (paper.ask(first.path, hint=hint), *more)
    state = f"{as_shown(feet.get('height'))} high" if feet else "none"
    return FieldGroup(key="feet", title="Levelling feet", state=state, parts=(Part(fields=fields),))


def _hung(paper: Paper, at: str) -> FieldGroup:
    hung = paper.table(f"{at}.hung")
    names = ("top_at",) if not hung else None
    first, *more = ask_table(paper, f"{at}.hung") if names is None else ask_all(paper, f"{at}.hung", names)
    hint = "From the floor to the top of the case. Empty: it stands on the floor."
    fields = (paper.ask(first.path, hint=hint), *more)
    state = f"its top at {as_shown(hung.get('top_at'))}" if hung else "stands on the floor"
    return FieldGroup(key="hung", title="Hung on a wall", state=state, parts=(Part(fields=fields),))


def _worktop(paper: Paper, at: str) -> FieldGroup:
    top = paper.table(f"{at}.worktop")
    first, *more = ask_table(paper, f"{at}.worktop") if top else ask_all(paper, f"{at}.worktop", ("front",))
    hint = "How far it stands out over the front edges of the sides. Empty: no worktop."
    fields = (paper.ask(first.path, hint=hint), *more)
    state = f"{as_shown(top.get('front'))} over the front" if top else "none"
    return FieldGroup(key="worktop", title="Worktop", state=state, parts=(Part(fields=fields),))


def _walls(paper: Paper, at: str) -> FieldGroup:
    """Return what a case meets at its walls: a skirting board behind it, what is scribed, fillers beside it."""
    skirting, fillers = paper.table(f"{at}.skirting"), paper.table(f"{at}.fillers")
    names = ("height",) if not skirting else None
    first, *more = ask_table(paper, f"{at}.skirting") if names is None else ask_all(paper, f"{at}.skirting", names)
    hint = "From the floor to the top of the skirting board. Empty: none behind it."
    board = (paper.ask(first.path, hint=hint), *more)
    strips = ask_table(paper, f"{at}.fillers") if fillers else ask_all(paper, f"{at}.fillers", ("left", "right"))
    parts = (
        Part(title="Skirting board", fields=board),
        Part(title="Sides scribed to the wall behind", fields=ask_table(paper, f"{at}.scribe")),
        Part(title="Fillers", fields=strips),
    )
    told = [f"skirting {as_shown(skirting.get('height'))} high"] if skirting else []
    told += ["scribed"] if paper.table(f"{at}.scribe") else []
    told += ["fillers"] if fillers else []
    return FieldGroup(
        key="walls", title="Walls: skirting, scribing, fillers", state=", ".join(told) or "none", parts=parts
    )


def _back(paper: Paper, at: str) -> FieldGroup:
    back = paper.table(f"{at}.back")
    kind = str(back.get("kind", "none"))
    fields = ask_table(paper, f"{at}.back")
    return FieldGroup(key="back", title="Back", state=kind, parts=(Part(fields=fields),))


def _fronts(paper: Paper, at: str) -> FieldGroup:
    fronts = paper.table(f"{at}.fronts")
    kind = str(fronts.get("kind", "overlay"))
    hold = hand_hold(paper, f"{at}.fronts")
    parts = (Part(fields=ask_table(paper, f"{at}.fronts")), Part(title="Hand hold of every front", fields=hold))
    return FieldGroup(key="fronts", title="Drawer fronts and doors", state=kind, parts=parts)


def hand_hold(paper: Paper, at: str) -> tuple[Asking, ...]:
    """Return the fields of a hand hold: those that its kind has."""
    return ask_table(paper, f"{at}.hand_hold")


def _drawers(paper: Paper, at: str) -> FieldGroup:
    runner = paper.table(f"{at}.drawers").get("runner")
    fields = ask_table(paper, f"{at}.drawers")
    state = runner if isinstance(runner, str) else ""
    return FieldGroup(key="drawers", title="Drawer boxes and runners", state=state, parts=(Part(fields=fields),))
