"""What "Will it stand?" shows of a case: sag, tipping, lifting, leaning, movement, steps, glue; with its ways out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from markupsafe import Markup

from storyrod.adapters.web._cautions_shown import ShownCaution, Way, at_panel, change, shown_cautions
from storyrod.adapters.web._glue_ways import GlueWait, glue_waits
from storyrod.adapters.web._render import drawn
from storyrod.adapters.web._worked import Worked
from storyrod.drawing import Figures
from storyrod.drawing.soundness import sag_figure, step_figure, tip_figure
from storyrod.faults import Caution
from storyrod.model.detail import DetailedCase
from storyrod.model.soundness import CaseSoundness, Remedy, RemedyKind, Sag, Soundness, TipTest
from storyrod.telling.hanging import hanging_words
from storyrod.telling.shown import Shown
from storyrod.telling.soundness import (
    back_words,
    counted_tests,
    overhang_cells,
    overhangs_reckoned_with,
    planks_by_strain,
    rail_cells,
    rails_reckoned_with,
    stiffness_words,
    tipping_sources,
)

if TYPE_CHECKING:
    from storyrod.planning import Plan

_SAG_ROOM: Final = (150.0, 42.0)
_TIP_ROOM: Final = (80.0, 80.0)
_STEP_WIDTH: Final = 150.0

_SECTIONS: Final = (
    (
        "sag",
        "Does it sag?",
        ("sag-", "clothes-rail-", "worktop-bends", "worktop-screws", "load-near-breaking", "joint-over-capacity"),
    ),
    ("tip", "Does it tip?", ("tip-",)),
    ("hang", "Does it stay on the wall?", ("hung-on", "hung-over")),
    ("lift", "Can I lift it?", ("heavy-", "feet-")),
    ("lean", "Does it lean?", ("racking-",)),
    ("move", "Does it move with the weather?", ("movement-",)),
    ("step", "How flush will it be?", ("step-",)),
    ("glue", "Is there time to glue it up?", ("open-time",)),
)
"""Key, heading, and how the codes of its cautions begin."""


_OF_ASSEMBLY: Final = frozenset({"tip-over", "open-time"})
"""Cautions of assembly that are answered here."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SagRow:
    """A plank on the table of sags, its figures as the job shows them, and what would mend it."""

    name: str
    span: str
    load: str
    at_once: str
    lasting: str
    allowed: str
    keeps: bool | None
    ways: tuple[Way, ...]
    rests_on: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A question with its picture, its cautions and what the answer rests on."""

    key: str
    title: str
    cautions: tuple[ShownCaution, ...]
    picture: Markup | None = None
    sources: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class StandCase:
    """All that is shown of one case."""

    code: str
    name: str
    parts: tuple[Part, ...]
    sags: tuple[SagRow, ...]
    rails: tuple[tuple[str, ...], ...]
    rails_rest_on: str
    overhangs: tuple[tuple[str, ...], ...]
    overhangs_rest_on: str
    tests: tuple[TipTest, ...]
    hangs: tuple[str, ...]
    waits: tuple[GlueWait, ...]
    back: str
    found: CaseSoundness

    @property
    def open_cautions(self) -> int:
        """How many cautions it has."""
        return sum(len(p.cautions) for p in self.parts)


def stand_cases(worked: Worked, plan: Plan) -> tuple[StandCase, ...]:
    """Return every case examined.

    Raises:
        JobError: the job cannot be planned so far.
    """
    figures = Figures.of_job(plan.job)
    return tuple(
        _case(worked, plan, found, case, figures, [c for c in plan.assembly.cautions if _is_of(c, found)])
        for found, case in zip(plan.soundness.cases, plan.details.cases, strict=True)
    )


def _is_of(caution: Caution, found: CaseSoundness) -> bool:
    return any(i.partition(".")[0] == found.case for i in caution.ids) or caution.about == f"case {found.case}"


def _case(
    worked: Worked,
    plan: Plan,
    found: CaseSoundness,
    case: DetailedCase,
    figures: Figures,
    assembly: list[Caution],
) -> StandCase:
    whole, waits = plan.soundness, glue_waits(plan, found.case)
    shown = {"tip": found.tipping is not None, "hang": found.hanging is not None, "glue": bool(waits)}
    cautions = [*(c for c in assembly if c.code in _OF_ASSEMBLY), *found.cautions]
    pictures = {
        "sag": _worst_sag(found, case, figures),
        "tip": _tips(found, case, whole, figures),
        "step": _steps(found, whole),
    }
    return StandCase(
        code=found.case,
        name=found.name,
        parts=tuple(
            Part(
                key=key,
                title=title,
                cautions=shown_cautions(worked, (c for c in cautions if c.code.startswith(begins))),
                picture=pictures.get(key),
                sources=_sources(found, whole, key),
            )
            for key, title, begins in _SECTIONS
            if shown.get(key, True)
        ),
        sags=tuple(_sag_row(worked, s, figures) for s in found.sags),
        rails=tuple(rail_cells(r, figures.lengths) for r in found.rails),
        rails_rest_on=rails_reckoned_with(found.rails) if found.rails else "",
        overhangs=tuple(overhang_cells(o, figures.lengths) for o in found.overhangs),
        overhangs_rest_on=overhangs_reckoned_with(found.overhangs) if found.overhangs else "",
        tests=counted_tests(found.tipping) if found.tipping is not None else (),
        hangs=hanging_words(found.hanging, Shown.of(plan.job)) if found.hanging is not None else (),
        waits=waits,
        back=back_words(found.racking),
        found=found,
    )


def _worst_sag(found: CaseSoundness, case: DetailedCase, figures: Figures) -> Markup | None:
    worst = next(iter(planks_by_strain(found)), None)
    if worst is None:
        return None
    drawing = sag_figure(worst, case.panel(worst.panel).thickness, figures=figures, room=_SAG_ROOM)
    return drawn(drawing, f"sag-{found.case}") if drawing is not None else None


def _tips(found: CaseSoundness, case: DetailedCase, whole: Soundness, figures: Figures) -> Markup | None:
    if found.tipping is None:
        return None
    drawing = tip_figure(case, found.tipping, whole.thresholds, figures=figures, room=_TIP_ROOM)
    return drawn(drawing, f"tip-{found.case}")


def _steps(found: CaseSoundness, whole: Soundness) -> Markup | None:
    drawing = step_figure(
        found.case,
        found.steps,
        whole.thresholds.step_shows,
        width=_STEP_WIDTH,
        lengths=whole.thresholds.lengths,
    )
    return drawn(drawing, f"step-{found.case}") if drawing is not None else None


def _sag_row(worked: Worked, sag: Sag, figures: Figures) -> SagRow:
    return SagRow(
        name=sag.name,
        span=figures.of(sag.span),
        load=sag.under_words,
        at_once=_sags(sag.at_once),
        lasting=_sags(sag.lasting),
        allowed=f"{sag.limit:.1f}",
        keeps=sag.within_limit,
        ways=tuple(_mend(worked, sag, r) for r in sag.remedies if r.enough),
        rests_on=_rests_on(sag),
    )


def _sags(value: float | None) -> str:
    return "not known" if value is None else f"{value:.1f}"


def _rests_on(sag: Sag) -> str:
    return f"{sag.name}: stiffness {stiffness_words(sag)}; creep by {sag.creep_from}."


def _mend(worked: Worked, sag: Sag, remedy: Remedy) -> Way:
    """Return the change that a remedy is: made at a press where it is one field, else the place where it is made."""
    words = f"{remedy.what[:1].upper()}{remedy.what[1:].replace('`', '')}: sags {remedy.sag:.1f}"
    case = sag.panel.partition(".")[0]
    number = [c.code for c in worked.plan.job.cases].index(case) if worked.plan is not None else 0
    if remedy.kind is RemedyKind.RAIL:
        return change(words, (f"cases[{number}].plinth.back_rail", True))
    return at_panel(worked, sag.panel, words)


def _sources(found: CaseSoundness, whole: Soundness, key: str) -> tuple[str, ...]:
    if key == "tip":
        return tipping_sources(found.tipping) if found.tipping is not None else ()
    if key == "step":
        worst = found.likeliest_step
        return (f"{whole.trials} trial joints for each set of errors.", worst.why) if worst is not None else ()
    if key == "lift":
        return ("NIOSH lifting equation (1994), floor to bench.",)
    if key == "glue":
        return ("Seconds for each part, connector, clamp and screw: common practice, no source.",)
    if key == "move":
        return tuple(sorted({m.source for m in found.movements}))
    return (found.racking.corner_source,) if key == "lean" and found.racking.corner_source else ()
