"""Wish files: read strictly, with the catalogue of things that they may name."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any, Final

from storyrod.adapters.files._fields import nearest
from storyrod.adapters.files._file import job_from_tables, packaged_workshop, read_workshop
from storyrod.adapters.files._made import made
from storyrod.adapters.files._open import data_text, parse_toml, parsed, read_text
from storyrod.adapters.files._read import read_table
from storyrod.adapters.files._told import lined, not_following, unit_in
from storyrod.faults import Fault, JobError
from storyrod.measure.length import Unit
from storyrod.model.job import Job, MethodChoice
from storyrod.model.wish import Goods, Place, Put, Thing, Way, Wish
from storyrod.model.workshop import Workshop

_OWN: Final = ("boards", "edgings", "methods", "units")
"""What stands in a wish file as it does in a job file."""

SIZES: Final = ("width", "height", "depth")


@dataclass(frozen=True, slots=True, kw_only=True)
class WishFile:
    """A wish, read and checked for what its file can say.

    Attributes:
        base: a job with the wish's boards, edgings and methods, and no case that is meant.
        goods: what goes in, with the sizes that hold.
    """

    wish: Wish
    goods: tuple[Goods, ...]
    base: Job
    workshop: Workshop
    text: str
    name: str
    digest: str

    def located(self, error: JobError) -> JobError:
        """Return faults of the wish with the lines of its file."""
        return JobError(*lined(error.faults, self.text, self.name))


@cache
def catalogue() -> Mapping[str, Thing]:
    """Return the things that a wish may name, by their codes, in the catalogue's order."""
    tables = parsed(data_text("things.toml"))["things"]
    found = {}
    for code, raw in tables.items():
        read = read_table(Thing, raw, Unit.MM)
        if read.faults or read.table is None:  # pragma: no cover - our own file, which a test reads
            raise JobError(*read.faults)
        found[code] = made(Thing, read.table, "", code=code)
    return found


def read_wish(path: Path | str) -> WishFile:
    """Return the wish of a file.

    Raises:
        JobError: every fault of the file, each with its line.
    """
    where = Path(path)
    return wish_from_text(read_text(where, "wish"), name=where.name, folder=where.parent)


def wish_from_text(text: str, *, name: str, folder: Path | None = None, inside: bool = False) -> WishFile:
    """Return the wish of a text, as of a file in `folder`; `inside`: a workshop file of that folder itself alone.

    Raises:
        JobError: as `read_wish`.
    """
    raw = parse_toml(text, name=name, what="wish")
    read = read_table(Wish, raw, unit_in(raw))
    if read.table is None:
        raise JobError(*lined(read.faults, text, name))
    faults: list[Fault] = list(read.faults)
    workshop = _workshop(raw, folder, faults, inside=inside)
    base, more = _base(raw, workshop)
    faults += [f for f in more if f.field.split(".")[0].split("[")[0] in _OWN and f not in faults]
    table = read.table
    things = tuple(made(Put, put, f"things[{n}]") for n, put in enumerate(table["things"]))
    wish = made(
        Wish,
        table,
        "",
        title=table["title"] or Path(name).stem.removesuffix(".wish").replace("-", " "),
        place=made(Place, table["place"], "place") if table["place"] is not None else _STAND_IN,
        things=things,
        boards=base.boards if base is not None else (),
        edgings=base.edgings if base is not None else (),
        methods=base.methods if base is not None else MethodChoice(),
    )
    if table["place"] is None:
        faults.append(_missing("place", "a table [place]", "Write the width, height and depth of the place."))
    faults += _board_names(wish)
    goods = tuple(g for put in things if (g := _goods(put, faults)) is not None)
    told = not_following(faults, read.unknown) if read.unknown else tuple(faults)
    every = tuple(dict.fromkeys((*read.faults, *told)))
    if every or base is None:
        raise JobError(*lined(every, text, name))
    digest = hashlib.sha256(f"{wish!r}\0{workshop!r}".encode()).hexdigest()
    return WishFile(wish=wish, goods=goods, base=base, workshop=workshop, text=text, name=name, digest=digest)


_STAND_IN: Final = Place(width=900.0, height=1000.0, depth=400.0)
"""What a place stands at while its absence is told."""


