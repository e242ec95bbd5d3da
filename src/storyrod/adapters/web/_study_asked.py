"""What a study is asked on the page: its questions as an address has them, and the study file that they come to."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Final
from urllib.parse import urlencode

import tomlkit
from starlette.datastructures import QueryParams

from storyrod.adapters.files.asking import about, typed
from storyrod.adapters.web._brief_fields import place_words
from storyrod.measure.length import MM_PER_INCH, Unit
from storyrod.model.joining import JointClass
from storyrod.model.study import LEAST, Asked
from storyrod.planning import Plan

SIZES: Final = ("width", "height", "depth")
OPENINGS: Final = ("rows", "columns")
HELD: Final = "methods.corner"

RANGES: Final = (("field", "from", "to", "step"), ("field2", "from2", "to2", "step2"))
"""The names of the two ranges in an address."""

RANGE_NAMES: Final = ("One size", "And another")

_VARY: Final = re.compile(r"vary\[(\d{1,3})\](?:\.(\w+))?")
_ENDS: Final = {"step": "in steps of"}
_NAMES: Final = {
    "vary": "What may change",
    "only.sheets_most": "At most so many sheets",
    "only.price_most": "At most this price",
    "price_list.title": "Title",
    "price_list.round_to": "Round up to whole",
    "price_list.surcharge": "Surcharge",
    "price_list.valid": "Holds until",
    "price_list.note": "Your own words below it",
}

_ASK: Final = tuple(a.value for a in Asked if a is not Asked.STAGES)
_LIST: Final = ("title", "round_to", "surcharge", "valid", "note")
_ONLY: Final = ("sheets_most", "price_most")
_WORDS: Final = (*(n for names in RANGES for n in names), "least", *_ONLY, *_LIST)
_FLAGS: Final = ("sound", "jigs_owned", "list")
_NUMBER: Final = re.compile(r"\d+([.,]\d+)?")
LONGEST: Final = 1000
"""Letters of an answer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pick:
    """Something that takes one of a few values: its field, its name, and each value with its name."""

    field: str
    name: str
    values: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Questions:
    """What the page asks, and what was answered.

    Attributes:
        ranges: fields that may take a range, with their names.
        picks: fields that take one of a few values.
        said: answers by name, as they were typed.
        picked: values chosen of each pick, by field.
    """

    ranges: tuple[tuple[str, str], ...]
    picks: tuple[Pick, ...]
    said: dict[str, str]
    picked: dict[str, tuple[str, ...]]

    @property
    def is_asked(self) -> bool:
        """Whether anything is to vary."""
        return bool(self.said.get("field") or self.said.get("field2") or any(self.picked.values()))

    @property
    def query(self) -> str:
        """The answers as they stand in an address."""
        picks = [("pick", f"{field}={value}") for field, values in self.picked.items() for value in values]
        return urlencode([*((n, v) for n, v in self.said.items() if v), *picks])

    def name_of(self, field: str) -> str:
        """Return what a maker calls a field that varies."""
        return next((name for f, name in (*self.ranges, *((p.field, p.name) for p in self.picks)) if f == field), field)

    def value_name(self, field: str, value: object) -> object:
        """Return what a maker calls a value."""
        return next((name for p in self.picks if p.field == field for v, name in p.values if v == value), value)

    def place_of(self, at: str) -> str:
        """Return where on the page a fault of the study file is mended: `vary[0].to` is `One size, to`."""
        found = _VARY.match(at)
        if found is None:
            return _NAMES.get(at, at)
        asked = [name for name, (field, *_) in zip(RANGE_NAMES, RANGES, strict=True) if self.said.get(field)]
        asked += [p.name for p in self.picks if self.picked.get(p.field)]
        n = int(found[1])
        words = asked[n] if n < len(asked) else ""
        return ", ".join(w for w in (words, _ENDS.get(found[2] or "", found[2] or "")) if w)

    def study_text(self, job_file: str, unit: Unit) -> str:
        """Return the study file that the answers come to."""
        file: dict[str, Any] = {"job": job_file, "ask": list(_ASK)}
        if self.said.get("least"):
            file["least"] = self.said["least"]
        file["vary"] = [*self._ranges(unit), *self._picks()]
        only = {name: True for name in ("sound", "jigs_owned") if self.said.get(name)}
        file["only"] = only | {n: _plain(self.said[n]) for n in _ONLY if self.said.get(n)}
        if self.said.get("list"):
            file["price_list"] = {n: _listed(n, self.said[n]) for n in _LIST if self.said.get(n)}
        return tomlkit.dumps(file)

    def _ranges(self, unit: Unit) -> Iterator[dict[str, Any]]:
        for field, *ends in RANGES:
            path = self.said.get(field, "")
            if path:
                last = path.rpartition(".")[2]
                name = f"{last} in {'mm' if unit is Unit.MM else 'inches'}" if last in SIZES else last
                given = {end.rstrip("2"): _typed(path, self.said[end]) for end in ends if self.said.get(end)}
                yield {"field": path, "name": name, **given}

    def _picks(self) -> Iterator[dict[str, Any]]:
        for pick in self.picks:
            values = self.picked.get(pick.field, ())
            if values:
                yield {"field": pick.field, "name": pick.name, "values": list(values)}


