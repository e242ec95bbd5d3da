"""What was tapped on the elevation, and what can be changed about it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, Final

from storyrod.adapters.files.asking import Asked
from storyrod.adapters.files.reshaping import SPLITS, place_of, split_of, value_at
from storyrod.adapters.web._brief_fields import Asking, Paper
from storyrod.adapters.web._brief_groups import ask_all, hand_hold
from storyrod.measure.length import Unit, show_length

if TYPE_CHECKING:
    from storyrod.model.carcass import OpeningPlace
    from storyrod.model.detail import DetailedCase

_GROUP_OF: Final = {
    "plinth": "plinth",
    "hanging rail": "hung",
    "wall cleat": "hung",
    "worktop": "worktop",
    "plinth board": "feet",
    "filler": "walls",
    "back": "back",
    "top": "ends",
    "rail": "ends",
    "base": "ends",
    "side left": "size",
    "side right": "size",
    "door": "fronts",
    "drawer front": "fronts",
    "loose shelf": "loose-shelves",
}
"""The group in which a panel's construction is told, by its role."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Act:
    """Something that can be done with an opening: a button with a word."""

    do: str
    word: str
    quiet: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """An opening in the tree: where it leads, how deep it is, and what it is."""

    at: str
    word: str
    about: str
    depth: int
    here: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """What is chosen, with its fields and what can be done with it.

    Attributes:
        at: the path of an opening, or the id of a panel; empty where nothing is chosen.
        group: the key of the group of the case's fields that is about it.
        around: the openings around it, the outermost first.
        cut: `rows` or `columns` where it is cut, and into how many.
    """

    at: str = ""
    title: str = ""
    words: str = ""
    group: str = ""
    fields: tuple[Asking, ...] = ()
    more: tuple[Asking, ...] = ()
    faults: tuple[str, ...] = ()
    around: tuple[Step, ...] = ()
    acts: tuple[Act, ...] = ()
    can_cut: bool = False
    cut: str = ""
    parts: int = 0


def chosen_of(paper: Paper, number: int, at: str, case: DetailedCase | None) -> Chosen:
    """Return what is chosen in a case: an opening by its path, a panel or a size by its id, or nothing."""
    whole = f"cases[{number}].inside"
    if at.startswith(whole) and re.fullmatch(r"(\.(rows|columns)\[\d+\])*", at[len(whole) :]):
        opening = value_at(paper.raw, at)
        if isinstance(opening, dict) or (at == whole and opening is None):
            return _opening(paper, at, case)
        return Chosen()
    if case is None or not at:
        return Chosen()
    code = case.built.case.code
    if at in {code, f"{code}.width", f"{code}.height", f"{code}.depth"}:
        return Chosen(at=at, title="The whole case", words="Its overall sizes.", group="size")
    if at == f"{code}.hung":
        return Chosen(at=at, title="How it hangs", words="Its height on the wall, its rail and fixings.", group="hung")
    if at == f"{code}.feet":
        return Chosen(at=at, title="Its feet", words="Their height, number and plinth board.", group="feet")
    panel = next((p for p in case.panels if p.id == at), None)
    if panel is None:
        return Chosen()
    group = _GROUP_OF.get(panel.role.value, "")
    size = f"{_told(paper, panel.length)} × {_told(paper, panel.width)}, {panel.board}"
    title = f"{panel.mark} {panel.name}"
    if panel.role.value in {"divider", "shelf"}:
        return _parting(paper, at, (title, size), case)
    return Chosen(at=at, title=title, words=f"{size}.", group=group)


def _told(paper: Paper, mm: float) -> str:
    return show_length(mm, paper.unit, paper.fraction)


def _parting(paper: Paper, at: str, told: tuple[str, str], case: DetailedCase) -> Chosen:
    """A divider or shelf: it is there because the opening before it is parted from the next."""
    panel = next(p for p in case.panels if p.id == at)
    places = {o.id: o for o in case.built.openings}
    around = places.get(panel.opening)
    before = _before(panel.box, [places[c] for c in around.children if c in places]) if around else None
    if around is None or before is None:
        return Chosen(at=at, title=told[0], words=told[1])
    parted = paper.ask(f"{before.cause}.parted", label="Divider", hint="Without it, the two openings are one.")
    fields = (parted, *ask_all(paper, around.cause, ("board",)))
    words = f"{told[1]}. It divides {before.name} from its neighbour; drag it, or type the size of one of the two."
    return Chosen(at=at, title=told[0], words=words, fields=fields, around=_around(paper, before.cause, self_too=True))


