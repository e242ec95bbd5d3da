"""Writes what shells complete into the package's data: run it when a command or an option has changed."""

from __future__ import annotations

import sys

from storyrod.adapters.cli import make_parser
from storyrod.adapters.commands import FOLDER, scripts


def main() -> None:
    """Write the script of each shell."""
    FOLDER.mkdir(exist_ok=True)
    for name, text in scripts(make_parser()).items():
        (FOLDER / name).write_text(text, encoding="utf-8", newline="\n")
        sys.stdout.write(f"{name}\n")


if __name__ == "__main__":
    main()
