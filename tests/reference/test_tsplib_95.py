"""Source: TSPLIB 95, Reinelt, University of Heidelberg: the sequential ordering problem.

Where: its instances, read where they lie beside the project; optima proven by dynamic programming, as the README beside
them says. Rows N1 to N3.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from storyrod.machining._order import find_order
from tests.places import shared_data

Matrix = list[list[int]]


def instance(name: str) -> tuple[Matrix, list[tuple[int, int]]]:
    text = shared_data("sequencing", f"{name}.sop").read_text(encoding="utf-8")
    numbers = [int(w) for w in text.split("EDGE_WEIGHT_SECTION")[1].replace("EOF", "").split()]
    n = numbers[0]
    rows = [numbers[1 + i * n : 1 + (i + 1) * n] for i in range(n)]
    return rows, [(j, i) for i in range(n) for j in range(n) if i != j and rows[i][j] == -1]


def cost_of(rows: Matrix, path: tuple[int, ...]) -> int:
    return sum(rows[a][b] for a, b in pairwise(path))


OPTIMA = [("ESC07", 2125), ("ESC12", 1675), ("br17.10", 55), ("ESC25", 1681), ("p43.4", 83005), ("ft53.4", 14425)]


@pytest.mark.parametrize(("name", "optimum"), OPTIMA)
def test_n1_optimum(name: str, optimum: int) -> None:
    rows, before = instance(name)
    order = find_order(rows, before, limit_s=10)

    assert order.cost == order.bound == optimum
    assert cost_of(rows, order.path) == optimum  # N3: between neighbours only, no return


@pytest.mark.parametrize(("name", "optimum"), [("ft53.4", 14425), ("p43.4", 83005)])
def test_n1_within_the_limit_value_and_bound_are_true(name: str, optimum: int) -> None:
    rows, before = instance(name)
    order = find_order(rows, before, limit_s=0.5)

    assert order.bound <= optimum <= order.cost == cost_of(rows, order.path)


@pytest.mark.parametrize("name", ["ESC07", "br17.10", "ESC25"])
def test_n2_every_precedence_is_obeyed(name: str) -> None:
    rows, before = instance(name)
    path = find_order(rows, before, limit_s=0.5).path

    assert sorted(path) == list(range(len(rows)))
    place = {node: n for n, node in enumerate(path)}
    assert all(place[a] < place[b] for a, b in before)
