"""`plan.json`: the whole plan as plain data, for scripts and outside checks; described in `docs/plan-json.md`."""

from __future__ import annotations

import dataclasses
from typing import Any

from storyrod.measure.space import Box
from storyrod.model.account import Account
from storyrod.model.assembly import CasePlan
from storyrod.model.carcass import BuiltCase
from storyrod.model.detail import DetailedCase
from storyrod.model.feature import Feature
from storyrod.model.joint import Joint
from storyrod.model.machining import SetUp
from storyrod.model.mark import CaseSetOut, Mark, PanelSetOut
from storyrod.model.soundness import Soundness
from storyrod.model.weight import panel_mass_kg
from storyrod.planning import Plan
from storyrod.telling.connectors import connector_items, connectors_by_method
from storyrod.telling.plain import plain, tidy

Data = dict[str, Any]

FORMAT = 1
"""Raised when a reader of plan.json would have to change."""


def plan_document(plan: Plan) -> Data:
    """Return the plan as plain data: dicts, lists, text, numbers; lengths in mm, not rounded but for float dust."""
    from storyrod.adapters.output._buying import buying_data
    from storyrod.adapters.output._sheets import sheets_data

    told = plan.account
    pairs = list(zip(plan.details.cases, plan.set_out.cases, strict=True))
    return {
        "format": FORMAT,
        "title": plan.job.title,
        "version": plan.version,
        "units": plan.job.unit.value,
        "mark_to": plan.job.mark_to,
        "cases": [_case(d.built) for d, _ in pairs],
        "panels": [_panel(plan, d, s) for d, c in pairs for s in c.panels],
        "joints": [_joint(j, d.built.case.count) for d, _ in pairs for j in d.joints],
        "connectors": dict(connectors_by_method(plan)),
        "connector_items": [{"item": item, "count": n} for item, n in sorted(connector_items(plan).items())],
        "hardware": [plain(h) | {"case": d.built.case.code} for d, _ in pairs for h in d.built.hardware],
        "fixings": [plain(f) | {"case": d.built.case.code} for d, _ in pairs for f in d.built.fixings],
        "lines": [line for _, c in pairs for line in _lines(c)],
        "gangs": plain(plan.set_out.gangs),
        "proof": plain(plan.proof),
        "setups": [_set_up(s) for s in plan.machining.set_ups],
        "run": [plain(s) | {"minutes": tidy(s.minutes)} for s in plan.machining.run.steps],
        "jigs": plain(plan.machining.jigs),
        "jig_tally": plain(plan.machining.tally),
        "station_rows": plain(plan.machining.stations),
        **sheets_data(plan),
        "assembly": [step for case in plan.assembly.cases for step in _steps(case)],
        "soundness": _soundness(plan.soundness),
        "minutes": _minutes(told),
        "money": _money(told),
        "buying": buying_data(plan),
        "cautions": plain(plan.cautions),
    }


def _soundness(told: Soundness) -> Data:
    """Return the estimates, what the simulation of steps came to among them."""
    data: Data = plain(told)
    for case, shown in zip(told.cases, data["cases"], strict=True):
        for step, row in zip(case.steps, shown["steps"], strict=True):
            row |= {"middle": tidy(step.middle), "most": tidy(step.most), "chance": tidy(step.chance)}
    return data


def _minutes(told: Account) -> Data:
    minutes = {**plain(told.minutes), "clamp": tidy(told.clamp_min), "by_stage": plain(told.by_stage)}
    return minutes if told.noise is None else {**minutes, "noise": plain(told.noise)}


def _money(told: Account) -> Data:
    return {
        "currency": told.terms.currency,
        "cost_cents": told.cost_cents,
        "cash_cents": told.cash_cents,
        "pay_cents": told.pay_cents,
        "kept_cents": told.kept_cents,
        "price_cents": told.price_cents,
        "outlay_cents": told.outlay_cents,
        "lines": plain(told.lines),
        "unpriced": list(told.unpriced),
        "missing": plain(told.missing),
    }


