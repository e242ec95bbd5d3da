"""The child's end: reads the question, sets the thing in type, writes the answer, and is gone with its memory."""

from __future__ import annotations

import pickle
import sys

from storyrod.faults import Fault, JobError


def main() -> None:
    """Answer the question on standard input: with bytes, or with the faults that stand in the way."""
    make = pickle.loads(sys.stdin.buffer.read())  # noqa: S301  # written by our own parent
    answer: bytes | tuple[Fault, ...]
    try:
        answer = make()
    except JobError as error:
        answer = error.faults
    sys.stdout.buffer.write(pickle.dumps(answer))


if __name__ == "__main__":
    main()
