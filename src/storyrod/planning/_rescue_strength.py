"""Strength, sag and standing of a case as it would stand on a way out, beside what was planned; estimates."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from storyrod.model.rescue import Weakness

if TYPE_CHECKING:
    from storyrod.faults import Caution
    from storyrod.model.detail import DetailedCase, Details
    from storyrod.model.soundness import Sag
    from storyrod.model.workshop import Workshop

CAN_BE_LEFT: Final = frozenset({"sag-over-limit", "clothes-rail-bends", "tip-fix-to-wall"})
"""What a maker may choose to live with, once it is told: none of it breaks."""

NEVER_LEFT: Final = frozenset(
    {"load-near-breaking", "joint-over-capacity", "hung-over-capacity", "clothes-rail-screws-weak"}
)
"""What may come down: a way out that leads to it is no way out."""

_WORDS: Final = {
    "sag-over-limit": "sags too far",
    "clothes-rail-bends": "carries a clothes rail that bends too far",
    "tip-fix-to-wall": "is in a case that tips unless it is fixed to the wall",
    "load-near-breaking": "is bent too near breaking point",
    "joint-over-capacity": "is held by a joint loaded beyond what it holds",
    "hung-over-capacity": "hangs on fixings loaded beyond what they hold",
    "clothes-rail-screws-weak": "carries a clothes rail by screws that hold too little",
}

SAGS_MORE: Final = 0.1
"""A panel that sags so much farther (mm) than planned is told of; common practice, no source."""


BENT_MORE: Final = 1.02
"""So much more stress than planned counts as more; common practice, no source."""


class Strength:
    """Asks the soundness of one case: what it has that it had not as planned; each state is worked out once."""

    def __init__(self, details: Details, workshop: Workshop, planned: DetailedCase) -> None:
        self.details, self.workshop = details, workshop
        self.planned = planned
        self._known: dict[tuple[object, ...], tuple[tuple[Sag, ...], tuple[Caution, ...]]] = {}
        self._usual = {_key(c) for c in self._told(planned)[1]}

    def holds(self, case: DetailedCase, left: frozenset[str]) -> bool:
        """Return whether a case bears as planned, but for what a way says it leaves."""
        return all(w.can_be_left and w.key in left for w in self.weak(case))

    def weak(self, case: DetailedCase) -> tuple[Weakness, ...]:
        """Return what a case, with its panels as they really are, has less sound than was planned."""
        sags, told = self._told(case)
        return tuple(
            self._weakness(case, c, sags)
            for c in told
            if c.code in CAN_BE_LEFT | NEVER_LEFT and (_key(c) not in self._usual or self._is_worse(c, sags))
        )

    def _is_worse(self, told: Caution, sags: tuple[Sag, ...]) -> bool:
        """Return whether what was told as planned already is worse now: the panel sags farther, or is bent more."""
        before = next((s for s in self._told(self.planned)[0] if str(s.panel) in told.ids), None)
        now = next((s for s in sags if before is not None and s.panel == before.panel), None)
        if before is None or now is None:
            return False
        if told.code == "sag-over-limit":
            return (now.lasting or 0.0) - (before.lasting or 0.0) > SAGS_MORE
        return (now.stress_n_mm2 or 0.0) > BENT_MORE * (before.stress_n_mm2 or 0.0)

    def sags_more(self, case: DetailedCase) -> tuple[str, ...]:
        """Return, a sentence each, the panels that sag farther than was planned, with both figures."""
        about = self.details.job.lengths.about
        before = {s.panel: s.lasting for s in self._told(self.planned)[0]}
        lines = []
        for sag in self._told(case)[0]:
            was = before.get(sag.panel)
            if was is not None and sag.lasting is not None and sag.lasting - was > SAGS_MORE:
                lines.append(
                    f"{case.panel(sag.panel).mark} {sag.name} sags about {about(sag.lasting)} in the long run, where "
                    f"{about(was)} was planned; the limit is {about(sag.limit)}. An estimate."
                )
        return tuple(lines)

    def _told(self, case: DetailedCase) -> tuple[tuple[Sag, ...], tuple[Caution, ...]]:
        from storyrod.soundness import examine_strength

        key = (
            *((p.id, p.box) for p in case.panels),
            *((j.id, j.method, len(j.stations)) for j in case.joints),
            *((o.id, o.box) for o in case.built.openings),
        )
        if key not in self._known:
            details = replace(self.details, methods=self.workshop.methods, cases=(case,))
            self._known[key] = examine_strength(case, details, self.workshop)
        return self._known[key]

    def _weakness(self, case: DetailedCase, told: Caution, sags: tuple[Sag, ...]) -> Weakness:
        """Return a caution as what it is told of: its panel, or the panel of its joint that goes in."""
        about = self.details.job.lengths.about
        panels = {str(p.id): p.id for p in case.panels}
        panels |= {str(j.id): j.entering for j in case.joints}
        panel = next((panels[i] for i in told.ids if i in panels), case.panels[0].id)
        sag = next((s for s in sags if s.panel == panel), None)
        found, allowed = f"{case.panel(panel).mark} {case.panel(panel).name} {_WORDS[told.code]}", "as sound as planned"
        if told.code == "sag-over-limit" and sag is not None and sag.lasting is not None:
            found = f"{case.panel(panel).mark} {sag.name} sags about {about(sag.lasting)} in the long run"
            allowed = f"{about(sag.limit)} at most, by estimate"
        return Weakness(key=_key(told), panel=panel, found=found, allowed=allowed, can_be_left=told.code in CAN_BE_LEFT)


def _key(told: Caution) -> str:
    return f"sound {told.code} {' '.join(told.ids) or told.about}"
