"""What a field of a job or workshop file is, said once, beside the field itself.

A field of the model that stands in a file is annotated with a rule (what may be written there; a yes or no and a choice
of words are told by their type) and with `Told` (what it means). Its type and its usual value are the dataclass's own.
From these the files are read and written, their references and schemas made, and the forms of the page asked. Bounds
only turn away slips of the pen: whether a part can be made is judged by the stages. Lengths are millimetres.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import MISSING, dataclass, fields
from enum import Enum, StrEnum
from functools import cache
from typing import Any, Final, get_args, get_origin, get_type_hints

# --- What may be written ----------------------------------------------------------------------------------------------


class Rule:
    """What may be written in a field."""

    __slots__ = ()

    @property
    def allowed(self) -> str:
        """What may stand there, in words."""
        raise NotImplementedError


def either(words: Sequence[str]) -> str:
    """Return the words as a choice: `a, b or c`."""
    quoted = [f'"{w}"' for w in words]
    return quoted[0] if len(quoted) == 1 else f"{', '.join(quoted[:-1])} or {quoted[-1]}"


@dataclass(frozen=True, slots=True)
class Length(Rule):
    """A length from `low` to `high` mm; `do` is what to do about another one."""

    low: float
    high: float
    do: str = ""

    @property
    def allowed(self) -> str:
        """What may stand there, in words."""
        return f"{self.low:g} to {self.high:g} mm"


@dataclass(frozen=True, slots=True)
class Lengths(Rule):
    """A list of lengths, each from `low` to `high` mm."""

    low: float
    high: float
    least: int = 0
    rising: bool = False

    @property
    def allowed(self) -> str:
        """What may stand there, in words."""
        many = f"at least {self.least} lengths" if self.least else "a list of lengths"
        return f"{many}, each {self.low:g} to {self.high:g} mm{', rising' if self.rising else ''}"


@dataclass(frozen=True, slots=True)
class Size(Rule):
    """The clear size of an opening: a length, or parts of what its neighbours leave."""

    low: float = 10
    high: float = 5000

    @property
    def allowed(self) -> str:
        """What may stand there, in words."""
        return f'{self.low:g} to {self.high:g} mm, or a share of the rest such as "2 parts"'


@dataclass(frozen=True, slots=True)
class Number(Rule):
    """A plain number from `low` to `high`, in `unit`; a whole one where `whole`."""

    low: float
    high: float
    unit: str = ""
    whole: bool = False
    do: str = ""

    @property
    def allowed(self) -> str:
        """What may stand there, in words."""
        words = "a whole number, " if self.whole else ""
        return f"{words}{self.low:g} to {self.high:g} {self.unit}".rstrip()


@dataclass(frozen=True, slots=True)
class Share(Rule):
    """A share from `low` to `high` of the whole, written as a percentage (`"15 %"`) or as a plain number (0.15)."""

    low: float
    high: float

    @property
    def allowed(self) -> str:
        """What may stand there, in words."""
        return f"{100 * self.low:g} to {100 * self.high:g} %"


@dataclass(frozen=True, slots=True)
class Amount(Rule):
    """An amount of money in the job's or workshop's currency, kept in whole cents."""

    @property
    def allowed(self) -> str:
        """What may stand there, in words."""
        return "0 to 1,000,000, with two decimals at most"


@dataclass(frozen=True, slots=True)
class Text(Rule):
    """A line of text of `least` to `most` characters; of several lines where `lines`."""

    least: int = 0
    most: int = 200
    lines: bool = False

    @property
    def allowed(self) -> str:
        """What may stand there, in words."""
        return (
            f"text of {self.least} to {self.most} characters" if self.least else f"text, up to {self.most} characters"
        )


@dataclass(frozen=True, slots=True)
class CaseCode(Rule):
    """A short code that goes into marks, ids and the names of files: letters, figures, dashes and underscores."""

    most: int

    @property
    def allowed(self) -> str:
        """What may stand there, in words."""
        return f"1 to {self.most} letters, figures, dashes and underscores, a letter or figure first"


@dataclass(frozen=True, slots=True)
class Names(Rule):
    """A list of texts."""

    least: int = 0
    most: int = 50

    @property
    def allowed(self) -> str:
        """What may stand there, in words."""
        return f"a list of {self.least} names" if self.least == self.most else "a list of names"


@dataclass(frozen=True, slots=True)
class Flag(Rule):
    """Yes or no."""

    @property
    def allowed(self) -> str:
        """What may stand there, in words."""
        return "true or false"


@dataclass(frozen=True, slots=True)
class Choice(Rule):
    """One of the values of `kind`, or of those of it that are named in `only`."""

    kind: type[StrEnum]
    only: tuple[StrEnum, ...] = ()

    @property
    def values(self) -> tuple[str, ...]:
        """The words that may stand there."""
        return tuple(v.value for v in (self.only or tuple(self.kind)))

    @property
    def allowed(self) -> str:
        """What may stand there, in words."""
        return either(self.values)


@dataclass(frozen=True, slots=True)
class Choices(Rule):
    """A list of values of `kind`, each once."""

    kind: type[StrEnum]

    @property
    def allowed(self) -> str:
        """What may stand there, in words."""
        return f"a list of {either([v.value for v in self.kind])}"


@dataclass(frozen=True, slots=True)
class Free(Rule):
    """A value of another field, named beside it, or a list of them where `many`: judged when it is put there."""

    many: bool = False

    @property
    def allowed(self) -> str:
        """What may stand there, in words."""
        return "a list of values that the field takes" if self.many else "a length or number that the field takes"


@dataclass(frozen=True, slots=True)
class OneOf(Rule):
    """One of a few whole numbers."""

    numbers: tuple[int, ...]

    @property
    def allowed(self) -> str:
        """What may stand there, in words."""
        words = [str(n) for n in self.numbers]
        return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} or {words[-1]}"


@dataclass(frozen=True, slots=True)
class Tables(Rule):
    """Tables by code that are read by themselves, since one may take figures over from another."""

    @property
    def allowed(self) -> str:
        """What may stand there, in words."""
        return "tables, each with a code of its own"


FLAG: Final = Flag()
AMOUNT: Final = Amount()
CODE: Final = Text(1, 60)
"""A code that names a thing of the file or of the workshop."""


# --- What a field means -----------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Told:
    """What a field of a file means, as a maker is told it.

    Attributes:
        words: what it means, in whole sentences.
        name: what the file calls it, where that is not the model's name.
        title: what a form calls it, where its name with spaces would not do.
        example: stands in for it where it is needed and wrong, so that the rest of the file can be looked at.
        alone: whether it may be written alone in place of its whole table.
        made: whether something else stands for it where it is left out, so that the model's usual value does not.
        only: another field of its table, and what that must be for this one to matter; forms ask it only then.
        seldom: whether forms keep it folded below the others.
    """

    words: str
    name: str = ""
    title: str = ""
    example: Any = None
    alone: bool = False
    made: bool = False
    only: tuple[str, tuple[str, ...]] | None = None
    seldom: bool = False


class Key(Enum):
    """A mark of the field that is its table's key in the file."""

    KEY = "key"


