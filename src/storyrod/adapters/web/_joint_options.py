"""The table of methods for a place: what each comes to, as far as it is worked out, and what choosing it sends."""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from typing import Any

from markupsafe import Markup

from storyrod.adapters.choosing import Effect, Place, changes_for, chooses_itself, chosen_at
from storyrod.adapters.web._desk import Desk
from storyrod.adapters.web._errands import Errands
from storyrod.adapters.web._method_shown import carries, not_known, picture_of
from storyrod.adapters.web._trying import Trying
from storyrod.adapters.web._worked import Worked
from storyrod.model.account import show_money
from storyrod.model.method import Method
from storyrod.planning import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One method at the open place.

    Attributes:
        effect: None while it is being worked out.
        changes: what choosing it sends, as JSON.
        money_change and the like: against the job as it is, in words.
        new_jigs: that the job as it is does without.
    """

    method: Method
    is_chosen: bool
    effect: Effect | None
    changes: str
    money: str = ""
    money_change: str = ""
    minutes: str = ""
    minutes_change: str = ""
    outlay_change: str = ""
    jigs_change: str = ""
    new_jigs: tuple[str, ...] = ()
    step: str = ""
    picture: Markup | None = None
    carries: str = ""


def place_name(place: Place) -> str:
    """Return what a maker calls a place, with its case."""
    if not place.case or place.joint:
        return place.name
    return f"{place.name} of case {place.case}"


def options_at(desk: Desk, errands: Errands, worked: Worked, plan: Plan, place: Place) -> dict[str, Any]:
    """Return what the table shows; the first time it is asked for, working it out begins."""
    assert worked.read is not None  # noqa: S101  # a plan was read from it
    key = ("trying", worked.name, worked.read.digest, place.key)
    trying = errands.ask(key, Trying, lambda: Trying(worked, place, desk.settings.jobs))
    chosen = chosen_at(place, plan)
    now, currency = trying.now, plan.job.currency or plan.workshop.money.currency
    told = [_option(place, m, trying.found.get(m.code), now, chosen, plan, currency) for m in trying.methods]
    return {
        "place": place,
        "place_name": place_name(place),
        "now": now,
        "now_money": _cost(now, currency) if now is not None and now.fits else "",
        "currency": currency,
        "options": tuple(o for o in told if o.effect is None or o.effect.fits),
        "misfits": tuple(o for o in told if o.effect is not None and not o.effect.fits),
        "not_known": not_known((m.name, m.strength_n) for m in trying.methods),
        "working": not trying.is_done,
        "trouble": trying.trouble,
        "done": len(trying.found),
        "in_all": len(trying.methods),
        "take_back": _sent(place, "", plan) if chooses_itself(place, plan.job) else "",
    }


def _option(
    place: Place,
    method: Method,
    effect: Effect | None,
    now: Effect | None,
    chosen: tuple[str, ...],
    plan: Plan,
    money: str,
) -> Option:
    plain = Option(
        method=method,
        is_chosen=chosen == (method.code,),
        effect=effect,
        changes=_sent(place, method.code, plan),
        picture=picture_of(plan.workshop, method.code),
        carries=carries(method.strength_n),
    )
    if effect is None or not effect.fits or effect.minutes is None:
        return plain
    told = replace(plain, money=_cost(effect), minutes=f"{effect.minutes.usual:,.0f}")
    told = replace(told, step="" if effect.step_mm is None else f"± {effect.step_mm:.1f}")
    if now is None or not now.fits or now.minutes is None:
        return told
    more, first = effect.cost_cents - now.cost_cents, effect.outlay_cents - now.outlay_cents
    minutes, jigs = round(effect.minutes.usual - now.minutes.usual), len(effect.jigs) - len(now.jigs)
    return replace(
        told,
        money_change=_change(show_money(abs(more)), more),
        minutes_change=_change(f"{abs(minutes)} min", minutes),
        outlay_change=f"{_change(show_money(abs(first), money), first)} to spend first" if first else "",
        jigs_change=_change(str(abs(jigs)), jigs, "fewer") if jigs else "",
        new_jigs=tuple(j for j in effect.jigs if j not in now.jigs),
    )


def _cost(effect: Effect, currency: str = "") -> str:
    """Return what the job costs; one that leaves out what has no price is the least that it comes to."""
    return f"{'at least ' if effect.at_least else ''}{show_money(effect.cost_cents, currency)}"


def _change(amount: str, sign: float, less: str = "less") -> str:
    if sign == 0:
        return "the same"
    return f"{amount} {'more' if sign > 0 else less}"


def _sent(place: Place, method: str, plan: Plan) -> str:
    """Return the changes as the page's script sends them."""
    changes = changes_for(place, method, plan.job)
    return json.dumps([{"path": c.path, "act": c.act.value, "value": c.value} for c in changes])
