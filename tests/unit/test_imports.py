"""What imports what: read out of the sources, so that no ring and no look behind another's door comes back."""

from __future__ import annotations

import subprocess
import sys
from collections import defaultdict
from collections.abc import Iterator, Mapping
from functools import cache

import grimp


@cache
def _imports() -> Mapping[str, frozenset[str]]:
    """Return what each module of ours imports at run time, also within its functions."""
    graph = grimp.build_graph("storyrod", "storyrod_blind", exclude_type_checking_imports=True, cache_dir=None)
    return {m: frozenset(graph.find_modules_directly_imported_by(m)) for m in graph.modules}


def _reached(imports: Mapping[str, frozenset[str]]) -> dict[str, set[str]]:
    """Return every module that can be come to from each, step by step."""
    reached: dict[str, set[str]] = {}
    for start in imports:
        found, ahead = set[str](), list(imports[start])
        while ahead:
            module = ahead.pop()
            if module not in found:
                found.add(module)
                ahead += imports.get(module, ())
        reached[start] = found
    return reached


def rings(imports: Mapping[str, frozenset[str]]) -> list[list[str]]:
    """Return the groups of modules that import each other in a ring, by whatever way round."""
    reached = _reached(imports)
    groups: dict[frozenset[str], list[str]] = defaultdict(list)
    for module, found in reached.items():
        if module in found:
            groups[frozenset(m for m in found if module in reached[m])].append(module)
    return sorted(sorted(g) for g in groups.values())


def _behind_doors(imports: Mapping[str, frozenset[str]]) -> Iterator[str]:
    """Yield each import of a private module from outside the package that it is private to."""
    for module, found in imports.items():
        for other in found:
            parts = other.split(".")
            private = next((i for i, part in enumerate(parts) if part.startswith("_") and part != "__main__"), None)
            if private is not None and module.split(".")[:private] != parts[:private]:
                yield f"{module} imports {other}"


def test_a_ring_is_found_when_there_is_one() -> None:
    ring = {"a": frozenset({"b"}), "b": frozenset({"c"}), "c": frozenset({"a"}), "d": frozenset({"a"})}

    assert rings(ring) == [["a", "b", "c"]]


def test_no_modules_import_each_other_in_a_ring() -> None:
    assert rings(_imports()) == []


def test_no_module_is_imported_from_outside_the_package_that_it_is_private_to() -> None:
    assert list(_behind_doors(_imports())) == []


def test_the_whole_package_was_read() -> None:
    assert {"storyrod.adapters.web.serving", "storyrod.telling.cards", "storyrod_blind._build"} <= set(_imports())
    assert "storyrod.planning" in _imports()["storyrod.telling.cards"]


def test_the_packet_is_imported_without_the_database_and_without_the_page() -> None:
    run = "import sys, storyrod.adapters.packet, storyrod.adapters.packet._make; print(*sys.modules)"
    loaded = subprocess.run([sys.executable, "-c", run], capture_output=True, text=True, check=True).stdout.split()

    assert "storyrod.adapters.packet._machining" in loaded
    assert {"sqlalchemy", "starlette", "storyrod.adapters.log"}.isdisjoint(loaded)
