"""The fields of a job file as the brief asks for them: what was typed, how it was understood, what is usual, faults."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any, Final

from storyrod.adapters.files.asking import About, Asked, about, as_shown, understood, usual_words
from storyrod.adapters.files.editing import parsed
from storyrod.adapters.files.reshaping import value_at
from storyrod.adapters.web._worked import Worked
from storyrod.faults import Fault, JobError
from storyrod.measure.length import Unit

WORDS_FOR_TABLES: Final = {"back": "kind", "hand_hold": "kind", "clothes_rail": "kind", "graduated": "by"}
"""Tables for which a word alone may stand."""

_NONE_USUAL: Final = (".back.kind", ".hand_hold.kind")
"""Kinds that are needed where their table is written, and that are none where it is not."""

NO_RAIL: Final = "none"
"""What the page sends as the kind of a clothes rail that is to go."""

CODES: Final = {"board": "boards", "bottom_board": "boards", "edging": "edgings"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Asking:
    """One field as it is shown.

    Attributes:
        id: its name among the page's elements.
        value: the words as they were typed, empty where it is left out.
        told: how they were understood, where that is not plain.
        hint: what it means, and the usual value.
        options: what may be chosen, as (value, words); empty for a field that is typed.
        ticked: whether a yes or no is yes.
    """

    id: str
    path: str
    label: str
    kind: str
    value: str
    told: str = ""
    hint: str = ""
    faults: tuple[str, ...] = ()
    options: tuple[tuple[str, str], ...] = ()
    ticked: bool = False

    @property
    def described_by(self) -> str:
        """The ids of the words under it, for a screen reader."""
        parts = [f"{self.id}-told", *([f"{self.id}-wrong"] if self.faults else []), f"{self.id}-hint"]
        return " ".join(parts)


@dataclass(frozen=True, slots=True, kw_only=True)
class Doing:
    """A button: what it does, as an act tells it, its word, and for a screen reader what it is about."""

    do: str
    word: str
    about: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One of several alike, such as a sheet size: its fields side by side, and the button that takes it away."""

    title: str
    fields: tuple[Asking, ...]
    take_away: Doing


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """Some fields of a group.

    Attributes:
        at: the path of what it is about, at which it is told why something cannot be done with it.
        folded: whether it is shut until it is opened, being seldom needed.
        lines: several alike, each with the same fields.
        more: fields that are seldom needed, folded below the others.
        wrong: what is wrong with the thing as a whole, or why it cannot be taken away.
    """

    title: str = ""
    at: str = ""
    fields: tuple[Asking, ...] = ()
    folded: bool = False
    note: str = ""
    lines: tuple[Line, ...] = ()
    more: tuple[Asking, ...] = ()
    acts: tuple[Doing, ...] = ()
    wrong: tuple[str, ...] = ()

    @property
    def id(self) -> str:
        """Its name among the page's elements."""
        return "part-" + _as_id(self.at or self.title)

    @property
    def asked(self) -> tuple[Asking, ...]:
        """All its fields."""
        return (*self.fields, *(a for line in self.lines for a in line.fields), *self.more)

    @property
    def faults(self) -> int:
        """How many things are wrong in it."""
        return sum(bool(a.faults) for a in self.asked) + bool(self.wrong)

    @property
    def is_open(self) -> bool:
        """Whether it stands open though it is folded: something is wrong, or something is said in it."""
        return self.faults > 0

    @property
    def more_is_open(self) -> bool:
        """Whether the seldom needed fields stand open: something is wrong there."""
        return any(a.faults for a in self.more)


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldGroup:
    """Fields that belong together: with its state in a few words beside its name, open where it is wanted."""

    key: str
    title: str
    state: str = ""
    parts: tuple[Part, ...] = ()
    open: bool = False
    note: str = ""

    @property
    def faults(self) -> int:
        """How many things in it are wrong."""
        return sum(p.faults for p in self.parts)


def field_id(path: str) -> str:
    """Return the id of a field's element."""
    return "f-" + _as_id(path)


def _as_id(words: str) -> str:
    return re.sub(r"[^A-Za-z0-9_]+", "-", words).strip("-")


