"""Brute force: every move and every two moves, each through the whole proof, without the search's own ways of leaving
anything out. What cannot be proven is asked of the breaks, except that no old cut is held to be in the way beforehand.
"""

from __future__ import annotations

from storyrod.planning._rescuing import _Work
from storyrod.rescue import Search, check_way
from storyrod.rescue._limits import SIZE


def best_score(work: _Work, search: Search) -> float | None:
    """Return the score of the best state of all that up to two moves lead to; None where none holds."""
    firsts = [d for _, d in search.moves(search.start)]
    seconds = [d for first in firsts for _, d in search.moves(first)]
    scores: list[float] = []
    for draft in (search.start, *firsts, *seconds):
        score = search.cost(draft).score
        if any(not b.key.startswith("old ") for b in search.breaks.of(draft)) or (scores and score >= min(scores)):
            continue
        stands = search.stands(draft)
        if not work.holds(stands, draft.case, search.sizes_differ(draft), draft.left):
            continue
        way = search.way(draft, search.cost(draft), stands)
        bench = search.bench
        if not check_way(bench.case, bench.pieces, way, wall=bench.job.limits.wall, size=SIZE):
            scores.append(score)
    return min(scores, default=None)
