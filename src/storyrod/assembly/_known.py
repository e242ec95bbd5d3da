"""What is planned already: whole cases, and orders of bodies that stay as they are, as drawer boxes mostly do."""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from dataclasses import dataclass, field, replace

from storyrod.assembly._body import Locks, Parts
from storyrod.assembly._order import Order, order_body
from storyrod.model.assembly import CasePlan
from storyrod.model.workshop import Handling


@dataclass(frozen=True, slots=True)
class KnownOrders:
    """Orders found before, each with all that it was worked out from; what does not answer to that is found anew.

    The carcass is left out: it is what plans of one job differ in, and what is known of it takes the most room.
    """

    _found: dict[Hashable, Order] = field(default_factory=dict)

    @property
    def found(self) -> tuple[Order, ...]:
        """The orders found so far."""
        return tuple(self._found.values())

    def order(self, parts: Parts, handling: Handling, *, fixed: Locks, seed: int = 0, work: int | None = None) -> Order:
        """Return the order of a body, as `order_body` finds it."""
        if parts.code == "carcass":
            return order_body(parts, handling, fixed=fixed, seed=seed, work=work)
        key = (_inputs(parts, fixed), handling, seed, work)
        found = self._found.get(key)
        if found is None:
            found = self._found[key] = order_body(parts, handling, fixed=fixed, seed=seed, work=work)
        return replace(found, methods=parts.methods)


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """What is planned already.

    Attributes:
        cases: those that stay as they are, by their number.
        orders: orders of bodies that were found before; those found now are added. None where none are kept.
    """

    cases: Mapping[int, CasePlan] = field(default_factory=dict)
    orders: KnownOrders | None = None


def _inputs(parts: Parts, fixed: Locks) -> Hashable:
    """Return all that the order of a body hangs on."""
    ids = {p.id for p in parts.panels}
    return (
        parts.code,
        parts.panels,
        parts.joints,
        tuple(parts.methods[code] for code in dict.fromkeys(j.method for j in parts.joints)),
        tuple(f for f in parts.case.fittings if f.panel in ids),
        parts.mass_kg,
        parts.kept,
        tuple((j.id, fixed[j.id]) for j in parts.joints if j.id in fixed),
    )