def questions_of(plan: Plan, asked: QueryParams, tables: dict[str, Any]) -> Questions:
    """Return the questions for a job with the answers in an address; those that make no sense are left out."""
    picks = _picks(plan)
    said = {n: asked.get(n, "").strip()[:LONGEST] for n in _WORDS}
    said |= {n: "yes" for n in _FLAGS if asked.get(n)}
    if said["least"] not in {a.value for a in LEAST}:
        said["least"] = Asked.PRICE.value
    chosen = set(asked.getlist("pick"))
    picked = {p.field: tuple(v for v, _ in p.values if f"{p.field}={v}" in chosen) for p in picks}
    ranges = tuple((f, place_words(f, tables)) for f in _fields(plan, tables))
    known = {f for f, _ in ranges}
    for field, *_ in RANGES:
        if said[field] not in known:
            said[field] = ""
    found = Questions(ranges=ranges, picks=picks, said=said, picked=picked)
    if not found.is_asked and not asked:
        said |= _first(plan)
    return found


def _fields(plan: Plan, tables: dict[str, Any]) -> Iterator[str]:
    cases = tables.get("cases")
    for n, case in enumerate(cases if isinstance(cases, list) else ()):
        yield from (f"cases[{n}].{size}" for size in SIZES)
        inside = case.get("inside") if isinstance(case, dict) else None
        if isinstance(inside, dict):
            yield from (f"cases[{n}].inside.{name}" for name in OPENINGS if isinstance(inside.get(name), list))
        if n + 1 == len(plan.job.cases):
            return


def _picks(plan: Plan) -> tuple[Pick, ...]:
    methods = tuple((m.code, m.name) for m in plan.workshop.methods if JointClass.CORNER in m.classes)
    boards = tuple((b.code, b.name or b.code) for b in plan.job.boards)
    found = [Pick(field=HELD, name="corner joints", values=methods)]
    if len(boards) > 1:
        found += [
            Pick(field=f"cases[{n}].board", name=f"board of case {case.code}", values=boards)
            for n, case in enumerate(plan.job.cases)
        ]
    return tuple(found)


def _first(plan: Plan) -> dict[str, str]:
    """Return what the page proposes at first: the first case's width, so much narrower and wider."""
    unit, width = plan.job.unit, plan.job.cases[0].width
    near, step = (50.0, 10.0) if unit is Unit.MM else (2 * MM_PER_INCH, MM_PER_INCH / 2)
    ends = {"from": width - near, "to": width + near, "step": step}
    return {"field": "cases[0].width"} | {name: plan.job.lengths.n(mm) for name, mm in ends.items()}


def _typed(path: str, words: str) -> object:
    return typed(path, words) if about(path) is not None else _plain(words)


def _plain(words: str) -> object:
    """Return a plain number as one; other words as they are, to be told as a fault."""
    if not _NUMBER.fullmatch(words) or len(words) > 15:
        return words
    value = float(words.replace(",", "."))
    return int(value) if value == int(value) else value


def _listed(name: str, words: str) -> object:
    if name == "round_to":
        return _plain(words)
    if name == "surcharge":
        return words if words.endswith("%") else f"{words} %"
    return words
