"""A field is written once: its class says its name, rule, usual value and what it holds."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

import pytest

from storyrod.model.board import Board, SheetSize
from storyrod.model.job import Job
from storyrod.model.workshop import Price, Workshop
from storyrod.model.written import FLAG, KEY, Choice, Length, Many, Text, Told, either, fields_of, key_of


class Wood(StrEnum):
    OAK = "oak"
    ASH = "ash"


@dataclass(frozen=True, slots=True, kw_only=True)
class Slat:
    code: Annotated[str, KEY]
    width: Annotated[float, Length(5, 90), Told("How wide.")]
    wood: Annotated[Wood | None, Told("Of what.")] = None
    planed: Annotated[bool, Told("Whether it is planed.")] = True
    name: Annotated[str, Text(0, 9), Told("What it is called.", name="called", made=True)] = "slat"
    found: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rack:
    slats: Annotated[tuple[Slat, ...], Told("Its slats.")] = ()
    best: Annotated[Slat | None, Told("The best.")] = None
    sizes: Annotated[tuple[SheetSize, ...], Told("Sizes.")]


def test_a_field_says_what_may_stand_there_and_what_is_usual() -> None:
    fields = fields_of(Slat)

    assert list(fields) == ["width", "wood", "planed", "called"]  # the key and what only the model knows are no fields
    assert fields["width"].needed
    assert fields["width"].rule == Length(5, 90)
    assert (fields["wood"].rule, fields["wood"].needed, fields["wood"].usual) == (Choice(Wood), False, None)
    assert (fields["planed"].rule, fields["planed"].usual) == (FLAG, True)
    assert (fields["called"].attribute, fields["called"].usual, fields["called"].needed) == ("name", None, False)
    assert fields["called"].title == "called"


def test_a_field_without_a_rule_holds_tables() -> None:
    fields = fields_of(Rack)

    assert [(f.table, f.many, f.needed) for f in fields.values()] == [
        (Slat, Many.KEYED, False),
        (Slat, Many.ONE, False),
        (SheetSize, Many.LIST, True),
    ]


@pytest.mark.parametrize(("kind", "key"), [(Slat, "code"), (Board, "code"), (Price, "item"), (Rack, ""), (Job, "")])
def test_the_key_of_a_table_is_marked(kind: type, key: str) -> None:
    assert key_of(kind) == key


@pytest.mark.parametrize("kind", [Job, Workshop])
def test_every_field_below_a_file_has_a_rule_or_a_table(kind: type) -> None:
    seen, waiting = set(), [kind]
    while waiting:
        for found in fields_of(waiting.pop()).values():
            assert (found.rule is None) != (found.table is None), found.name
            if found.table is not None and found.table not in seen:
                seen.add(found.table)
                waiting.append(found.table)
    assert len(seen) > 12


def test_a_choice_is_told_in_words() -> None:
    assert either(["a"]) == '"a"'
    assert Choice(Wood).allowed == '"oak" or "ash"'
    assert Choice(Wood, (Wood.ASH,)).values == ("ash",)
