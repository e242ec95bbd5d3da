"""On which line of a TOML text each field stands.

Read only where there is a fault to be told, after the TOML reader itself has accepted the text: this walk
therefore trusts the grammar and only keeps count of tables, keys and lines.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Sequence

Key = str | int
Path = tuple[Key, ...]

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_ESCAPED = re.compile(r'["\\]')
_MARK = re.compile(r"\\(.)", re.DOTALL)
_TOKEN = re.compile(r'\[(\d+)\]|"((?:[^"\\]|\\.)*)"|([^.\["]+)')


def path_text(path: Sequence[Key]) -> str:
    """Return a path as it is told to the maker: `cases[0].inside.rows[1].height`."""
    text = ""
    for key in path:
        if isinstance(key, int):
            text += f"[{key}]"
        else:
            shown = key if _BARE.fullmatch(key) else f'"{_ESCAPED.sub(_marked, key)}"'
            text += f".{shown}" if text else shown
    return text


def _marked(match: re.Match[str]) -> str:
    return f"\\{match[0]}"


def path_of(text: str) -> Path:
    """Return the keys of a path as it is told to the maker."""
    return tuple(
        int(index) if index else _MARK.sub(r"\1", quoted) if quoted is not None and not plain else plain
        for index, quoted, plain in (m.groups() for m in _TOKEN.finditer(text))
    )


def find_lines(text: str) -> dict[Path, int]:
    """Return the line, from 1, of every table, key and list item of a valid TOML text."""
    return _Walk(text).run()


def line_of(lines: dict[Path, int], path: Path) -> int | None:
    """Return the line of a field, or of the innermost table around it that is written in the file."""
    while path:
        if path in lines:
            return lines[path]
        path = path[:-1]
    return None


def _key_of(written: str) -> str:
    """Return a quoted key as it is meant."""
    if "\\" not in written or written.startswith("'"):
        return written[1:-1]
    return str(tomllib.loads(f"key = {written}")["key"])


class _Walk:
    """One walk through a text."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.counted = 0
        self.line = 1
        self.lines: dict[Path, int] = {}
        self.counts: dict[Path, int] = {}

    def run(self) -> dict[Path, int]:
        table: Path = ()
        while self._skip_blank():
            if self.text.startswith("[[", self.at):
                table = self._header(2)
            elif self.text[self.at] == "[":
                table = self._header(1)
            else:
                self._pair(table)
        return self.lines

    def _note(self, path: Path) -> None:
        self.line += self.text.count("\n", self.counted, self.at)
        self.counted = self.at
        self.lines.setdefault(path, self.line)

    def _skip_blank(self) -> bool:
        while self.at < len(self.text):
            char = self.text[self.at]
            if char == "#":
                end = self.text.find("\n", self.at)
                self.at = len(self.text) if end < 0 else end
            elif char in " \t\r\n,":
                self.at += 1
            else:
                return True
        return False

    def _header(self, brackets: int) -> Path:
        start = self.at
        self.at += brackets
        keys = self._keys()
        path: Path = ()
        for index, key in enumerate(keys):
            path = (*path, key)
            if path not in self.counts:
                continue
            if not (brackets == 2 and index == len(keys) - 1):
                path = (*path, self.counts[path] - 1)
        if brackets == 2:
            number = self.counts.get(path, 0)
            self.counts[path] = number + 1
            path = (*path, number)
        self.at, end = start, self.at
        if brackets == 2:
            self._note(path[:-1])  # the list itself is where its first item is
        self._note(path)
        self.at = end + brackets
        return path

    def _keys(self) -> list[str]:
        keys = []
        while True:
            self._skip_spaces()
            if self.text[self.at] in "\"'":
                start = self.at
                self._string()
                keys.append(_key_of(self.text[start : self.at]))
            else:
                match = _BARE.match(self.text, self.at)
                if match is None:
                    return keys
                keys.append(match[0])
                self.at = match.end()
            self._skip_spaces()
            if not self.text.startswith(".", self.at):
                return keys
            self.at += 1

    def _skip_spaces(self) -> None:
        while self.text.startswith((" ", "\t"), self.at):
            self.at += 1

    def _pair(self, table: Path) -> None:
        start = self.at
        keys = self._keys()
        end, self.at = self.at, start
        path = table
        for key in keys:
            path = (*path, key)
            self._note(path)
        self.at = end + 1  # the equals sign
        self._skip_spaces()
        self._value(path)

    def _value(self, path: Path) -> None:
        char = self.text[self.at]
        if char in "\"'":
            self._string()
        elif char == "[":
            self._list(path)
        elif char == "{":
            self._table(path)
        else:
            while self.at < len(self.text) and self.text[self.at] not in ",]}\n#":
                self.at += 1

    def _list(self, path: Path) -> None:
        self.at += 1
        number = 0
        while self._skip_blank() and self.text[self.at] != "]":
            item = (*path, number)
            self._note(item)
            self._value(item)
            number += 1
        self.at += 1

    def _table(self, path: Path) -> None:
        self.at += 1
        while self._skip_blank() and self.text[self.at] != "}":
            self._pair(path)
        self.at += 1

    def _string(self) -> None:
        quote = self.text[self.at]
        many = self.text.startswith(quote * 3, self.at)
        mark = quote * 3 if many else quote
        self.at += len(mark)
        while not self.text.startswith(mark, self.at):
            self.at += 2 if quote == '"' and self.text[self.at] == "\\" else 1
        self.at += len(mark)
        while many and self.text.startswith(quote, self.at):  # up to two quotes may stand before the closing mark
            self.at += 1
