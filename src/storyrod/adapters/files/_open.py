"""Reading the text of a file from the disk, and its TOML, with plain words for all that may be wrong with either."""

from __future__ import annotations

import errno
import os
import re
import stat
import tomllib
from functools import lru_cache
from importlib import resources
from pathlib import Path
from typing import Any, NoReturn

from storyrod.adapters.files._amount import DEEP as _DEEP
from storyrod.adapters.files._amount import DEEPEST, TooMuchError, check_amount
from storyrod.faults import Fault, JobError

LARGEST = 5_000_000
"""No job or workshop file is larger (bytes); a larger one is something else, and is not read at all."""


def data_text(name: str) -> str:
    """Return the text of a file of the package's data."""
    return resources.files("storyrod").joinpath(f"data/{name}").read_text(encoding="utf-8")


WORDS = {
    "job": "a job file",
    "workshop": "a workshop file",
    "as-built": "an as-built file",
    "study": "a study file",
    "batch": "a batch file",
    "wish": "a wish file",
}


def read_text(path: Path, what: str = "job", field: str = "") -> str:
    """Return the text of a job or workshop file.

    Args:
        path: where it lies.
        what: "job", "workshop" or "as-built".
        field: the field that named it, where one did.

    Raises:
        JobError: it is not there, is a folder, may not be read, is too large, or is not UTF-8 (and which byte is not).
    """
    name = path.name or str(path)
    allowed = f"{WORDS[what]}, as UTF-8 text of at most {LARGEST // 1_000_000} MB"

    def refuse(code: str, found: str, do: str) -> NoReturn:
        where = "" if field else name
        raise JobError(Fault(code=code, field=field, found=found, allowed=allowed, do=do, file=where))

    try:
        if path.is_dir():
            refuse("file-folder", f'a folder, "{path}"', "Name the file itself.")
        size = path.stat().st_size
        if size > LARGEST:
            refuse("file-size", f"{size / 1e6:.1f} MB", "Name the right file; nothing of this one was read.")
        data = plain_bytes(path)
    except FileNotFoundError:
        refuse("file-missing", f'no file "{path}"', _near_file(path))
    except JobError:
        raise
    except NotPlainError:
        refuse("file-unreadable", f'a pipe or device, "{path}"', "Name a file that lies on a disk.")
    except PermissionError:
        refuse("file-permission", f'a file that may not be read, "{path}"', "Give yourself permission to read it.")
    except (OSError, ValueError) as error:
        refuse("file-unreadable", f'a file that cannot be read, "{path}": {error}', "Check its place and name.")
    return decode(data, name=name, what=what)


class NotPlainError(OSError):
    """A pipe, a socket or a device stands under the name: reading it may never end."""


def plain_bytes(path: Path) -> bytes:
    """Return the bytes of a plain file of at most `LARGEST` bytes.

    Raises:
        NotPlainError: it is a pipe, a device or a folder.
        OSError: it is not there, may not be read, or is larger.
    """
    handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    with os.fdopen(handle, "rb") as file:  # opened without waiting: a pipe that nobody writes to holds nothing up
        if not stat.S_ISREG(os.fstat(handle).st_mode):
            raise NotPlainError(errno.EINVAL, "no plain file", str(path))
        data = file.read(LARGEST + 1)
    if len(data) > LARGEST:
        raise OSError(errno.EFBIG, "a file too large", str(path))
    return data


def _near_file(path: Path) -> str:
    try:
        others = sorted(p.name for p in path.parent.glob("*.toml"))[:200]
    except (OSError, ValueError):
        others = []
    from storyrod.adapters.files._fields import nearest

    near = nearest(path.name, others)
    return f'Did you mean "{near}"?' if near else "Check the name, and the folder."


def decode(data: bytes, *, name: str, what: str = "job") -> str:
    """Return the text of UTF-8 `data`, or say which byte is not.

    Raises:
        JobError: the bytes are not UTF-8.
    """
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        found, do = "UTF-16 text", "Save it again as UTF-8 in your editor."
    else:
        try:
            return data.decode("utf-8-sig")
        except UnicodeDecodeError as error:
            at = error.start
            line = data.count(b"\n", 0, at) + 1
            found = f"byte 0x{data[at]:02x} at place {at + 1}, which is not UTF-8"
            do = "Save it as UTF-8 in your editor, or write that letter again."
            raise JobError(_encoding(found, do, name, what, line)) from None
    raise JobError(_encoding(found, do, name, what, 1))


