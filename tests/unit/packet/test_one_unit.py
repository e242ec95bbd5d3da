"""One unit in one packet: an inch job says no bare millimetre, on no page, card, caution or fault.

Two ways of looking. Every way into millimetres is poisoned, so that whatever an inch job writes in them without the
unit beside it is seen, however it comes about. And no module but the writer formats a length by itself.
"""

from __future__ import annotations

import ast
import dataclasses
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Final

import pytest
from hypothesis import HealthCheck, given, settings

from storyrod import plan as planned
from storyrod.adapters.files import packaged_workshop
from storyrod.adapters.packet._make import PARTS, packet_sections
from storyrod.drawing import Drawing
from storyrod.drawing._types import Dimension, Running, Text
from storyrod.faults import JobError
from storyrod.ledger._work import list_work
from storyrod.measure.length import Unit
from storyrod.measure.length import show_mm as exact_mm
from storyrod.model.job import Job
from storyrod.planning import Plan
from storyrod.telling.cards import cards_of
from storyrod.telling.set_ups import jig_words, setting_facts, told_of_jig
from tests.builders import board, boards, case, columns, door, drawer, job, opening, rows, shelves
from tests.places import EXAMPLES, ROOT
from tests.strategies import jobs

POISON: Final = "\u00a7"
BARE: Final = re.compile(rf"{POISON}(?!\S+ mm\b)\S+")
"""A figure in millimetres that is not said to be one."""

_NOT_SHOWN: Final = frozenset({"thing", "cutter", "layer", "id", "ids", "features", "finishes", "panels"})
"""What no eye sees: keys of the bench log, codes of cutters, layers of a drawing file, ids."""

SOURCE: Final = ROOT / "src" / "storyrod"


def every_fitting() -> Job:
    """Return an inch job of a metric board with drawers, a door, loose shelves, dividers and fixed shelves."""
    inside = columns(rows(drawer(), drawer(), opening()), rows(door(), shelves(1), opening()))
    thin = (board(measured=17.7), *boards()[1:])
    return job(case(width=1100.0, height=1223.3, inside=inside), boards=thin, unit=Unit.INCH)


def seen_in(value: object) -> Iterator[str]:
    """Yield every string that a reader of the value sees."""
    match value:
        case str():
            yield value
        case Drawing() | Text() | Dimension() | Running():
            yield from drawn_in(value)
        case tuple() | list():
            for one in value:
                yield from seen_in(one)
        case _ if dataclasses.is_dataclass(value):
            for field in dataclasses.fields(value):
                if field.name not in _NOT_SHOWN:
                    yield from seen_in(getattr(value, field.name))


def drawn_in(value: Drawing | Text | Dimension | Running) -> Iterator[str]:
    """Yield every string that stands in a drawing, or in one thing of it."""
    match value:
        case Drawing():
            yield from (value.alt, value.title, *value.notes)
            yield from seen_in(value.items)
        case Text():
            yield value.text
        case Dimension():
            yield value.text or ""
        case Running():
            yield from (s.text for s in value.stops)


def all_seen(plan: Plan) -> Iterator[str]:
    """Yield what a maker reads of a plan: packet, set-up cards, jigs, bench cards, cautions, saw lists, proof."""
    lengths = plan.job.lengths
    yield from seen_in(packet_sections(plan, [p for p in PARTS if p != "costs"]))
    for set_up in plan.machining.set_ups:
        yield from (set_up.title, set_up.why, set_up.trial)
        yield from seen_in(set_up.cautions)
        yield from (word for o in set_up.operations for word in (o.what, o.reference, o.reference_why))
        if set_up.setting is not None:
            yield from seen_in(setting_facts(set_up.setting, plan.machining, lengths))
    for jig in plan.machining.jigs:
        yield jig_words(jig, lengths)
        yield from seen_in(told_of_jig(jig, lengths))
    yield from seen_in(cards_of(plan))
    yield from map(str, plan.cautions)
    yield from plan.proven
    yield from seen_in(plan.saw_lists)


def poison(patch: pytest.MonkeyPatch) -> None:
    """Put a mark before every figure that is written in millimetres, wherever the writing of it was taken in."""
    import sys

    def marked(mm: float, decimals: int = 2) -> str:
        return f"{POISON}{exact_mm(mm, decimals)}"

    for name, module in list(sys.modules.items()):
        if name.startswith("storyrod.") and getattr(module, "show_mm", None) is exact_mm:
            patch.setattr(module, "show_mm", marked)


