"""From job to set-out, beside the same machined panels built as solids by general solid kernels, in the same run.

The first kernel is manifold3d, the fastest that is at hand: flat-sided, from the very features that the stages
made (their time is not in it). Its work is lazy, so each solid's volume is asked for. The second, where the `step`
extra is installed, is the exact kernel behind build123d.

Aim: from job to set-out 20 times faster than building the solids.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from benchmarks._timing import show_timings, time_in_turns
from storyrod import carcass, joinery, setout
from storyrod.adapters.files import read_job
from storyrod.adapters.solid import case_solids, has_step, witness
from storyrod.model.detail import Choices, Details
from storyrod.model.job import Job
from storyrod.model.mark import SetOut
from storyrod.model.workshop import Workshop
from storyrod.proof import prove

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"

JOBS = ("first-box.toml", "rehearsal-room.toml")


def to_details(job: Job, workshop: Workshop) -> Details:
    """Work a job out as far as the cuts."""
    return joinery.detail(joinery.join(carcass.build(job, workshop), workshop), Choices())


def to_set_out(job: Job, workshop: Workshop) -> SetOut:
    """Work a job out as far as the marks."""
    return setout.set_out(to_details(job, workshop))


def build_solids(details: Details) -> float:
    """Build every machined panel in place with manifold3d; return their volume (mm3)."""
    return sum(s.volume() for case in details.cases for s in case_solids(case).values())


def build_exact(details: Details) -> float:
    """Build every machined panel in place with the exact kernel; return their volume (mm3)."""
    from storyrod.adapters.solid._step import panel_parts

    parts: list[Any] = [part for case in details.cases for part in panel_parts(case)]
    return float(sum(part.volume for part in parts))


def main() -> None:
    """Print the times of each job."""
    for name in JOBS:
        _show(name)


def _show(name: str) -> None:
    told = read_job(EXAMPLES / name)
    job, workshop = told.job, told.workshop
    details = to_details(job, workshop)
    drawn = setout.set_out(details)
    panels = sum(len(c.panels) for c in details.cases)
    cuts = sum(len(c.features) for c in details.cases)
    assert witness(details).passed
    works: dict[str, Callable[[], object]] = {
        "solids by manifold3d": lambda: build_solids(details),
        "carcass, joinery, set-out": lambda: to_set_out(job, workshop),
        "proof, exact": lambda: prove(details, drawn),
        "witness: solids, overlaps, volumes": lambda: witness(details),
    }
    peer, *ours = time_in_turns(works, repeats=7)
    title = f"{name}: {panels} panels with {cuts} cuts"
    show_timings(title, [peer, *ours], peer=peer)
    print(f"From job to set-out {ours[0].ratio_to(peer) ** -1:.1f} times faster than the solids by manifold3d.")
    if has_step():
        (exact,) = time_in_turns({"solids by the exact kernel": lambda: build_exact(details)}, repeats=3)
        print(f"From job to set-out {ours[0].ratio_to(exact) ** -1:,.0f} times faster than the exact kernel's solids.")
    else:
        print("The exact kernel is not installed (extra `step`): left out.")


if __name__ == "__main__":
    main()