def _encoding(found: str, do: str, name: str, what: str, line: int) -> Fault:
    allowed = f"{WORDS[what]}, as UTF-8 text"
    return Fault(code="file-encoding", field="", found=found, allowed=allowed, do=do, line=line, file=name)


_PLACE = re.compile(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)$")

_SAYINGS = (
    ("Cannot overwrite", "the same field or table twice", "Keep one of the two, or give one another name."),
    ("Cannot declare", "the same table twice", "Keep one of the two, or give one another name."),
    ("Duplicate inline table key", "the same field twice", "Keep one of the two."),
    ("Cannot mutate immutable", "a table opened a second time", "Write all of its fields in one place."),
    ("Unterminated string", "a text without its closing quote", "Close it with the quote that opened it."),
    ("Illegal character", "a character that is not allowed in a text", "Close the text on the same line."),
    ("Invalid value", "no value that TOML knows", 'Write text in quotes, inches too: \'23 5/8"\'.'),
    ("Expected newline or end of document", "more than one thing on a line", "Start a new line, or quote the text."),
    ("Expected '='", "a name without an equals sign", "Write `name = value`."),
    ("Unclosed array", "a list without its closing bracket", "Close it with ]."),
    ("Unclosed inline table", "a table without its closing brace", "Close it with }, on the same line."),
    ("Unescaped '\\'", "a lone backslash in a text", "Write the text in single quotes, or double the backslash."),
)  # fmt: skip


def parse_toml(text: str, *, name: str, what: str = "job") -> dict[str, Any]:
    """Return the tables of a TOML text.

    Raises:
        JobError: the text is not TOML; the fault gives the line and what to mend.
    """
    found: str
    line: int | None
    try:
        return parsed(text)
    except TooMuchError as error:
        found, line, do = error.found, error.line, error.do
    except ValueError as error:  # also figures of more digits than Python reads
        found, line, do = _toml_words(str(error), text)
    allowed = f"{WORDS[what]} in TOML"
    raise JobError(Fault(code="file-toml", field="", found=found, allowed=allowed, do=do, line=line, file=name))


def parsed(text: str) -> dict[str, Any]:
    """Return the tables of a TOML text, in bounded time and memory whatever stands in it.

    Raises:
        TooMuchError: it goes deeper, or holds more, than any job or workshop file; it is not parsed then.
        ValueError: it is not TOML.
    """
    tables = _copied(_known(text))
    assert isinstance(tables, dict)  # noqa: S101  # as the outermost table is
    return tables


@lru_cache(maxsize=16)
def _known(text: str) -> dict[str, Any]:
    """Return the tables of a text; an edit on the page asks for those of two texts, six times in all."""
    check_amount(text)
    deep = TooMuchError(*_DEEP)
    try:
        tables = tomllib.loads(text)
    except RecursionError:
        raise deep from None
    if _is_deep(tables):
        raise deep
    return tables


def _copied(value: object) -> object:
    """Return tables and lists that who asked may change; what else there is in TOML cannot be changed."""
    if isinstance(value, dict):
        return {key: _copied(inner) for key, inner in value.items()}
    return [_copied(inner) for inner in value] if isinstance(value, list) else value


def _is_deep(tables: dict[str, Any]) -> bool:
    level: list[object] = [tables]
    for _ in range(DEEPEST):
        level = [
            inner
            for outer in level
            for inner in (outer.values() if isinstance(outer, dict) else outer if isinstance(outer, list) else ())
        ]
        if not level:
            return False
    return True


def _toml_words(message: str, text: str) -> tuple[str, int | None, str]:
    place = _PLACE.search(message)
    said = message[: place.start()] if place else message
    line = int(place[1]) if place and place[1] else text.count("\n") + 1 if place else None
    unknown = ("", "something that is not TOML", "Compare the line with the examples.")
    _, found, do = next((saying for saying in _SAYINGS if said.startswith(saying[0])), unknown)
    column = f", at character {place[2]}" if place and place[2] else ""
    quoted = text.split("\n")[line - 1].strip()[:60] if line else ""
    return f"{found}{column}" + (f": {quoted}" if quoted else ""), line, do