@dataclass(slots=True, kw_only=True)
class Paper:
    """A job's text as plain tables, and the faults that stand in it, from which fields are asked."""

    raw: dict[str, Any]
    faults: tuple[Fault, ...]
    unit: Unit = Unit.MM
    fraction: int = 32
    runners: tuple[str, ...] = ()
    rails: tuple[str, ...] = ()
    rail: str = ""
    feet: tuple[str, ...] = ()
    asked: set[str] = field(default_factory=set)

    @staticmethod
    def of(worked: Worked, refused: tuple[Fault, ...] = ()) -> Paper:
        """Return the tables of a job's text; empty where it is no TOML. `refused` is told beside its own faults."""
        try:
            raw: dict[str, Any] = parsed(worked.text)
        except ValueError:
            raw = {}
        unit = Unit.INCH if raw.get("units") == "in" else Unit.MM
        fraction = raw.get("fraction")
        runners: tuple[str, ...] = ()
        rails: tuple[str, ...] = ()
        rail = ""
        feet: tuple[str, ...] = ()
        if worked.read is not None:
            shop = worked.read.workshop
            runners = tuple(r.code for r in shop.runners)
            feet = tuple(f.code for f in shop.feet)
            rails, rail = tuple(r.code for r in shop.clothes_rails), shop.default_rail
        return Paper(
            raw=raw,
            faults=(*worked.known, *refused),
            unit=unit,
            fraction=fraction if isinstance(fraction, int) and fraction in {8, 16, 32, 64} else 32,
            runners=runners,
            rails=rails,
            rail=rail,
            feet=feet,
        )

    @property
    def cases(self) -> list[dict[str, Any]]:
        """The cases as written."""
        cases = self.raw.get("cases")
        return [c for c in cases if isinstance(c, dict)] if isinstance(cases, list) else []

    def table(self, path: str) -> dict[str, Any]:
        """Return a table as written; a word that stands for one as its kind."""
        found = value_at(self.raw, path)
        if isinstance(found, str):
            return {WORDS_FOR_TABLES.get(path.rpartition(".")[2], "kind"): found}
        return found if isinstance(found, dict) else {}

    def said(self, path: str) -> Any:  # noqa: ANN401  # whatever is written
        """Return what is written at a path; where a word stands for a table, that is its kind."""
        outer, _, name = path.rpartition(".")
        return self.table(outer).get(name) if outer else self.raw.get(name)

    def faults_at(self, path: str) -> tuple[str, ...]:
        """Return what is wrong at a field, in words."""
        return tuple(f"Found {f.found}; allowed: {f.allowed}. {f.do}" for f in self.faults if f.field == path)

    def ask(self, path: str, label: str = "", hint: str = "") -> Asking:
        """Return a field as it is asked for."""
        told = about(path)
        assert told is not None, path  # noqa: S101  # fields are named in this package only
        self.asked.add(path)
        value = as_shown(self.said(path))
        return Asking(
            id=field_id(path),
            path=path,
            label=label or told.title,
            kind=Asked.CHOICE if told.kind is Asked.FLAG and told.usual is None else told.kind,
            value=value,
            told=self.understood(path, value),
            hint=self._hint(told, hint, value),
            faults=self.faults_at(path),
            options=self._options(path, told, value),
            ticked=value == "true" or (not value and told.usual is True),
        )

    def understood(self, path: str, value: str) -> str:
        """Return how a length was understood; nothing where it was not, for then a fault tells."""
        try:
            return understood(path, value, self.unit, self.fraction)
        except JobError:
            return ""

    def _hint(self, told: About, hint: str, value: str) -> str:
        usual = usual_words(told, self.unit, self.fraction)
        words = hint or told.words.replace("`", "")
        return f"{words} Usual: {usual}." if usual and told.kind is not Asked.CHOICE and not value else words

    def _options(self, path: str, told: About, value: str) -> tuple[tuple[str, str], ...]:
        if told.kind is Asked.FLAG:
            return () if told.usual is not None else (("", "not set"), ("true", "yes"), ("false", "no"))
        known: Sequence[str] = told.choices
        if told.name in CODES:
            table = value_at(self.raw, CODES[told.name])
            known = [str(code) for code in table] if isinstance(table, dict) else []
        elif told.name == "runner":
            known = self.runners
        elif path.endswith(".feet.kind"):
            known = self.feet
        elif path.endswith(".clothes_rail.kind"):
            return self._rail_options(path, value)
        if not known and told.name not in CODES:
            return ()
        usual = "none" if path.endswith(_NONE_USUAL) else usual_words(told, self.unit)
        first = () if told.needed and value else (("", f"{usual} (usual)" if usual else "not set"),)
        rest = [(k, k) for k in known if not (k == usual and value != k)]
        stray = [(value, f"{value} (?)")] if value and value not in known else []
        return (*first, *rest, *stray)

    def _rail_options(self, path: str, value: str) -> tuple[tuple[str, str], ...]:
        """Return the kinds of clothes rail: none first where there is no rail yet, else none last."""
        is_there = value_at(self.raw, path.rpartition(".")[0]) is not None
        first = ("", f"{self.rail} (usual)" if is_there else "none")
        kinds = [(k, k) for k in self.rails if not (is_there and k == self.rail and value != k)]
        stray = [(value, f"{value} (?)")] if value and value not in self.rails else []
        return (first, *kinds, *stray, *([(NO_RAIL, "none")] if is_there else []))


def place_words(path: str, raw: dict[str, Any]) -> str:
    """Return where a field is in a maker's words: `case A, column 1, row 2: height`."""
    if not path:
        return "The file"
    words: list[str] = []
    for name, number in re.findall(r'([^.\[\]"]+|"[^"]*")(?:\[(\d+)\])?', path):
        plain = name.strip('"')
        if plain == "cases" and number:
            code = value_at(raw, f"cases[{number}].code")
            words.append(f"case {code if isinstance(code, str) and code else int(number) + 1}")
        elif plain in {"rows", "columns"} and number:
            words.append(f"{plain[:-1]} {int(number) + 1}")
        elif plain == "inside":
            words.append("" if len(words) + 1 < len(path.split(".")) else "inside")
        else:
            words.append(plain.replace("_", " ") + (f" {int(number) + 1}" if number else ""))
    told = ", ".join(w for w in words if w)
    return told[:1].upper() + told[1:]
