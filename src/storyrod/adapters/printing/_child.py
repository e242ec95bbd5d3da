"""The child's end: reads questions, sets each in type, tells how far it is, and writes the answer.

What it needs for that is loaded before the first question comes. It ends when nobody asks any more: its memory is then
gone with it, also where the parent was killed.
"""

from __future__ import annotations

import sys

from storyrod.adapters.printing._frames import read_frame, write_frame
from storyrod.faults import Fault, JobError


def main() -> None:
    """Answer the questions on standard input: with bytes, or with the faults that stand in the way."""
    _load()
    stream = sys.stdout.buffer
    while True:
        try:
            make = read_frame(sys.stdin.buffer)
        except EOFError:
            return
        answer: bytes | tuple[Fault, ...]
        try:
            answer = make(lambda done, of: write_frame(stream, (done, of)))
        except JobError as error:
            answer = error.faults
        write_frame(stream, answer)


def _load() -> None:
    """Load what papers are made with."""
    import typst  # noqa: F401  # so that it is there

    from storyrod.adapters import packet, printing  # noqa: F401
    from storyrod.adapters.printing._kept import our_own

    our_own()


if __name__ == "__main__":
    main()
