"""The index of rules leads to names that are there, and each word in it to one place."""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib import import_module

import pytest

from tests.places import ROOT

TEXT = (ROOT / "docs" / "rules.md").read_text(encoding="utf-8")
ROWS = re.findall(r"^\| (?!rule|---)(.+?) \| (.+?) \|$", TEXT, re.MULTILINE)


def names() -> Iterator[str]:
    for _, places in ROWS:
        yield from re.findall(r"`([\w.]+)`", places)


def is_there(name: str) -> bool:
    """Whether a dotted name leads to a module, or to something in one: a field of a dataclass too."""
    words = name.split(".")
    for n in range(len(words), 0, -1):
        try:
            found: object = import_module(".".join(["storyrod", *words[:n]]))
        except ModuleNotFoundError:
            continue
        for word in words[n:]:
            if word in getattr(found, "__dataclass_fields__", {}):
                return word == words[-1]
            found = getattr(found, word, None)
        return found is not None
    return False


@pytest.mark.parametrize("name", sorted(set(names())))
def test_a_rule_stands_where_the_index_says(name: str) -> None:
    assert is_there(name)


def test_a_name_that_is_not_there_is_seen() -> None:
    assert not is_there("trade.bush.push_offset")
    assert not is_there("model.workshop.Saw.curf")


def test_rules_are_in_the_order_of_their_words_each_once() -> None:
    rules = [rule for rule, _ in ROWS]
    assert rules == sorted(set(rules))


@pytest.mark.parametrize(
    "word",
    [
        "ladder",
        "edge distance",
        "drawer side clearance",
        "kerf",
        "slope",
        "bush offset",
        "overlay",
        "glue time",
    ],
)
def test_a_maker_finds_a_rule_by_its_word(word: str) -> None:
    assert sum(word in rule for rule, _ in ROWS) == 1
