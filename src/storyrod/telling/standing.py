"""Jigs worth keeping in words: what they serve, what they save a year, what one more depth would cost."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

from storyrod.measure.writing import LengthWriter
from storyrod.model.machining import JigPlan
from storyrod.model.standing import Line, StandingSet
from storyrod.model.work import work_words
from storyrod.planning import Family
from storyrod.telling.blocks import Block, Heading, Words, right, table, wide
from storyrod.telling.set_ups import minute_words

TOO_MANY: Final = "no one jig"
"""What stands for the minutes of a jig where no one jig can serve a line."""


def head_words(family: Family) -> tuple[str, ...]:
    """Return what the jigs come to, in sentences."""
    standing = family.standing
    if not standing.sets:
        return (f"No jig pays within {standing.years:g} years: make them job by job.",)
    jigs = standing.jigs
    making = sum(s.making_min for s in standing.sets)
    saved = sum(s.saves_min for s in standing.sets)
    many = "1 jig is" if len(jigs) == 1 else f"{len(jigs)} jigs are"
    told = [f"{many} worth keeping: {work_words(making)} to make once, {work_words(saved)} saved a year."]
    if not standing.proven:
        told.append("With so many lines of cuts not every choice was weighed.")
    if standing.owned:
        told.append(f"You own {', '.join(standing.owned)} already: what {_they(standing.owned)} is not in the sums.")
    return tuple(told)


def _they(owned: Sequence[str]) -> str:
    return "it serves" if len(owned) == 1 else "they serve"


def shared_words(family: Family) -> str:
    """Return what `spread = "shared"` would do for the jigs, or ""."""
    if family.shared is None:
        return ""
    now = sum(len(j.stations) for j in family.standing.jigs)
    then = sum(len(j.stations) for j in family.shared.jigs)
    return (
        f'With spread = "shared" in the job files these jigs would have {then} stations in place of {now}, and would '
        "be worth more: try it."
    )


def set_words(one: StandingSet) -> str:
    """Return what jigs in step save, and after how long they have paid for themselves."""
    months = math.ceil(12 * one.pays_after_years)
    after = f"{months} month{'s' * (months != 1)}" if months < 24 else f"{one.pays_after_years:.0f} years"
    step = " Made from one zero: bore their stations clamped together." if len(one.jigs) > 1 else ""
    made, saved = work_words(one.making_min), work_words(one.saves_min)
    return f"{made} to make, {saved} saved a year: paid for after {after}.{step}"


def jig_rows(jigs: Sequence[JigPlan], lengths: LengthWriter) -> list[tuple[str, ...]]:
    """Return the rows of a table of jigs: name, stations, stops."""
    return [
        (
            jig.id,
            jig.name,
            ", ".join(map(lengths.n, jig.stations)),
            ", ".join(f"{s.label} at {lengths.n(s.at)}" for s in jig.stops),
        )
        for jig in jigs
    ]


def line_row(line: Line, lengths: LengthWriter) -> tuple[str, ...]:
    """Return a line of cuts as a row: what, where, on parts from where to where, how often, what it saves and costs."""
    low, high = lengths.n(line.part_min), lengths.n(line.part_max)
    return (
        line.what,
        ", ".join(map(lengths.n, line.stations)),
        low if low == high else f"{low} to {high}",
        f"{line.placings:.0f}",
        minute_words(line.saves_min),
        minute_words(line.adds_min) if math.isfinite(line.adds_min) else TOO_MANY,
    )


def line_words(line: Line, lengths: LengthWriter) -> str:
    """Return a line of cuts in a sentence."""
    what, at, parts, a_year, saves, adds = line_row(line, lengths)
    head = f"{what} at {at}, parts {parts}, {a_year} a year"
    if line.is_kept:
        return f"{head}: saves {saves} minutes; the jigs would take {adds} less to make without it."
    if adds == TOO_MANY:
        return f"{head}: no one jig serves it."
    return f"{head}: would save {saves} minutes, and add {adds} to the making."


def standing_blocks(family: Family) -> Iterator[Block]:
    """Yield what is worth keeping, set by set, and what is not."""
    lengths = family.plans[0].job.lengths
    for words in head_words(family):
        yield Words(text=words)
    for one in family.standing.sets:
        yield Heading(text=", ".join(f"{j.id} {j.name}" for j in one.jigs))
        yield Words(text=set_words(one))
        yield table(("", wide("jig"), wide("stations"), "stops"), jig_rows(one.jigs, lengths), small=True)
        heads = (wide("serves"), "at", right("parts"), right("a year"), right("saves, min"), right("of making, min"))
        yield table(heads, [line_row(line, lengths) for line in one.lines], small=True)
    if family.standing.left:
        yield Heading(text="One more, and what it would cost")
        heads = (wide("cuts"), "at", right("parts"), right("a year"), right("saves, min"), right("adds, min"))
        yield table(heads, [line_row(line, lengths) for line in family.standing.left], small=True)
    shared = shared_words(family)
    if shared:
        yield Words(text=shared)
