"""How much room a base install takes: the libraries of `pins.txt` as they lie in the environment in use, and storyrod.

What only tests, a study or a solid model need is in other lists and is not counted. Aim: 250 MB.
"""

from __future__ import annotations

import re
from importlib.metadata import distribution
from pathlib import Path

import storyrod
from benchmarks._needs import ROOT
from benchmarks._timing import show_table

AIM_MB = 250.0
SHOWN = 6
_PIN = re.compile(r"^([A-Za-z0-9._-]+)==", re.MULTILINE)


def pinned(text: str) -> tuple[str, ...]:
    """Return the names of the libraries of a list of pins, in its order."""
    return tuple(_PIN.findall(text))


def size_mb(name: str) -> float:
    """Return how much room an installed library takes, what Python compiled of it counted (millions of bytes).

    Raises:
        PackageNotFoundError: it is not installed.
    """
    files = (Path(str(path.locate())) for path in distribution(name).files or ())
    return sum(path.stat().st_size for path in files if path.is_file()) / 1e6


def own_mb() -> float:
    """Return how much room storyrod's own files take."""
    return sum(path.stat().st_size for path in Path(storyrod.__file__).parent.rglob("*") if path.is_file()) / 1e6


def main() -> None:
    """Print the largest libraries and the sum of all, beside the aim."""
    names = pinned((ROOT / "pins.txt").read_text(encoding="utf-8"))
    sizes = {"storyrod": own_mb()} | {name: size_mb(name) for name in names}
    largest = sorted(sizes, key=lambda name: (-sizes[name], name))
    total = sum(sizes.values())
    rows = [[name, sizes[name], sizes[name] / AIM_MB] for name in largest[:SHOWN]]
    rows.append([f"{len(largest) - SHOWN} others", sum(sizes[name] for name in largest[SHOWN:]), ""])
    rows.append(["base install", total, total / AIM_MB])
    show_table(f"Room of a base install; aim {AIM_MB:.0f} MB", ("what", "MB", "of the aim"), rows)


if __name__ == "__main__":
    main()