def _before(box: Any, parts: list[OpeningPlace]) -> OpeningPlace | None:  # noqa: ANN401  # a Box
    return next(
        (p for p in parts if abs(p.box.high.x - box.low.x) < 0.01 or abs(p.box.low.z - box.high.z) < 0.01),
        None,
    )


def _opening(paper: Paper, at: str, case: DetailedCase | None) -> Chosen:
    opening = paper.table(at)
    split, place = split_of(opening), place_of(at)
    drawn = next((o for o in case.built.openings if o.cause == at), None) if case is not None else None
    parts = len(opening[split]) if split else 0
    names = ["holds"]
    if place is not None:
        names.append(SPLITS[place[1]])
    if not split and opening.get("holds") != "drawer":
        names.append("loose_shelves")
    if opening.get("holds") == "door":
        names.append("hinged")
    if place is not None and not _is_last(paper, place):
        names.append("parted")
    rail = () if split or opening.get("holds") == "drawer" or opening.get("loose_shelves") else _rail(paper, at)
    more = ["name", *([] if split else ["load_kg", "contents"]), *(["board"] if split else [])]
    if split == "rows":
        more.append("set_back")
    if place is not None and place[1] == "rows" and not _is_last(paper, place):
        more.append("shelf_at")
    front = opening.get("holds") in {"drawer", "door", "pair of doors"}
    if front:
        more += ["front_kind", *(["front_height"] if place is not None and place[1] == "rows" else [])]
    return Chosen(
        at=at,
        title=_title(at, opening),
        words=_size_words(paper, drawn),
        fields=_with_size(paper, _asked(paper, at, names, place), drawn),
        more=(
            *ask_all(paper, at, more),
            *(_graduated(paper, at) if split == "rows" else ()),
            *rail,
            *(hand_hold(paper, at) if front else ()),
        ),
        faults=_own_faults(paper, at, split),
        around=_around(paper, at),
        acts=_acts(paper, place),
        can_cut=not split,
        cut=split,
        parts=parts,
    )


def _graduated(paper: Paper, at: str) -> tuple[Asking, ...]:
    """Return the fields of graduated fronts; where none are asked for, how they could grow alone."""
    written = value_at(paper.raw, f"{at}.graduated")
    by = written.get("by") if isinstance(written, dict) else written
    return ask_all(paper, f"{at}.graduated", ("by", *([by] if by in {"step", "ratio"} else [])))


def _rail(paper: Paper, at: str) -> tuple[Asking, ...]:
    """Return the fields of a clothes rail; where none is written, its kind alone."""
    written = value_at(paper.raw, f"{at}.clothes_rail")
    names = ("kind", "height", "from_front", "load_kg") if written is not None else ("kind",)
    kind, *rest = ask_all(paper, f"{at}.clothes_rail", names)
    hint = "A tube between two sockets, for hangers."
    return (replace(kind, kind=Asked.CHOICE, label="Clothes rail", hint=hint), *rest)


_HINTS: Final = {
    "height": 'Clear height, such as 140 or 5 1/2"; "2 parts" for a share of the rest; empty for an equal share.',
    "width": 'Clear width, such as 300 or 12"; "2 parts" for a share of the rest; empty for an equal share.',
    "holds": "",
    "loose_shelves": "How many rest on pins in it.",
    "parted": "Below a row, at the right of a column.",
}


def _asked(paper: Paper, at: str, names: list[str], place: tuple[str, str, int] | None) -> tuple[Asking, ...]:
    """Return the fields of an opening; what is wrong with a whole row of sizes is told at the size as well."""
    made = []
    for name in names:
        asking = paper.ask(f"{at}.{name}", hint=_HINTS.get(name, ""))
        if name == "holds":
            asking = replace(asking, kind="chips", hint="", value=asking.value or "open", options=_holding(asking))
        elif place is not None and name == SPLITS[place[1]]:
            asking = replace(asking, faults=(*asking.faults, *paper.faults_at(f"{place[0]}.{place[1]}")))
        made.append(asking)
    return tuple(made)


def _holding(asking: Asking) -> tuple[tuple[str, str], ...]:
    return tuple((value, words) for value, words in asking.options if value)