def bare_in(plan: Plan) -> list[str]:
    return sorted({text for text in all_seen(plan) if BARE.search(text)})


def test_the_poison_is_seen_in_a_metric_job() -> None:
    """The check sees what it is to see: a job in millimetres is full of them."""
    metric = planned(EXAMPLES / "first-box.toml")
    assert metric.proof.passed  # which reads its figures again, so not from poisoned ones
    with pytest.MonkeyPatch.context() as patch:
        poison(patch)
        assert len(bare_in(metric)) > 20


def test_the_example_in_inches_has_no_bare_millimetre() -> None:
    with pytest.MonkeyPatch.context() as patch:
        poison(patch)
        assert bare_in(planned(EXAMPLES / "music-stand-shelf-inches.toml")) == []


def test_every_fitting_of_an_inch_job_has_no_bare_millimetre() -> None:
    with pytest.MonkeyPatch.context() as patch:
        poison(patch)
        assert bare_in(Plan(every_fitting(), packaged_workshop())) == []


@given(made=jobs(packaged_workshop(), most_cases=1))
@settings(max_examples=3, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_no_inch_job_has_a_bare_millimetre_and_its_faults_have_none(made: Job) -> None:
    inches = dataclasses.replace(made, unit=Unit.INCH)
    with pytest.MonkeyPatch.context() as patch:
        poison(patch)
        try:
            found = bare_in(Plan(inches, packaged_workshop()))
        except JobError as error:
            found = [str(f) for f in error.faults if POISON in str(f) and BARE.search(str(f))]
        assert found == []


@pytest.mark.parametrize(
    "wrong",
    [
        case(inside=rows(opening(5.0), opening())),
        case(width=120.0, inside=drawer()),
        case(depth=150.0, inside=drawer()),
        case(inside=rows(opening(400.0), opening(400.0))),
    ],
    ids=["too small", "too narrow", "too shallow", "too much"],
)
def test_a_fault_of_an_inch_job_is_in_inches(wrong: object) -> None:
    with pytest.raises(JobError) as caught:
        _ = Plan(job(wrong, unit=Unit.INCH), packaged_workshop()).details  # type: ignore[arg-type]

    told = [f"{f.found} {f.allowed} {f.do}" for f in caught.value.faults]
    assert told
    assert all('"' in t and " mm" not in t for t in told)


# --- no module but the writer formats a length -----------------------------------------------------------------------

_MAY_WRITE: Final = {
    "measure/length.py": "the writing itself",
    "measure/writing.py": "the writer",
    "drawing/_layers.py": "layer names of a file for a machine, in mm",
    "telling/things.py": "what a tick is known again by, whatever the job's unit",
    "adapters/solid/_witness.py": "a slip of ours, told in mm",
    "adapters/files/_values.py": "what is written into a file, to be read back exactly",
    "adapters/files/_fields.py": "ranges of fields, each with its unit",
    "adapters/files/asking.py": "what is typed, told back in the unit of the field",
    "adapters/files/reshaping.py": "what is written into a file, to be read back exactly",
    "adapters/files/methods_page.py": "the reference page of methods, in mm",
    "adapters/web/_methods_page.py": "a workshop's methods, in mm",
    "adapters/web/_sample_joint.py": "a workshop's connector, in mm",
    "adapters/web/_workshop_page.py": "a workshop's values, in mm",
    "adapters/web/_render.py": "a workshop's values, in mm",
    "adapters/web/_brief_chosen.py": "what a job file holds, in its own unit",
    "adapters/web/_ways_out.py": "what is written into a job file in inches, to be read back exactly",
}
"""Modules that call the low-level writing of lengths, and why they may."""


def _modules() -> Iterator[tuple[str, Path]]:
    for path in sorted(SOURCE.rglob("*.py")):
        yield path.relative_to(SOURCE).as_posix(), path


def test_only_the_writer_and_what_is_named_here_writes_a_length_by_itself() -> None:
    low = {"show_mm", "show_inches", "show_length"}
    found = {
        name
        for name, path in _modules()
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Name | ast.ImportFrom)
        and ({node.id} if isinstance(node, ast.Name) else {a.name for a in node.names}) & low
    }
    assert found - {"measure/length.py"} == set(_MAY_WRITE) - {"measure/length.py"}


