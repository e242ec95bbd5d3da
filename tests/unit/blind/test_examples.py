"""Every example, built from its paper alone: what is found there is known, and the list of it only shrinks."""

from __future__ import annotations

import os
import tomllib
from pathlib import Path

import pytest

from storyrod.adapters.files import read_job
from storyrod.adapters.packet import make_packet
from storyrod.plan import Plan
from storyrod_blind import FindingKind, Report, build
from storyrod_blind._build import build_from
from tests.places import EXAMPLES
from tests.unit.blind.papers import example_pages

KNOWN = tomllib.loads((Path(__file__).parent / "known.toml").read_text(encoding="utf-8"))
NAMES = sorted(p.stem for p in EXAMPLES.glob("*.toml") if "[[cases]]" in p.read_text(encoding="utf-8"))
WHOLE = os.environ.get("STORYROD_BLIND") == "whole"
"""Whether packets are made with all their pictures, as printed: set STORYROD_BLIND=whole. It takes some minutes."""


def report_on(name: str) -> Report:
    if WHOLE:
        told = read_job(EXAMPLES / f"{name}.toml")
        return build(make_packet(Plan(told.job, told.workshop)))
    return build_from(example_pages(name))


def told(report: Report) -> str:
    return "\n".join(f"{f.kind.name} {f.about}: {f.words} {f.by_mm:+.3f}" for f in report.findings)


@pytest.mark.parametrize("name", NAMES)
def test_what_an_example_s_paper_leaves_open_is_known_and_only_shrinks(name: str) -> None:
    report = report_on(name)
    known = {FindingKind[kind] for kind in KNOWN.get(name, {}).get("kinds", [])}
    found = set(report.by_kind)

    assert found <= known, f"new: {sorted(k.name for k in found - known)}\n{told(report)}"
    assert found == known, f"take off the list: {sorted(k.name for k in known - found)}"
    assert report.worst_mm <= KNOWN.get(name, {}).get("worst_mm", 0.0) + 5e-4, told(report)


@pytest.mark.parametrize("name", NAMES)
def test_all_of_an_example_is_read_from_its_paper(name: str) -> None:
    """The builder is no witness of what it passed over: it has read each panel, joint, cut and mate that there is."""
    report = report_on(name)
    job = read_job(EXAMPLES / f"{name}.toml")
    plan = Plan(job.job, job.workshop)
    panels = [p for c in plan.set_out.cases for p in c.panels]
    marks = [m for p in panels for m in p.marks]

    assert report.panels == len(panels)
    assert report.joints == sum(len(c.joints) for c in plan.details.cases)
    assert report.cuts == len(marks)
    assert report.mates == sum(bool(m.mate) for m in marks) / 2
    jointed = {p for c in plan.details.cases for j in c.joints for p in (j.entering, j.receiving)}
    assert report.placed == len(jointed)


def test_every_known_example_is_there() -> None:
    assert set(KNOWN) - {"random"} <= set(NAMES)
