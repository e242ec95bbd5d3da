"""The packaged workshop, already read: so that a job which names no workshop file starts at once.

`data/packaged-workshop.json` is made by `python -m storyrod.adapters.files.reference` from `workshop.toml` and
`methods.toml`, which stay the files to change. It carries their fingerprint, and is passed over where that is not
theirs.
"""

from __future__ import annotations

import json
import zlib
from dataclasses import MISSING, Field, fields, is_dataclass
from enum import StrEnum
from importlib import resources
from typing import Any

from storyrod.model import job, method, workshop
from storyrod.model.workshop import Workshop

SOURCES = ("workshop.toml", "methods.toml")
NAME = "packaged-workshop.json"

_MODULES = (workshop, method, job)


def data_text(name: str) -> str:
    """Return the text of a file of the package's data."""
    return resources.files("storyrod").joinpath(f"data/{name}").read_text(encoding="utf-8")


def fingerprint() -> int:
    """Return a number that changes when one of the sources does."""
    number = 0
    for name in SOURCES:
        number = zlib.crc32(data_text(name).encode(), number)
    return number


def load_snapshot() -> Workshop | None:
    """Return the packaged workshop as it was read before, or None where it must be read anew."""
    try:
        told = json.loads(data_text(NAME))
        if told["of"] != fingerprint():
            return None
        shop = _decoded(told["workshop"])
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return None
    return shop if isinstance(shop, Workshop) else None


def snapshot_of(shop: Workshop) -> str:
    """Return the text of the snapshot of a workshop read from the sources."""
    return json.dumps({"of": fingerprint(), "workshop": _encoded(shop)}, indent=1, ensure_ascii=False) + "\n"


def _encoded(value: Any) -> Any:  # noqa: ANN401 - any value of the model
    if isinstance(value, StrEnum):
        return {"is": type(value).__name__, "word": value.value}
    if is_dataclass(value) and not isinstance(value, type):
        kept = {f.name: getattr(value, f.name) for f in fields(value) if getattr(value, f.name) != _default(f)}
        return {"is": type(value).__name__, **{name: _encoded(inner) for name, inner in kept.items()}}
    if isinstance(value, tuple):
        return [_encoded(inner) for inner in value]
    return value


def _default(of: Field[Any]) -> object:
    if of.default_factory is not MISSING:
        return of.default_factory()
    return of.default


def _decoded(value: Any) -> Any:  # noqa: ANN401
    if isinstance(value, dict):
        name = value.pop("is")
        kind = next(filter(None, (getattr(m, name, None) for m in _MODULES)), None)
        if kind is None:
            raise ValueError(name)
        return kind(value["word"]) if "word" in value else kind(**{k: _decoded(v) for k, v in value.items()})
    return tuple(_decoded(inner) for inner in value) if isinstance(value, list) else value
