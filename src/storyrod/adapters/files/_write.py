"""Writing a file so that the one that stood there is never lost: aside first, then put in its place."""

from __future__ import annotations

import contextlib
import errno
import os
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

from storyrod.adapters.files._exchange import exchanged, keep_folder
from storyrod.faults import Fault, JobError


def write_text_safely(path: Path | str, text: str, *, over_unreadable: bool = False) -> None:
    """Write `text` to `path` as UTF-8: aside, safe on the disk, then in the place of what stood there.

    A job or workshop file that stands there and cannot be understood is left alone, unless `over_unreadable`:
    something may be in it that its owner still needs.

    Raises:
        JobError: the place cannot be written to, the disk is full, or the file there was not understood.
    """
    where = Path(path)
    if not over_unreadable:
        _check_understood(where)
    write_bytes_safely(where, text.encode("utf-8"))


def write_bytes_safely(path: Path, data: bytes) -> None:
    """Write `data` to `path`: aside, safe on the disk, then in the place of what stood there.

    Raises:
        JobError: the place cannot be written to, or the disk is full; what stood there is unharmed.
    """
    with _aside(path, data) as (aside, target):
        aside.replace(target)
        keep_folder(target.parent)


def write_over(path: Path, data: bytes, still: Callable[[bytes], bool]) -> bool:
    """Write `data` in the place of a file that is `still` what was read of it; else leave it, and return False.

    What stood there is looked at once more after it has been taken out of its place: what an editor wrote in the very
    moment is put back, by its own file, so that an editor in the midst of writing goes on in the right place.

    Raises:
        JobError: as `write_bytes_safely`.
    """
    with _aside(path, data) as (aside, target):
        _exchange(aside, target)
        if still(aside.read_bytes()):
            keep_folder(target.parent)
            return True
        aside.replace(target)
        return False


@contextlib.contextmanager
def _aside(path: Path, data: bytes) -> Iterator[tuple[Path, Path]]:
    """Give a file beside the target with the data in it, safe on the disk; it is gone afterwards.

    Raises:
        JobError: whatever the disk says against it, in words.
    """
    target = path.resolve() if path.is_symlink() else path
    aside = target.with_name(f".{target.name}.{os.getpid()}-{threading.get_ident():x}.new")
    try:
        if target.is_dir():
            raise IsADirectoryError(errno.EISDIR, "a folder", str(target))
        with aside.open("wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        if target.exists():
            aside.chmod(target.stat().st_mode & 0o777)
        yield aside, target
    except OSError as error:
        raise JobError(_write_fault(path, error)) from None
    finally:
        with contextlib.suppress(OSError):
            aside.unlink(missing_ok=True)


def _exchange(aside: Path, target: Path) -> None:
    """Let two files change places: in one step where the system can, else by a second name for the older one."""
    if exchanged(aside, target):
        return
    older = aside.with_name(f"{aside.name}.older")
    older.unlink(missing_ok=True)
    try:
        older.hardlink_to(target)
    except OSError:  # a disk that knows no second names
        older.write_bytes(target.read_bytes())
    aside.replace(target)
    older.replace(aside)


def _check_understood(path: Path) -> None:
    if path.suffix != ".toml" or not path.is_file():
        return
    from storyrod.adapters.files._open import parse_toml, read_text

    try:
        parse_toml(read_text(path), name=path.name)
    except JobError as error:
        first = error.faults[0]
        raise JobError(
            Fault(
                code="write-unreadable",
                field="",
                found=f'a file "{path}" that cannot be understood: {first.found}',
                allowed="a TOML file, or a name that is still free",
                do="Fix that file or choose another name: it was left as it is.",
                line=first.line,
                file=path.name,
            )
        ) from None


_WORDS = {
    errno.ENOSPC: ("a disk that is full", "Make room, or choose another place."),
    errno.EDQUOT: ("a disk with no more room for you", "Make room, or choose another place."),
    errno.EROFS: ("a read-only disk", "Choose another place."),
    errno.EACCES: ("a place you may not write to", "Choose another place, or ask for permission to write there."),
    errno.EPERM: ("a place you may not write to", "Choose another place, or ask for permission to write there."),
    errno.ENOENT: ("a folder that is not there", "Make the folder, or choose another place."),
    errno.EISDIR: ("a folder of that name", "Choose another name."),
    errno.ENOTDIR: ("a file where a folder should be", "Choose another place."),
    errno.ENAMETOOLONG: ("a name that is too long", "Choose a shorter name."),
}  # fmt: skip


def _write_fault(path: Path, error: OSError) -> Fault:
    found, do = _WORDS.get(error.errno or 0, (f"trouble with the disk ({error.strerror})", "Choose another place."))
    return Fault(
        code="write",
        field="",
        found=f'{found}, for "{path}"',
        allowed="a place that can be written to",
        do=f"{do} Nothing there was changed.",
        file=path.name,
    )
