"""A contract that `lint-imports` keeps beside its own kinds: what checks shares no code with what it checks."""

from __future__ import annotations

from fnmatch import fnmatchcase
from typing import Any

from importlinter import Contract, ContractCheck, fields, output


class CheckersContract(Contract):
    """Modules named as checkers come to no module of their own stage that is not one, by whatever way round.

    What both need is a value in `model` or a rule in `trade`, which stand below all stages.
    """

    type_name = "checkers"

    checkers: Any = fields.ListField(subfield=fields.StringField())

    def check(self, graph: Any, verbose: bool) -> ContractCheck:  # the library's own
        """Return whether no checker comes to what it checks, with each way by which one does."""
        checking = {m for m in graph.modules if any(fnmatchcase(m, c) for c in self.checkers)}
        ways: list[tuple[str, ...]] = []
        for checker in sorted(checking):
            stage = ".".join(checker.split(".")[:2])
            checked = (graph.find_descendants(stage) | {stage}) - checking
            found = graph.find_upstream_modules(checker) & checked
            ways += [graph.find_shortest_chain(checker, other) for other in sorted(found)]
        missing = [c for c in self.checkers if not any(fnmatchcase(m, c) for m in checking)]
        return ContractCheck(
            kept=not ways and not missing, metadata={"ways": ways, "missing": missing, "checkers": len(checking)}
        )

    def render_broken_contract(self, check: ContractCheck) -> None:
        """Say by which way a checker comes to what it checks, and which names fit no module."""
        for way in check.metadata["ways"]:
            output.print_error(" -> ".join(way))
        for name in check.metadata["missing"]:
            output.print_error(f"no module is called {name}")
