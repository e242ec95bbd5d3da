"""Drawings stay as a person last accepted them: see `drawings.py` beside this file."""

from __future__ import annotations

import json
from collections import Counter

import pytest

from tests.golden.drawings import FOLDER, GOLDEN, meaning_of


@pytest.mark.parametrize("name", GOLDEN)
def test_the_drawing_means_what_was_accepted(name: str) -> None:
    accepted = json.loads((FOLDER / f"{name}.json").read_text(encoding="utf-8"))
    drawn = meaning_of(GOLDEN[name]())

    before, after = Counter(accepted.pop("items")), Counter(drawn.pop("items"))

    assert drawn == accepted
    assert list(before - after) == list(after - before) == []


def test_no_golden_file_lies_unused() -> None:
    assert {f.stem for f in FOLDER.glob("*.json")} == set(GOLDEN)