def _workshop(raw: Mapping[str, Any], folder: Path | None, faults: list[Fault], *, inside: bool) -> Workshop:
    named = raw.get("workshop")
    if not isinstance(named, str) or not named.strip():
        return packaged_workshop()
    path = (folder or Path()) / named.strip()
    plain = Path(named.strip()).name == named.strip()
    if path.suffix.lower() != ".toml" or (inside and not plain):
        faults.append(
            Fault(
                code="workshop-name",
                field="workshop",
                found=f'"{named[:80]}"',
                allowed="the name of a workshop file, which ends in .toml",
                do="Name the workshop file, or leave the line out to use the built-in workshop.",
            )
        )
        return packaged_workshop()
    try:
        return read_workshop(path)
    except JobError as error:
        faults += [f if f.file or f.field == "" else replace(f, file=path.name) for f in error.faults]
        return packaged_workshop()


def _base(raw: Mapping[str, Any], workshop: Workshop) -> tuple[Job | None, tuple[Fault, ...]]:
    """Return a job with the boards and methods of a wish, and the faults of those."""
    boards = raw.get("boards")
    first = next(iter(boards), "board") if isinstance(boards, Mapping) else "board"
    case = {"code": "A", "width": 600, "height": 720, "depth": 400, "board": first}
    if unit_in(dict(raw)) is Unit.INCH:
        case |= {"width": "600 mm", "height": "720 mm", "depth": "400 mm"}
    tables = {key: raw[key] for key in _OWN if key in raw} | {"cases": [case]}
    try:
        return job_from_tables(tables, workshop, name="wish.toml"), ()
    except JobError as error:
        return None, error.faults


def _board_names(wish: Wish) -> list[Fault]:
    codes = [b.code for b in wish.boards]
    found = []
    for name in ("board", "back_board", "drawer_board"):
        named = getattr(wish, name)
        if named and codes and named not in codes:
            near = nearest(named, codes)
            found.append(
                Fault(
                    code="missing-board",
                    field=name,
                    found=f'"{named}"',
                    allowed=f"the code of a board: {', '.join(codes)}",
                    do=f'Did you mean "{near}"?' if near else f"Describe it in a table `[boards.{named}]`.",
                )
            )
    return found


def _goods(put: Put, faults: list[Fault]) -> Goods | None:
    """Return what goes in with the sizes that hold, or None after telling why they are not known."""
    thing = catalogue().get(put.thing) if put.thing else None
    if put.thing and thing is None:
        near = nearest(put.thing, list(catalogue()))
        faults.append(
            Fault(
                code="wish-thing",
                field=f"{put.field}.thing",
                found=f'"{put.thing}"',
                allowed=f"one of {len(catalogue())} things of the catalogue, docs/things.md",
                do=f'Did you mean "{near}"?' if near else "Leave it out, and give a name and three sizes of your own.",
            )
        )
        return None
    lacking = [size for size in SIZES if getattr(put, size) is None and thing is None]
    if lacking:
        faults += [
            _missing(f"{put.field}.{size}", "1 mm or more", "Measure one, or name a thing of the catalogue.")
            for size in lacking
        ]
        return None
    return Goods(
        name=put.name or (thing.name if thing is not None else "things"),
        count=put.count,
        reach=put.reach,
        zone=put.zone,
        width=_first(put.width, None if thing is None else thing.width),
        height=_first(put.height, None if thing is None else thing.height),
        depth=_first(put.depth, None if thing is None else thing.depth),
        way=put.way or (thing.way if thing is not None else Way.STANDS),
        stack=round(_first(put.stack, thing.stack if thing is not None else 1)),
        kg=_first(put.kg, thing.kg if thing is not None else 0.0),
        field=put.field,
    )


def _first(own: float | None, other: float | None) -> float:
    found = own if own is not None else other
    assert found is not None  # noqa: S101 - what lacks has been told
    return found


def _missing(at: str, allowed: str, do: str) -> Fault:
    return Fault(code="missing", field=at, found="nothing", allowed=allowed, do=do)


def groups_of(things: Sequence[Thing]) -> dict[str, list[Thing]]:
    """Return things under their headings, in the catalogue's order."""
    found: dict[str, list[Thing]] = {}
    for thing in things:
        found.setdefault(thing.group, []).append(thing)
    return found
