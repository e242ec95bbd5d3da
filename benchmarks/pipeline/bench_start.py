"""How long `storyrod check` takes from a cold start, beside the interpreter that starts and does nothing.

Aim: under 0.5 s beyond the interpreter's own start.
"""

from __future__ import annotations

import sys
from pathlib import Path

from benchmarks._timing import bare_interpreter, show_timings, time_command

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


def main() -> None:
    """Print both, and the difference."""
    run = "import sys; from storyrod.adapters.cli import main; sys.exit(main(sys.argv[1:]))"
    bare = bare_interpreter()
    timings = [
        time_command(f"storyrod check {name}", [sys.executable, "-c", run, "check", str(EXAMPLES / name)])
        for name in ("first-box.toml", "rehearsal-room.toml")
    ]
    show_timings("Cold start", [bare, *timings], peer=bare)
    for timing in timings:
        print(f"{timing.name}: {timing.median_ms - bare.median_ms:.0f} ms beyond the interpreter's own start")


if __name__ == "__main__":
    main()