_STAGES: Final = ("carcass", "joinery", "assembly", "setout", "machining", "sheets", "soundness", "drawing", "trade")


def test_no_stage_formats_a_figure_and_calls_it_millimetres() -> None:
    """`f"{x:g} mm"` in a stage is a figure that no writer has seen."""
    told: list[str] = []
    for name, path in _modules():
        if not name.startswith(_STAGES):
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.JoinedStr):
                told += [
                    f"{name}:{node.lineno}"
                    for part, after in zip(node.values, node.values[1:], strict=False)
                    if isinstance(part, ast.FormattedValue)
                    and isinstance(after, ast.Constant)
                    and re.match(r" ?mm\b", str(after.value))
                ]
    assert told == []


_NO_LENGTH: Final = re.compile(r"^(?: ?(?:kg|N|min)\b|\u00b0| deg\b| (?:years|carcasses|parts|times)\b)", re.IGNORECASE)
"""What follows a figure that is no length."""

_NO_LENGTHS_HERE: Final = {
    "soundness/_joints.py": "the source of a figure, in its own mm",
    "soundness/_sag.py": "the share of a span",
    "drawing/_drawing.py": "a scale",
    "drawing/panel_lies.py": "the name of a picture, read by nobody",
    "drawing/_sag_figure.py": "a scale, and the share of a span",
    "drawing/_tip_figure.py": "a ratio of moments",
    "drawing/break_even.py": "a number of cases",
    "ledger/_learning_curve.py": "a share",
    "ledger/_learn.py": "minutes",
    "ledger/_materials.py": "litres; a drill as it is called in the workshop file, and in its prices",
    "ledger/_check_buying.py": "counts and grams; a slip of ours, told in mm",
    "ledger/_fittings_bought.py": "a screw as it is called among a workshop's prices",
    "machining/_check_feed.py": "a slip of ours, told in mm",
    "carcass/_sums.py": "shares of what is left",
    "adapters/packet/_soundness.py": "the share of a span",
    "adapters/packet/_ledger.py": "a rate",
    "adapters/svg/_writer.py": "angles, in degrees",
}
"""Modules that write a figure by `:g` with no unit after it, and what figure it is."""


def test_no_figure_without_a_unit_is_formatted_beside_the_writer() -> None:
    """`f"drill {x:g}"` is a bare millimetre that neither poison nor a unit beside it gives away."""
    found = {
        name
        for name, path in _modules()
        if name.startswith((*_STAGES, "ledger", "adapters/packet", "adapters/svg"))
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.JoinedStr)
        for part, after in zip(node.values, [*node.values[1:], None], strict=True)
        if isinstance(part, ast.FormattedValue)
        and part.format_spec is not None
        and ast.unparse(part.format_spec).strip("f'\"").endswith("g")
        and not (isinstance(after, ast.Constant) and _NO_LENGTH.match(str(after.value)))
    }
    assert found == set(_NO_LENGTHS_HERE)


_OF_A_TOOL: Final = re.compile(
    r"(?:\b(?:drill|straight|disc|bush|countersink|packer|holes?|grooves?|rebates?|housings?|notch(?:es)?|cut-outs?)"
    r"\s|\u00d8)(\d+(?:\s\d+)?(?:[./]\d+)?)(?![\d./]|\"|\s\d|\smm\b)",
    re.IGNORECASE,
)
"""A figure after a tool or a cut, with neither the inch mark nor mm."""


@pytest.mark.parametrize(
    "made",
    [lambda: planned(EXAMPLES / "music-stand-shelf-inches.toml"), lambda: Plan(every_fitting(), packaged_workshop())],
    ids=["example", "every fitting"],
)
def test_a_tool_and_a_cut_carry_the_unit_of_their_size(made: Callable[[], Plan]) -> None:
    plan = made()
    seen = [*all_seen(plan), *(name for _, name in list_work(plan.details, plan.workshop).set_up_names)]
    assert [t for t in seen if "drill 8 mm" in t.lower()]
    assert [t for t in seen if _OF_A_TOOL.search(t)] == []