def _title(at: str, opening: Mapping[str, Any]) -> str:
    name = opening.get("name")
    word = _word(at)
    return f"{name}" if isinstance(name, str) and name else word


def _word(at: str) -> str:
    place = place_of(at)
    return f"{place[1][:-1].capitalize()} {place[2] + 1}" if place else "The inside"


def _size_words(paper: Paper, drawn: OpeningPlace | None) -> str:
    if drawn is None:
        return ""
    box = drawn.box
    size = [_told(paper, b - a) for a, b in ((box.low.x, box.high.x), (box.low.z, box.high.z))]
    unit = "" if paper.unit is Unit.INCH else " mm"
    return f"{size[0]} × {size[1]}{unit} clear, width by height."


def _with_size(paper: Paper, fields: tuple[Asking, ...], drawn: OpeningPlace | None) -> tuple[Asking, ...]:
    """Say what a share comes to, beside the field in which it is typed or left out."""
    if drawn is None:
        return fields
    box, made = drawn.box, []
    for asking in fields:
        if asking.path.endswith((".height", ".width")) and (not asking.value or "part" in asking.value.casefold()):
            size = box.high.z - box.low.z if asking.path.endswith(".height") else box.high.x - box.low.x
            words = "an equal share" if not asking.value else asking.value
            told = f"{words}: {_told(paper, size)}{'' if paper.unit is Unit.INCH else ' mm'}"
            made.append(replace(asking, told=told))
        else:
            made.append(asking)
    return tuple(made)


def _own_faults(paper: Paper, at: str, split: str) -> tuple[str, ...]:
    return (*paper.faults_at(at), *(paper.faults_at(f"{at}.{split}") if split else ()))


def _is_last(paper: Paper, place: tuple[str, str, int]) -> bool:
    return place[2] >= len(value_at(paper.raw, f"{place[0]}.{place[1]}") or ()) - 1


def _acts(paper: Paper, place: tuple[str, str, int] | None) -> tuple[Act, ...]:
    if place is None:
        return ()
    rows = place[1] == "rows"
    first, second = ("above", "below") if rows else ("left", "right")
    made = [Act(do="add-before", word=f"Add one {_to(first)}"), Act(do="add-after", word=f"Add one {_to(second)}")]
    if place[2] > 0:
        made.append(Act(do="move-before", word=f"Move {'up' if rows else 'left'}"))
    if not _is_last(paper, place):
        made.append(Act(do="move-after", word=f"Move {'down' if rows else 'right'}"))
    return (*made, Act(do="remove", word=f"Remove this {place[1][:-1]}", quiet=True))


def _to(side: str) -> str:
    return side if side in {"above", "below"} else f"to the {side}"


def _around(paper: Paper, at: str, *, self_too: bool = False) -> tuple[Step, ...]:
    steps: list[Step] = []
    here = at if self_too else (place_of(at) or ("", "", 0))[0]
    while here:
        opening = paper.table(here)
        steps.insert(0, Step(at=here, word=_title(here, opening), about=_about(opening), depth=0))
        here = (place_of(here) or ("", "", 0))[0]
    return tuple(steps)


def tree(paper: Paper, number: int, at: str) -> tuple[Step, ...]:
    """Return every opening of a case in the order in which they are written, with what each holds."""
    return tuple(_walk(paper, f"cases[{number}].inside", at, 0))


def _walk(paper: Paper, path: str, at: str, depth: int) -> Iterator[Step]:
    opening = paper.table(path)
    name = opening.get("name")
    word = _word(path) + (f", {name}" if isinstance(name, str) and name else "")
    yield Step(at=path, word=word, about=_about(opening), depth=depth, here=path == at)
    split = split_of(opening)
    for n, part in enumerate(opening[split] if split else ()):
        if isinstance(part, dict) and depth < 12:
            yield from _walk(paper, f"{path}.{split}[{n}]", at, depth + 1)


def _about(opening: Mapping[str, Any]) -> str:
    split = split_of(opening)
    holds = opening.get("holds")
    words = [str(holds)] if isinstance(holds, str) else []
    if split:
        words.append(f"{len(opening[split])} {split}")
    shelves = opening.get("loose_shelves")
    if isinstance(shelves, int) and shelves:
        words.append(f"{shelves} loose {'shelf' if shelves == 1 else 'shelves'}")
    return ", ".join(words) or "open"
