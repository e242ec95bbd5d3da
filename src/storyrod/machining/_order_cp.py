"""The cheapest order by constraint programming: a circuit of arcs with a rank for every node."""

from __future__ import annotations

from storyrod.machining._order_problem import Order, OrderProblem


def order_by_cp(problem: OrderProblem, best: Order, *, limit_s: float, seed: int) -> Order:
    """Return the order found within the limit, never dearer than `best`, with the bound that was proven.

    One worker and a limit of counted work, so that the same input gives the same answer.
    """
    from ortools.sat.python import cp_model

    n = problem.n
    model = cp_model.CpModel()
    ranks = [model.new_int_var(0, n - 1, f"r{i}") for i in range(n)]
    model.add(ranks[0] == 0)
    arcs, taken = [], {}
    for i in range(n):
        for j in problem.follows[i]:
            literal = model.new_bool_var(f"a{i}_{j}")
            arcs.append((i, j, literal))
            taken[i, j] = literal
            model.add(ranks[j] == ranks[i] + 1).only_enforce_if(literal)
        arcs.append((i, 0, model.new_bool_var(f"e{i}")))
    model.add_circuit(arcs)
    for j in range(1, n):
        for i in range(1, n):
            if problem.before[j] >> i & 1:
                model.add(ranks[i] + 1 <= ranks[j])
    cost = sum(problem.costs[i][j] * literal for (i, j), literal in taken.items())
    model.minimize(cost)
    model.add(cost >= best.bound)
    for rank, node in enumerate(best.path):
        model.add_hint(ranks[node], rank)
    steps = set(zip(best.path, best.path[1:], strict=False))
    for arc, literal in taken.items():
        model.add_hint(literal, arc in steps)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = seed
    solver.parameters.max_deterministic_time = limit_s
    solver.parameters.max_time_in_seconds = 3 * limit_s
    status = solver.solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return best
    bound = max(
        best.bound,
        -int(-solver.best_objective_bound // 1)
        if solver.best_objective_bound % 1 > 1e-6
        else round(solver.best_objective_bound),
    )
    path = tuple(sorted(range(n), key=lambda i: solver.value(ranks[i])))
    found = problem.cost_of(path)
    if found >= best.cost:
        return Order(best.path, best.cost, min(bound, best.cost), "constraint programming")
    return Order(path, found, min(bound, found), "constraint programming")
