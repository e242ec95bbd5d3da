"""How the two ends of printing talk: each message is its length in four bytes, then a pickle of it."""

from __future__ import annotations

import pickle
import struct
from typing import Any, BinaryIO, Final

_LENGTH: Final = struct.Struct(">I")


def write_frame(stream: BinaryIO, message: object) -> None:
    """Write one message, whole."""
    data = pickle.dumps(message)
    stream.write(_LENGTH.pack(len(data)) + data)
    stream.flush()


def read_frame(stream: BinaryIO) -> Any:  # noqa: ANN401  # whatever the other end, which is ours, has written
    """Return the next message.

    Raises:
        EOFError: the other end is gone, or has nothing more to say.
    """
    head = stream.read(_LENGTH.size)
    data = stream.read(_LENGTH.unpack(head)[0]) if len(head) == _LENGTH.size else b""
    if not data:
        raise EOFError
    return pickle.loads(data)  # noqa: S301  # between a process of ours and its own child, on one machine
