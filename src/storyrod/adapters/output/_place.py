"""New files in the place of older ones, and the maker's own kept: carried over to a new folder, or left in place."""

from __future__ import annotations

import errno
import os
import shutil
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from storyrod.adapters.output._contents import LAST, MANIFEST, Contents, digest_in

MOST_CARRIED: Final = 2000
"""A folder with more files of the maker's own is no folder of plans: it is not exchanged as a whole."""


@dataclass(slots=True)
class Carried:
    """What of an older folder went where: files of the maker's own by name, and what was taken away."""

    seen: set[str] = field(default_factory=set)
    made: list[str] = field(default_factory=list)
    removed: list[str] = field(default_factory=list)
    yours: list[tuple[str, str]] = field(default_factory=list)

    def undo(self, aside: Path) -> None:
        """Take the second names away again."""
        for name in self.made:
            (aside / name).unlink(missing_ok=True)


def carry_over(folder: Path, aside: Path, old: Contents, new: dict[str, str]) -> Carried | None:
    """Give every file of the maker's own a second name in the new folder; None where that cannot be done.

    Raises:
        OSError: a folder stands in the place of one of the plan's files.
    """
    _check_places(folder, new)
    carried = Carried()
    for name, path in _files_in(folder):
        if len(carried.made) > MOST_CARRIED:
            carried.undo(aside)
            return None
        carried.seen.add(name)
        if name == MANIFEST or old.wrote(folder, name):
            if name != MANIFEST and name not in new:
                carried.removed.append(name)
            continue
        if name in new and digest_in(path) == new[name]:
            continue
        kept = _name_for_yours(name, lambda n: (folder / n).exists() or (aside / n).exists()) if name in new else name
        if not _second_name(path, aside / kept):
            carried.undo(aside)
            return None
        carried.made.append(kept)
        if kept != name:
            carried.yours.append((name, kept))
    return carried


def carry_back(older: Path, folder: Path, carried: Carried) -> None:
    """Bring into the new folder what was put into the older one since it was looked through."""
    for name, path in _files_in(older):
        if name not in carried.seen and not (folder / name).exists():
            _second_name(path, folder / name)


def _files_in(folder: Path) -> Iterator[tuple[str, Path]]:
    """Yield what lies in a folder and the folders in it, by its name from there; empty folders are none."""
    for where, folders, names in os.walk(folder):
        folders[:] = sorted(n for n in folders if not n.startswith(".storyrod-"))
        links = [n for n in folders if (Path(where) / n).is_symlink()]
        for name in sorted([*names, *links]):
            path = Path(where) / name
            yield path.relative_to(folder).as_posix(), path


def _second_name(path: Path, other: Path) -> bool:
    try:
        other.parent.mkdir(parents=True, exist_ok=True)
        os.link(path, other, follow_symlinks=False)
    except (OSError, NotImplementedError):
        return False
    return True


def _name_for_yours(name: str, taken: Callable[[str], bool]) -> str:
    """Return a free name for a file of the maker's own: `cutting-list.yours.csv`."""
    stem, dot, ending = name.rpartition(".")
    if not dot or "/" in ending:
        stem, ending = name, ""
    number = 1
    while True:
        mark = "yours" if number == 1 else f"yours-{number}"
        free = f"{stem}.{mark}{dot}{ending}" if ending else f"{stem}.{mark}"
        if not taken(free):
            return free
        number += 1


def _check_places(folder: Path, new: dict[str, str]) -> None:
    for name in (*new, MANIFEST):
        if (folder / name).is_dir():
            raise IsADirectoryError(errno.EISDIR, f"a folder stands in the place of {name}")


def put_in_place(
    folder: Path,
    aside: Path,
    old: Contents,
    new: dict[str, str],
    removed: list[str],
    yours: list[tuple[str, str]],
) -> None:
    """Put every new file in the place of the older one; where one cannot be, put the older ones back.

    Raises:
        OSError: a file cannot be replaced; the folder is as it was.
    """
    _check_places(folder, new)
    foreign = [n for n in new if (folder / n).exists() and not old.wrote(folder, n) and digest_in(folder / n) != new[n]]
    yours += [(n, _name_for_yours(n, lambda x: (folder / x).exists())) for n in foreign]
    for name, kept in yours:
        (folder / name).rename(folder / kept)
    try:
        _replace_all(folder, aside, old, new)
    except OSError:
        for name, kept in yours:
            (folder / kept).rename(folder / name)
        raise
    for name in old.files:
        path = (folder / name).resolve()
        if name not in new and path.is_relative_to(folder) and old.wrote(folder, name):
            path.unlink()
            removed.append(name)


def _replace_all(folder: Path, aside: Path, old: Contents, new: dict[str, str]) -> None:
    names = (*(n for n in new if n != LAST), *(n for n in new if n == LAST), MANIFEST)
    kept = aside / ".older"
    for name in names:
        place = folder / name
        place.parent.mkdir(parents=True, exist_ok=True)
        if place.exists():
            (kept / name).parent.mkdir(parents=True, exist_ok=True)
            _kept_as(place, kept / name)
    between = aside / ".between.json"
    between.write_text(Contents(files={n: {d} for n, d in new.items()}).text(old.files), encoding="utf-8")
    between.replace(folder / MANIFEST)  # from here on, what lies here is not whole; and all of it is ours
    _replace_each(folder, aside, kept, names)


def _replace_each(folder: Path, aside: Path, kept: Path, names: Sequence[str]) -> None:
    placed: list[str] = [MANIFEST]
    try:
        for name in names:
            os.replace(aside / name, folder / name)  # noqa: PTH105  # the same, and plainer beside its comment
            placed.append(name)
    except OSError:
        for name in placed:
            if (kept / name).exists():
                (kept / name).replace(folder / name)
            else:
                (folder / name).unlink(missing_ok=True)
        raise


def _kept_as(place: Path, kept: Path) -> None:
    """Keep the file under a second name, or as a copy where the disk knows no second names."""
    try:
        kept.hardlink_to(place)
    except OSError:
        shutil.copy2(place, kept)