def _box(box: Box) -> list[list[float]]:
    return [plain(box.low), plain(box.high)]


def _case(built: BuiltCase) -> Data:
    case = built.case
    return {
        "code": case.code,
        "name": case.name,
        "count": case.count,
        "width": tidy(case.width),
        "height": tidy(case.height),
        "depth": tidy(case.depth),
        "openings": [plain(o) | {"box": _box(o.box)} for o in built.openings],
        "drawers": [plain(d) | {"box": _box(d.box), "inside": _box(d.inside)} for d in built.drawers],
        "doors": plain(built.doors),
        "clearances": plain(built.clearances),
    }


def _panel(plan: Plan, case: DetailedCase, out: PanelSetOut) -> Data:
    panel = out.panel
    marks = {m.feature.id: m for m in out.marks}
    return {
        "id": panel.id,
        "case": panel.case,
        "mark": panel.mark,
        "role": panel.role.value,
        "name": panel.name,
        "count": case.built.case.count,
        "length": tidy(panel.length),
        "width": tidy(panel.width),
        "thickness": tidy(panel.thickness),
        "cut_length": tidy(panel.cut_length),
        "cut_width": tidy(panel.cut_width),
        "board": panel.board,
        "grain": panel.grain.value,
        "edged": plain(panel.edged),
        "mass_kg": round(panel_mass_kg(panel, plan.job.board(panel.board)), 4),
        "box": _box(panel.box),
        "frame": {
            "origin": plain(panel.frame.origin),
            "u": panel.frame.u.value,
            "v": panel.frame.v.value,
            "into": panel.frame.into.value,
        },
        "twin": panel.twin,
        "sums": list(panel.sums),
        "cause": panel.cause,
        "features": [_feature(f, marks[f.id]) for f in case.on(panel.id)],
    }


def _feature(feature: Feature, mark: Mark) -> Data:
    sizes = {f.name: plain(getattr(feature.shape, f.name)) for f in dataclasses.fields(feature.shape)}
    return sizes | {
        "id": feature.id,
        "kind": feature.kind,
        "face": feature.surface.value,
        "u": tidy(feature.at.u),
        "v": tidy(feature.at.v),
        "w": tidy(feature.at.w),
        "depth": tidy(feature.depth),
        "joint": feature.joint,
        "station": feature.station,
        "mate": feature.mate,
        "item": feature.item,
        "why": feature.why,
        "mark": mark.label,
        "marked": {"u": tidy(mark.u), "v": tidy(mark.v), "w": tidy(mark.w)},
    }


def _joint(joint: Joint, count: int) -> Data:
    return {
        "id": joint.id,
        "number": joint.number,
        "case": joint.case,
        "count": count,
        "kind": joint.kind.value,
        "at_corner": joint.at_corner,
        "receiving": joint.receiving,
        "receiving_face": joint.receiving_surface.value,
        "entering": joint.entering,
        "entering_face": joint.entering_surface.value,
        "method": joint.method,
        "motion": joint.motion.value,
        "travel": tidy(joint.travel),
        "lock": joint.lock.value if joint.lock else None,
        "length": tidy(joint.length),
        "shift": tidy(joint.shift),
        "enters": tidy(joint.enters),
        "stations": [tidy(s) for s in joint.stations],
        "moved_stations": list(joint.moved_stations),
        "back_to_back": joint.back_to_back,
        "glue": joint.glue,
        "contact": _box(joint.contact),
    }


def _set_up(set_up: SetUp) -> Data:
    cuts = sum(len(o.features) for o in set_up.operations)
    return {**plain(set_up), "cuts": cuts}


def _steps(case: CasePlan) -> list[Data]:
    return [plain(step) | {"case": case.case, "count": case.count} for step in case.steps]


def _lines(case: CaseSetOut) -> list[Data]:
    return [plain(line) for panel in case.panels for line in panel.lines]
