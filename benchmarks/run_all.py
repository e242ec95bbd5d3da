"""Run every `benchmarks/*/bench_*.py`, or those whose path holds one of the words given.

Each module has a `main()` that prints its own tables. A benchmark that fails does not stop the others; the
exit status is then 1. One whose needs this machine lacks (see `NotHereError`) says so and is counted apart.
"""

from __future__ import annotations

import importlib.util
import sys
import time
import traceback
from collections.abc import Sequence
from pathlib import Path

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent


def find_benchmarks(folder: Path, words: Sequence[str]) -> tuple[Path, ...]:
    """Return the benchmark modules in a fixed order."""
    found = sorted(folder.glob("*/bench_*.py"))
    return tuple(p for p in found if not words or any(w in p.relative_to(folder).as_posix() for w in words))


def run_benchmark(path: Path) -> None:
    """Load one module by its path and call its `main()`."""
    spec = importlib.util.spec_from_file_location(f"benchmarks.{path.parent.name}.{path.stem}", path)
    if spec is None or spec.loader is None:
        raise ImportError(f"{path} cannot be loaded")
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module  # Dataclasses and child processes look their module up there.
    spec.loader.exec_module(module)
    module.main()


def main(words: Sequence[str]) -> int:
    """Run them all; return 1 when one failed or none was found."""
    sys.path.insert(0, str(ROOT))
    from benchmarks._needs import NotHereError

    paths = find_benchmarks(HERE, words)
    told: dict[str, list[str]] = {"done": [], "left out": [], "failed": []}
    for path in paths:
        name = path.relative_to(HERE).as_posix()
        print(f"\n=== {name}", flush=True)
        began = time.perf_counter()
        try:
            run_benchmark(path)
        except NotHereError as error:
            print(f"Left out: {error}")
            told["left out"].append(name)
        except Exception:  # noqa: BLE001 - the others shall still run
            traceback.print_exc()
            told["failed"].append(name)
        else:
            print(f"({time.perf_counter() - began:.1f} s)")
            told["done"].append(name)
    print("\n" + ", ".join(f"{len(names)} {word}" for word, names in told.items()))
    if not paths:
        print("No benchmark has such a name." if words else "There is no benchmark yet.")
    return 1 if told["failed"] or not told["done"] else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
