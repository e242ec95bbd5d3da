"""Changing a jig over: its fence and stops, screwed under it, come to its other face for the mirrored parts.

A jig is made as drawn and stays as it was left, whatever is done in between. A set-up with parts of both hands starts
with those for which the jig lies right, so that it is changed over once; one with parts of one hand only where the jig
was left the other way. So the number hangs on the order of the jig's own set-ups alone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from storyrod.machining._order_problem import OrderProblem, RunOrder
from storyrod.model.machining import Hand


@dataclass(frozen=True, slots=True)
class Turns:
    """How often the jig of one set-up is changed over, and the ways round in which it lies, in the order of work."""

    count: int
    hands: tuple[Hand, ...]


@dataclass(frozen=True, slots=True)
class Wants:
    """What a set-up wants of its jig: which one, or "", and the ways round."""

    jig: str
    hands: frozenset[Hand]


def turns_in(run: Iterable[Wants]) -> tuple[Turns, ...]:
    """Return how often each set-up changes its jig over when they are done in this order."""
    lies: dict[str, Hand] = {}
    return tuple(turn(lies, wants) for wants in run)


def turn(lies: dict[str, Hand], wants: Wants) -> Turns:
    """Return how often a set-up changes its jig over; `lies` tells how each jig was left, and is kept up."""
    if not wants.jig or not wants.hands:
        return Turns(0, tuple(h for h in Hand if h in wants.hands))
    left = lies.get(wants.jig, Hand.AS_DRAWN)
    hands = tuple(sorted(wants.hands, key=lambda h: h is not left))
    lies[wants.jig] = hands[-1]
    return Turns(len(hands) - (hands[0] is left), hands)


def fewest_turns(every: Iterable[Wants]) -> int:
    """Return how often jigs are changed over in the best order, precedence left out: no order needs fewer.

    Once for each set-up of both hands. Those of one hand fit in before and after these; a jig that has none of both
    hands is changed over once if a set-up wants it turned.
    """
    of_jig: dict[str, list[frozenset[Hand]]] = {}
    for wants in every:
        if wants.jig and wants.hands:
            of_jig.setdefault(wants.jig, []).append(wants.hands)
    return sum(sum(len(h) > 1 for h in hands) or int(any(Hand.TURNED in h for h in hands)) for hands in of_jig.values())


def with_turns(order: RunOrder, problem: OrderProblem, wants: Sequence[Wants], each: int) -> RunOrder:
    """Return an order with the cost of changing jigs over added, `each` a time; better ones near it are looked for.

    Args:
        order: found for the other costs; its bound holds for these.
        problem: costs and precedence; node n + 1 is what `wants[n]` stands for.
        wants: what each set-up wants of its jig.
        each: cost of changing a jig over once.
    """

    def cost(path: Sequence[int]) -> int:
        return problem.cost_of(path) + each * sum(t.count for t in turns_in(wants[i - 1] for i in path[1:]))

    bound = order.bound + each * fewest_turns(wants)
    path = order.path
    if cost(path) > bound:
        path = _moved(path, problem, cost, bound)
    return RunOrder(path, cost(path), min(bound, cost(path)), order.by)


def _moved(
    path: tuple[int, ...], problem: OrderProblem, cost: Callable[[Sequence[int]], int], bound: int
) -> tuple[int, ...]:
    """Return a path bettered by moving one node at a time to a better place, until none is left."""
    best, least = path, cost(path)
    found = True
    while found and least > bound:
        found = False
        for i in range(1, len(best)):
            rest = best[:i] + best[i + 1 :]
            for k in range(1, len(best)):
                tried = (*rest[:k], best[i], *rest[k:])
                if k != i and _is_kept(tried, problem) and cost(tried) < least:
                    best, least, found = tried, cost(tried), True
                    break
            if found:
                break
    return best


def _is_kept(path: Sequence[int], problem: OrderProblem) -> bool:
    done = 0
    for node in path:
        if problem.before[node] & ~done:
            return False
        done |= 1 << node
    return True