KEY: Final = Key.KEY


class Many(Enum):
    """How many tables a field holds."""

    ONE = "one"
    LIST = "a list"
    KEYED = "by key"


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """A field of a table of a file.

    Attributes:
        name: what the file calls it.
        attribute: what the model calls it; empty where it is in the file only.
        rule: what may stand there; None where it holds tables of its own.
        table: the kind of table that it holds, if it does, and `many` how many of them.
        usual: the value that is taken where it is left out; None where something else stands for it.
        needed: whether it must be written.
    """

    name: str
    told: Told
    attribute: str = ""
    rule: Rule | None = None
    table: type | None = None
    many: Many = Many.ONE
    usual: Any = None
    needed: bool = False

    @property
    def title(self) -> str:
        """What a form calls it."""
        return self.told.title or self.name.replace("_", " ")


@cache
def fields_of(kind: type) -> Mapping[str, Field]:
    """Return the fields of a table of a file by their names there, in order, as the model's class says them."""
    hints = _hints(kind)
    found = (_field(f.name, hints[f.name], _usual(f)) for f in fields(kind))
    return {f.name: f for f in found if f is not None}


@cache
def _hints(kind: type) -> Mapping[str, Any]:
    return get_type_hints(kind, include_extras=True)


def key_of(kind: type) -> str:
    """Return the attribute of a table's class that is its key in the file; empty where it has none."""
    return _key_of(kind)


@cache
def _key_of(kind: type) -> str:
    return next((n for n, hint in _hints(kind).items() if KEY in getattr(hint, "__metadata__", ())), "")


def _usual(field: Any) -> object:  # noqa: ANN401 - a field of any dataclass
    return field.default_factory() if field.default_factory is not MISSING else field.default


def _field(attribute: str, hint: Any, usual: object) -> Field | None:  # noqa: ANN401 - any annotation
    marks = getattr(hint, "__metadata__", ())
    told = next((m for m in marks if isinstance(m, Told)), None)
    if told is None:
        return None
    rule = next((m for m in marks if isinstance(m, Rule)), None) or _plain_rule(hint.__origin__)
    table, many = (None, Many.ONE) if rule is not None else _table_in(hint.__origin__)
    return Field(
        name=told.name or attribute,
        attribute=attribute,
        told=told,
        rule=rule,
        table=table,
        many=many,
        usual=None if told.made or usual is MISSING else usual,
        needed=usual is MISSING and not told.made,
    )


def _beside_none(kind: Any) -> Any:  # noqa: ANN401 - any annotation
    """Return `X` of `X | None`."""
    parts = [a for a in get_args(kind) if a is not type(None)]
    return parts[0] if parts and get_origin(kind) is not tuple else kind


def _plain_rule(kind: Any) -> Rule | None:  # noqa: ANN401 - any annotation
    """Return the rule of a type that says by itself what may be written."""
    kind = _beside_none(kind)
    if kind is bool:
        return FLAG
    return Choice(kind) if isinstance(kind, type) and issubclass(kind, StrEnum) else None


def _table_in(kind: Any) -> tuple[type | None, Many]:  # noqa: ANN401 - any annotation
    """Return the table's class within `X`, `X | None` or `tuple[X, ...]`, and how many of them."""
    kind = _beside_none(kind)
    if get_origin(kind) is tuple:
        inner = get_args(kind)[0]
        return inner, Many.KEYED if key_of(inner) else Many.LIST
    return kind, Many.ONE
