"""The command line: every command, with the one that opens the page. Light to import.

Only here do the commands and the page meet: neither knows of the other.
"""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from storyrod.adapters import opening
from storyrod.adapters.commands import parser_of, run_command


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status."""
    return run_command(make_parser(), argv)


def make_parser() -> argparse.ArgumentParser:
    """Return the whole command line."""
    return parser_of(opening.add)
