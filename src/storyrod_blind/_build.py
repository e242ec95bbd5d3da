"""The whole of it: read the pages, cut the panels, put them together, and report."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from storyrod_blind._bench import check_bench
from storyrod_blind._bench_page import read_bench
from storyrod_blind._fastenings import check_fastenings
from storyrod_blind._finding import Finding, FindingKind
from storyrod_blind._fits import check_fits
from storyrod_blind._fronts import check_fronts
from storyrod_blind._hung import check_hung
from storyrod_blind._in_place import check_fillers, check_skirtings
from storyrod_blind._jigs import check_jigs, read_jigs
from storyrod_blind._mates import check_mates
from storyrod_blind._page import Page, read_pages
from storyrod_blind._paper import Paper
from storyrod_blind._passes import check_passes
from storyrod_blind._places import check_places
from storyrod_blind._plan_file import check_plan_file
from storyrod_blind._poses import build_bodies, check_hands
from storyrod_blind._read import read_paper
from storyrod_blind._read_set_out import unsaid_of
from storyrod_blind._replay import check_replay
from storyrod_blind._seats import check_lines, seats_of
from storyrod_blind._solid import check_room
from storyrod_blind._steps import check_steps
from storyrod_blind._sums import check_sums
from storyrod_blind._work import check_work
from storyrod_blind._worktop import check_plinth_boards, check_worktops


@dataclass(frozen=True, slots=True)
class Report:
    """What was built from a packet, and what was found.

    Attributes:
        panels, joints, cuts, mates: how many were read; `mates` counts pairs.
        placed: panels that joints hold in a place that was worked out from the paper.
        findings: all that is unsaid or does not fit, by kind and subject.
    """

    panels: int
    joints: int
    cuts: int
    mates: int
    placed: int
    findings: tuple[Finding, ...]

    @property
    def by_kind(self) -> Counter[FindingKind]:
        """How many findings there are of each kind."""
        return Counter(f.kind for f in self.findings)

    @property
    def worst_mm(self) -> float:
        """The greatest difference between what was built and what was meant, in mm."""
        return max((abs(f.by_mm) for f in self.findings), default=0.0)


def build(pdf: bytes, *, jigs: bytes | None = None, bench: str = "", plan: object = None) -> Report:
    """Build all cases of a packet, given as PDF, and report.

    Args:
        jigs: the paper of the jigs as PDF, b"" where none are made; unless given, what they do is not asked.
        bench: the bench page of the same plan as HTML, to be held against the paper; none unless given.
        plan: what the same plan's plan.json holds, read; none unless given.
    """
    of_jigs = None if jigs is None else read_pages(jigs) if jigs else ()
    return build_from(read_pages(pdf), jigs=of_jigs, bench=bench, plan=plan)


def build_from(
    pages: Sequence[Page], *, jigs: Sequence[Page] | None = None, bench: str = "", plan: object = None
) -> Report:
    """Build all cases of a packet whose pages have been read, and report."""
    paper = read_paper(pages)
    seats = seats_of(paper)
    bodies, open_joints = build_bodies(paper, seats)
    findings = [
        *paper.findings,
        *_unsaid(paper),
        *check_sums(paper),
        *check_lines(paper, seats),
        *check_mates(paper, seats),
        *check_hands(paper, seats),
        *open_joints,
        *check_work(paper),
        *check_places(paper),
        *check_passes(paper),
        *(check_jigs(paper, read_jigs(jigs)) if jigs is not None else ()),
        *check_steps(paper),
        *check_replay(paper),
        *check_fastenings(paper),
        *check_fits(paper, bodies),
        *check_worktops(paper),
        *check_plinth_boards(paper),
        *check_skirtings(paper),
        *check_fillers(paper),
        *check_hung(paper, bodies),
        *check_room(paper, bodies),
        *check_fronts(paper, bodies),
        *(check_bench(paper, read_bench(bench)) if bench else ()),
        *(check_plan_file(paper, plan) if plan is not None else ()),
    ]
    return Report(
        panels=len(paper.panels),
        joints=len(paper.joints),
        cuts=len(paper.cuts),
        mates=sum(c.mate is not None for c in paper.cuts.values()) // 2,
        placed=sum(len(b.poses) for b in bodies if len(b.poses) > 1),
        findings=tuple(sorted(findings)),
    )


def _unsaid(paper: Paper) -> list[Finding]:
    found: list[Finding] = []
    for (panel, number), cut in paper.cuts.items():
        found += [Finding(kind, f"{panel}.{number}", cut.words) for kind in unsaid_of(cut)]
    jointed = {mark for joint in paper.joints.values() for mark in (joint.entering, joint.receiving)}
    for mark in sorted(jointed):
        panel_told = paper.panels.get(mark)
        if panel_told is not None and not panel_told.hand and any(c[0] == mark for c in paper.cuts):
            found.append(Finding(FindingKind.PANEL_WITHOUT_HAND, mark, panel_told.name))
    return found
