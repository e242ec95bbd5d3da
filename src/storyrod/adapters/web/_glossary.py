"""The trade's words of storyrod, from the one file that the docs show too."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from typing import Final

from storyrod.adapters.files import glossary_text

_ROW: Final = re.compile(r"\| (?!word \|)(?!---)(.+?) \| (.+?) \|")
_LINK: Final = re.compile(r"\[([^\]]+)\]\([^)]+\)")


@dataclass(frozen=True, slots=True, kw_only=True)
class Word:
    """A word with what it means; `ours` says that no other workshop knows it by that name."""

    word: str
    meaning: str
    ours: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Chapter:
    """Words of one subject."""

    title: str
    words: tuple[Word, ...]


@cache
def chapters() -> tuple[Chapter, ...]:
    """Return all words by subject, as the file has them."""
    found = []
    for part in glossary_text().split("\n## ")[1:]:
        title, _, rows = part.partition("\n")
        found.append(Chapter(title=title.strip(), words=tuple(map(_word, _ROW.findall(rows)))))
    return tuple(found)


def _word(row: tuple[str, str]) -> Word:
    word, meaning = (_LINK.sub(r"\1", cell).replace("\\|", "|") for cell in row)
    ours = meaning.startswith("*ours*")
    plain = re.sub(r"^\*ours\*:?\s*", "", meaning)
    return Word(word=word.replace("`", ""), meaning=plain.replace("`", "").replace("*", ""), ours=ours)
