"""The places where a method can be chosen, and every joint of a job, as lists with their addresses."""

from __future__ import annotations

from dataclasses import dataclass
from urllib.parse import quote, urlencode

from storyrod.adapters.choosing import Place, chosen_at, class_of, joints_at, places_of
from storyrod.adapters.web._joint_options import place_name
from storyrod.adapters.web._worked import Worked
from storyrod.model.detail import JoinedCase
from storyrod.model.joint import Joint
from storyrod.planning import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A place for which a method can be chosen."""

    place: Place
    name: str
    count: int
    held: str
    href: str
    is_open: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One joint in the list."""

    joint: Joint
    between: str
    method: str
    stations: int
    copies: int
    href: str
    is_open: bool


def href_of(worked: Worked, **query: str) -> str:
    """Return the address of the stage with what is asked there."""
    told = urlencode({k: v for k, v in query.items() if v})
    return f"/job/{quote(worked.name)}/joints" + (f"?{told}" if told else "")


def rows_of(worked: Worked, plan: Plan, cases: tuple[JoinedCase, ...], of: str, joint: str) -> tuple[Row, ...]:
    """Return the places for which a method can be chosen."""
    names = {m.code: m.name for m in plan.workshop.methods}
    rows = []
    for place in places_of(plan.job, cases):
        joints = joints_at(place, plan.job, cases)
        codes = tuple(dict.fromkeys(j.method for j in joints)) or chosen_at(place, plan)
        if cases and not joints:
            continue
        rows.append(
            Row(
                place=place,
                name=place_name(place),
                count=len(joints),
                held=" and ".join(names.get(c, c) for c in codes),
                href=href_of(worked, of=place.key, joint=joint) + "#choose",
                is_open=place.key == of,
            )
        )
    return tuple(rows)


def groups_of(
    worked: Worked, plan: Plan, cases: tuple[JoinedCase, ...], of: str, joint: str
) -> tuple[tuple[str, tuple[tuple[str, tuple[Line, ...]], ...]], ...]:
    """Return every joint, by case and class."""
    names = {m.code: m.name for m in plan.workshop.methods}
    found = []
    for case in cases:
        panels = {p.id: p for p in case.panels}
        by_class: dict[str, list[Line]] = {}
        for j in case.joints:
            entering, receiving = panels[j.entering], panels[j.receiving]
            line = Line(
                joint=j,
                between=f"{entering.mark} {entering.name} to {receiving.mark} {receiving.name}",
                method=names[j.method],
                stations=len(j.stations),
                copies=case.built.case.count,
                href=href_of(worked, of=of, joint=j.id) + "#joint",
                is_open=j.id == joint,
            )
            by_class.setdefault(class_of(j).value, []).append(line)
        told = case.built.case
        times = f", {told.count} off" if told.count > 1 else ""
        named = (
            "" if told.name.casefold() in {told.code.casefold(), f"case {told.code}".casefold()} else f", {told.name}"
        )
        heading = f"Case {told.code}{named}{times}"
        found.append((heading, tuple((kind, tuple(lines)) for kind, lines in by_class.items())))
    return tuple(found)


def narrower(
    worked: Worked, plan: Plan, cases: tuple[JoinedCase, ...], place: Place, joint: str
) -> tuple[tuple[str, str, bool], ...]:
    """Return the ways to choose for one case only, as (name, address, whether it is the open one)."""
    if place.joint or len(plan.job.cases) < 2:
        return ()
    word = place.key.partition("@")[0]
    has = {c.built.case.code for c in cases for j in c.joints if class_of(j) in place.kinds}
    codes = [c.code for c in plan.job.cases if not cases or c.code in has]
    ways = [("", "every case that does not choose for itself"), *((c, f"case {c} only") for c in codes)]
    return tuple(
        (name, href_of(worked, of=f"{word}@{code}" if code else word, joint=joint) + "#choose", code == place.case)
        for code, name in ways
    )
