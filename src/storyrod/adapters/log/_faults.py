"""What goes wrong with a database, told to a maker, each with a way out."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import sqlalchemy as sa
import sqlalchemy.exc as sa_errors

from storyrod.faults import Fault, JobError

_SAFE = "What was acknowledged before is safe."


def damaged(where: str, found: str) -> JobError:
    """Return the refusal of a file that is no sound log."""
    return JobError(
        Fault(
            code="log-damaged",
            field=where,
            found=found,
            allowed="a sound bench log",
            do="It was left as it is. Take the latest copy or export; or read what can be read into a new file: "
            f"storyrod log {where} --rescue-to NEW.",
        )
    )


def refused(code: str, where: str, found: str, allowed: str, do: str) -> JobError:
    """Return any other refusal."""
    return JobError(Fault(code=code, field=where, found=found, allowed=allowed, do=do))


@contextmanager
def told(where: str) -> Iterator[None]:
    """Turn what a database says into a fault for a maker.

    Raises:
        JobError: full disk, busy file, damaged file, read-only file, server not reached.
    """
    try:
        yield
    except sa_errors.DBAPIError as error:
        raise _fault(where, str(error.orig).strip().splitlines()[0], error) from error
    except sa_errors.NoSuchModuleError as error:
        raise refused(
            "log-url", where, str(error), "sqlite or postgresql+pg8000", "Write the address as the docs show it."
        ) from error
    except ModuleNotFoundError as error:
        raise refused(
            "log-driver", where, f"no {error.name}", "an installed driver", f"Install it: pip install {error.name}."
        ) from error
    except sa_errors.ArgumentError as error:
        raise refused("log-url", where, str(error), "an address of a database", "See docs/bench-log.md.") from error


_WORDS = (
    (("is full", "disk i/o", "no space"), "log-full", "room on the disk", f"Make room, then do it again. {_SAFE}"),
    (
        ("locked", "busy"),
        "log-busy",
        "one writer at a time, each for a moment",
        f"Another program has held the log for long: close it, then do it again. {_SAFE}",
    ),
    (
        ("readonly", "read-only", "unable to open", "permission"),
        "log-closed",
        "a file that can be written",
        "Check the folder and who may write there.",
    ),
)


def _fault(where: str, said: str, error: sa_errors.DBAPIError) -> JobError:
    low = said.lower()
    if any(word in low for word in ("malformed", "not a database", "corrupt")):
        return damaged(where, said)
    for words, code, allowed, do in _WORDS:
        if any(word in low for word in words):
            return refused(code, where, said, allowed, do)
    if isinstance(error, sa_errors.IntegrityError):
        return refused("log-twice", where, said, "rows that are not there yet", "It was kept before; nothing to do.")
    return refused("log-database", where, said, "a database that answers", f"See that it runs. {_SAFE}")


def hide_password(url: sa.URL) -> str:
    """Return the address as it may be shown."""
    return url.render_as_string(hide_password=True)
