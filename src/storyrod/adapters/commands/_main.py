"""Read the words of the command line, run the command, and turn what goes wrong into words for a maker.

Exit status: 0 when all is well, 1 when the job has faults, 2 when the command was not understood, 3 for a mistake
of our own (the maker's files are safe).
"""

from __future__ import annotations

import argparse
import io
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from storyrod import __version__
from storyrod.faults import JobError

type Adds = Callable[[argparse._SubParsersAction[argparse.ArgumentParser]], None]  # noqa: SLF001  # the only name argparse gives it
"""Adds one command to a command line."""

OK, FAULTS, BAD_USE, OURS = 0, 1, 2, 3

_DESCRIPTION = """\
From a cabinet maker's brief to every panel, joint, mark, setting, cut and move, proven before a board is cut.

  storyrod new first-cabinet.toml              begin a job file from three sizes
  storyrod check first-cabinet.toml            can it be built? every fault at once, and what to watch
  storyrod plan first-cabinet.toml             work it all out: packet, drawings, lists
"""

_NEXT = """\
From a cabinet maker's brief to every panel, joint, mark, setting, cut and move. What next?

  storyrod open                          the page, in your browser, with an example to look at and to change
  storyrod new my-cabinet.toml           a job file of your own: 600 wide, 720 high and 400 deep unless you say
  storyrod plan my-cabinet.toml          work it all out, for the bench

`storyrod --help` names every command, `storyrod plan --help` what one of them takes.
"""


def _shown_by(letters: str, errors: str) -> str:
    """Return what a terminal does with letters that it does not know: `C` as language takes none but those of ASCII."""
    is_utf8 = letters.lower().replace("-", "") == "utf8"
    takes_none = errors == "strict" or (errors == "surrogateescape" and not is_utf8)
    return "replace" if takes_none else errors


def run_command(parser: argparse.ArgumentParser, argv: Sequence[str] | None = None) -> int:
    """Run one command of a command line and return its exit status."""
    from storyrod.adapters.commands._report import show_faults

    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):  # a terminal that knows not all letters shows what it can
            stream.reconfigure(errors=_shown_by(stream.encoding, stream.errors or "strict"))
    try:
        arguments = parser.parse_args(argv)
    except SystemExit as leaving:  # argparse has said why
        return leaving.code if isinstance(leaving.code, int) else BAD_USE
    if arguments.run is None:
        print(_NEXT, end="")
        return OK
    try:
        return int(arguments.run(arguments))
    except JobError as error:
        show_faults(error, as_json=getattr(arguments, "json", False))
        return FAULTS
    except BrokenPipeError:  # the reader of our output has gone away: nothing to tell it
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return OK
    except KeyboardInterrupt:
        print("\nStopped. Nothing was left half written.", file=sys.stderr)
        return 130
    except Exception as error:  # noqa: BLE001  # the last resort: no traceback reaches a maker
        return _ours(error)


def _ours(error: Exception) -> int:
    import traceback

    if os.environ.get("STORYROD_DEBUG"):
        traceback.print_exception(error)
    where = traceback.extract_tb(error.__traceback__)[-1]
    print(
        "This is a mistake in storyrod, not in your job; your files are as they were.\n"
        f"Please report it with the job file and this line: {type(error).__name__} at "
        f"{Path(where.filename).name}:{where.lineno} ({error}), version {__version__}.\n"
        "Set STORYROD_DEBUG=1 to see more.",
        file=sys.stderr,
    )
    return OURS


def parser_of(first: Adds) -> argparse.ArgumentParser:
    """Return the whole command line: the commands of this package behind one that opens the page."""
    from storyrod.adapters.commands import _commands as commands
    from storyrod.adapters.commands import _completion

    parser = argparse.ArgumentParser(
        prog="storyrod", description=_DESCRIPTION, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--version", action="version", version=f"storyrod {__version__}")
    parser.set_defaults(run=None)
    subs = parser.add_subparsers(title="commands", metavar="COMMAND")
    for add in (first, *commands.ALL, _completion.add):
        add(subs)
    return parser
