"""What can be changed about a whole case and a whole job, in groups that a maker would look for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any, Final

from storyrod.adapters.files.asking import as_shown
from storyrod.adapters.files.reshaping import path_in
from storyrod.adapters.web._brief_fields import Asking, FieldGroup, Paper

_SIZE_FIELDS: Final = ("width", "height", "depth", "count", "name", "code", "board")


def case_groups(paper: Paper, number: int, wanted: str = "") -> tuple[FieldGroup, ...]:
    """Return the groups of one case; the one of the key `wanted` is open, and those with faults are."""
    at = f"cases[{number}]"
    case = paper.table(at)
    made = [
        _group(paper, ("size", "Size and number"), [(at, _SIZE_FIELDS)], state=_size_state(case)),
        _plinth(paper, at),
        _group(paper, ("ends", "Top and base"), [(at, _end_fields(case))], state=_ends_state(case)),
        _back(paper, at),
        _fronts(paper, at),
        _drawers(paper, at),
        _group(
            paper,
            ("loose-shelves", "Loose shelves and pins"),
            [
                (
                    f"{at}.loose_shelves",
                    (
                        "board",
                        "set_back",
                        "slack",
                        "behind",
                        "hole",
                        "hole_depth",
                        "pitch",
                        "from_front",
                        "from_back",
                        "margin",
                    ),
                )
            ],
        ),
        _group(
            paper,
            ("fits", "The place it must fit"),
            [(f"{at}.fits", ("width", "height", "depth", "clearance"))],
            state=_said(paper.table(f"{at}.fits"), "width", "height", "depth"),
            note="A size that the case leaves out follows from these.",
        ),
    ]
    return _opened(made, wanted)


def job_groups(paper: Paper, wanted: str = "") -> tuple[FieldGroup, ...]:
    """Return the groups of the whole job."""
    units = ("units", "fraction", "mark_to") if paper.raw.get("units") == "in" else ("units", "mark_to")
    made = [
        _group(
            paper,
            ("job", "The job"),
            [("", ("title", "customer", "maker", "currency", *units, "paper", "note"))],
            state=_said(paper.raw, "customer"),
        ),
        _boards(paper),
        _edgings(paper),
        _group(
            paper,
            ("use", "How it will stand and be used"),
            [
                (
                    "use",
                    ("floor", "fixed_to_wall", "climate", "humidity_low", "humidity_high", "sag_limit", "tip_margin"),
                ),
                ("limits", ("skin", "wall")),
            ],
        ),
    ]
    return _opened(made, wanted)


def _opened(groups: Sequence[FieldGroup], wanted: str) -> tuple[FieldGroup, ...]:
    return tuple(replace(g, open=g.key == wanted or g.faults > 0) for g in groups)


def _group(
    paper: Paper,
    name: tuple[str, str],
    tables: Sequence[tuple[str, Sequence[str]]],
    *,
    state: str = "",
    note: str = "",
) -> FieldGroup:
    fields = tuple(ask_all(paper, at, names) for at, names in tables)
    return FieldGroup(key=name[0], title=name[1], state=state, parts=(("", sum(fields, ())),), note=note)


def ask_all(paper: Paper, at: str, names: Sequence[str]) -> tuple[Asking, ...]:
    """Return the fields of one table."""
    return tuple(paper.ask(f"{at}.{n}" if at else n) for n in names)


def _said(table: dict[str, Any], *names: str) -> str:
    return " × ".join(as_shown(table[n]) for n in names if isinstance(table.get(n), str | int | float))


def _size_state(case: dict[str, Any]) -> str:
    size, count = _said(case, "width", "height", "depth"), case.get("count")
    return f"{size}, {count} alike" if isinstance(count, int) and count > 1 else size


def _end_fields(case: dict[str, Any]) -> tuple[str, ...]:
    rails = ("rail_width",) if case.get("top") == "rails" else ()
    return ("top", *rails, "base", "edged")


def _ends_state(case: dict[str, Any]) -> str:
    return str(case.get("top", "")) if isinstance(case.get("top"), str) else ""


def _plinth(paper: Paper, at: str) -> FieldGroup:
    plinth = paper.table(f"{at}.plinth")
    more = ("setback", "board", "back_rail") if plinth else ()
    fields = (
        paper.ask(f"{at}.plinth.height", hint="From the floor to the base's underside. Empty: no plinth."),
        *ask_all(paper, f"{at}.plinth", more),
    )
    state = f"{as_shown(plinth.get('height'))} high" if plinth else "none"
    return FieldGroup(key="plinth", title="Plinth", state=state, parts=(("", fields),))


def _back(paper: Paper, at: str) -> FieldGroup:
    back = paper.table(f"{at}.back")
    kind = str(back.get("kind", "none"))
    more: tuple[str, ...] = () if kind == "none" else ("board",)
    more += ("inset",) if kind in {"grooved", "between"} else ()
    more += ("in_top", "in_base") if kind in {"grooved", "rebated"} else ()
    fields = ask_all(paper, f"{at}.back", ("kind", *more))
    return FieldGroup(key="back", title="Back", state=kind, parts=(("", fields),))


def _fronts(paper: Paper, at: str) -> FieldGroup:
    fronts = paper.table(f"{at}.fronts")
    kind = str(fronts.get("kind", "overlay"))
    names = ("kind", "board", "gap", "back" if kind == "inset" else "reveal", "matching_grain")
    hold = hand_hold(paper, f"{at}.fronts")
    parts = (("", ask_all(paper, f"{at}.fronts", names)), ("Hand hold of every front", hold))
    return FieldGroup(key="fronts", title="Drawer fronts and doors", state=kind, parts=parts)


def hand_hold(paper: Paper, at: str) -> tuple[Asking, ...]:
    """Return the fields of a hand hold: those that its kind has."""
    kind = paper.table(f"{at}.hand_hold").get("kind")
    more: dict[object, tuple[str, ...]] = {
        "round hole": ("length", "down"),
        "slot": ("length", "height", "down"),
        "scoop": ("length", "height", "corner"),
    }
    return ask_all(paper, f"{at}.hand_hold", ("kind", *more.get(kind, ())))


def _drawers(paper: Paper, at: str) -> FieldGroup:
    names = ("runner", "board", "bottom_board", "bottom", "bottom_up", "room_above", "room_below")
    runner = paper.table(f"{at}.drawers").get("runner")
    fields = ask_all(paper, f"{at}.drawers", names)
    state = runner if isinstance(runner, str) else ""
    return FieldGroup(key="drawers", title="Drawer boxes and runners", state=state, parts=(("", fields),))


def _boards(paper: Paper) -> FieldGroup:
    boards = paper.raw.get("boards")
    codes = [c for c, b in boards.items() if isinstance(b, dict)] if isinstance(boards, dict) else []
    parts, bare = [], []
    for code in codes:
        at = path_in("boards", code)
        sheets = paper.table(at).get("sheets")
        own = ask_all(paper, at, ("name", "kind", "thickness", "measured", "grain", "edging"))
        if paper.table(at).get("kind") in {"solid wood", "other"}:
            own += ask_all(paper, at, ("density_kg_m3",))
        if isinstance(sheets, list) and len(sheets) == 1:
            own += tuple(
                paper.ask(f"{at}.sheets[0].{n}", label=f"Sheet {n}") for n in ("length", "width", "price", "copies")
            )
        if not sheets:
            bare.append(code)
        parts.append((code, own))
    return FieldGroup(
        key="boards",
        title="Boards",
        state=", ".join(codes),
        parts=tuple(parts),
        bare=frozenset(bare),
        note="Measure each sheet with callipers: every size is worked out from the measured thickness.",
    )


def _edgings(paper: Paper) -> FieldGroup:
    edgings = paper.raw.get("edgings")
    codes = [c for c, b in edgings.items() if isinstance(b, dict)] if isinstance(edgings, dict) else []
    parts = tuple(
        (code, ask_all(paper, path_in("edgings", code), ("name", "thickness", "solid", "price_per_m")))
        for code in codes
    )
    return FieldGroup(key="edgings", title="Edgings", state=", ".join(codes) or "none", parts=parts)
