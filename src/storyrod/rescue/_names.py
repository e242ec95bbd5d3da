"""Which panel, cut or joint a slip means: by the marks that stand on paper and on the board."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from storyrod.model.as_built import ALL_CUTS, AsBuilt
from storyrod.model.detail import DetailedCase, Details
from storyrod.model.feature import FeatureId
from storyrod.model.joint import Joint
from storyrod.model.mark import SetOut
from storyrod.model.panel import Panel, PanelId


@dataclass(frozen=True, slots=True)
class Named:
    """A panel with its case and the numbers of its cuts."""

    case: DetailedCase
    panel: Panel
    cuts: Mapping[str, FeatureId]

    def cut(self, name: str) -> tuple[FeatureId, ...]:
        """Return the cuts that a name means here: a number with or without the panel's mark, a joint, or all."""
        if name == ALL_CUTS:
            return tuple(self.cuts.values())
        number = name.removeprefix(f"{self.panel.mark}.")
        if number in self.cuts:
            return (self.cuts[number],)
        joint = next((j for j in self.joints if j.number == name), None)
        own = self.case.on(self.panel.id)
        return () if joint is None else tuple(f.id for f in own if f.joint == joint.id)

    @property
    def joints(self) -> tuple[Joint, ...]:
        """The joints of the panel."""
        return tuple(j for j in self.case.joints if self.panel.id in {j.entering, j.receiving})


class Names:
    """Every panel of a job by its mark."""

    def __init__(self, details: Details, set_out: SetOut) -> None:
        self.by_mark: dict[str, Named] = {}
        for case, out in zip(details.cases, set_out.cases, strict=True):
            for told in out.panels:
                cuts = {str(m.number): m.feature.id for m in told.marks}
                self.by_mark[told.panel.mark] = Named(case, told.panel, cuts)

    def of(self, mark: str) -> Named | None:
        """Return the panel of a mark, however it is spelled; None where there is none."""
        wanted = mark.strip().upper()
        return next((n for m, n in self.by_mark.items() if m.upper() == wanted), None)

    def cut_as_marked(self, facts: AsBuilt, copy: int) -> frozenset[FeatureId]:
        """Return what the facts say is cut as marked on one copy of each case."""
        return frozenset(cut for name in facts.cut for cut in self._said(name, copy))

    def _said(self, name: str, copy: int) -> Sequence[FeatureId]:
        what, _, of = name.partition("#")
        if (int(of) if of.isdigit() else 1) != copy:
            return ()
        mark, _, number = what.strip().partition(".")
        named = self.of(mark)
        return () if named is None else named.cut(number or ALL_CUTS)

    def knows(self, name: str) -> bool:
        """Return whether a name among what is cut means anything."""
        what, _, of = name.partition("#")
        named = self.of(what.strip().partition(".")[0])
        number = what.strip().partition(".")[2]
        within = named is not None and (not of or (of.isdigit() and 1 <= int(of) <= named.case.built.case.count))
        return within and named is not None and (not number or bool(named.cut(number)))


def panels_of(case: DetailedCase) -> dict[PanelId, Panel]:
    """Return the panels of a case by their ids."""
    return {p.id: p for p in case.panels}
