"""What is bought: sheets, edging, connectors, hardware, glue, and the tools and jigs that are written off."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from fractions import Fraction
from typing import Final

from storyrod.ledger._annuity import annual_cost
from storyrod.ledger._stages import edge_length
from storyrod.ledger._work import USED_OF_SHEET
from storyrod.model.account import CostKind, CostLine, Terms, ToBuy, Unpriced, UnpricedKind, share_out, whole_cents
from storyrod.model.carcass import Hardware
from storyrod.model.detail import DetailedCase, Details
from storyrod.model.sheet import BoardPlan, CuttingPlan
from storyrod.model.work import Work
from storyrod.model.workshop import Price, Workshop

EDGING_SPARE: Final = 0.1
GLUE_PER_CONNECTOR_G: Final = 1.5
GLUE_PER_METRE_G: Final = 5.0
"""Spare length of edging; glue for a connector, and for a metre of joint line (150 to 200 g a square metre on an edge
of 18 mm and what runs out): common practice, no source."""

GLUE: Final = "glue"
JIG_BOARD: Final = "jig board, m2"


class Materials:
    """Cost lines of one batch; what has no price is gathered in `missing`."""

    def __init__(self, details: Details, workshop: Workshop, terms: Terms, sheets: CuttingPlan | None) -> None:
        self._details, self._workshop, self._terms, self._sheets = details, workshop, terms, sheets
        self._prices = {p.item: p for p in workshop.prices}
        self.missing: list[Unpriced] = []
        self.to_buy: list[ToBuy] = []

    def lines(self) -> Iterator[CostLine]:
        """Yield a line for everything bought for the job."""
        yield from self._boards()
        yield from self._edging()
        yield from self._connectors()
        yield from self._hardware()
        yield from self._glue()

    def _by_case(self, weigh: Callable[[DetailedCase], float]) -> list[float]:
        return [weigh(c) * c.built.case.count for c in self._details.cases]

    def _line(  # the parts of a line
        self, kind: CostKind, what: str, quantity: float, unit: str, basis: str, cents: int, weights: list[float]
    ) -> CostLine:
        return CostLine(
            kind=kind,
            what=what,
            quantity=quantity,
            unit=unit,
            basis=basis,
            cents=cents,
            by_case=share_out(cents, weights),
        )

    def _lacks(
        self, kind: UnpricedKind, name: str, code: str = "", amount: float | None = None, unit: str = ""
    ) -> None:
        self.missing.append(Unpriced(kind=kind, name=name, code=code, amount=amount, unit=unit))

    def _boards(self) -> Iterator[CostLine]:
        plans = {b.board: b for b in self._sheets.boards} if self._sheets is not None else {}
        codes = dict.fromkeys(p.board for c in self._details.cases for p in c.panels)
        for code in codes:
            weights = self._by_case(
                lambda c, code=code: sum(p.cut_length * p.cut_width for p in c.panels if p.board == code)  # type: ignore[misc]
            )
            plan = plans.get(code)
            yield from self._laid_out(code, plan, weights) if plan is not None else self._by_area(code, weights)

    def _laid_out(self, code: str, plan: BoardPlan, weights: list[float]) -> Iterator[CostLine]:
        board, figures = self._details.job.board(code), plan.figures
        bought = [s for s in plan.sheets if not s.offcut]
        rack = len(plan.sheets) - len(bought)
        if figures.unpriced:
            counts = dict(figures.sheets)
            self._lacks(UnpricedKind.SHEETS, board.name, code, sum(counts[u] for u in figures.unpriced), "sheets")
        basis = f"whole sheets of the layout, {figures.yield_share:.0%} used"
        if rack:
            basis += f", and {rack} offcut{'s' * (rack > 1)} from the rack"
        yield self._line(CostKind.SHEETS, board.name, len(bought), "sheets", basis, figures.cents, weights)

    def _by_area(self, code: str, weights: list[float]) -> Iterator[CostLine]:
        board = self._details.job.board(code)
        prices = [Fraction(s.price_cents) / Fraction(s.length * s.width) for s in board.sheets if s.price_cents]
        area = sum(weights) / USED_OF_SHEET
        if not prices:
            self._lacks(UnpricedKind.SHEETS, board.name, code, area / 1e6, "m\u00b2")
            return
        basis = f"by area, {1 - USED_OF_SHEET:.0%} waste taken: no layout"
        cents = whole_cents(Fraction(area) * min(prices))
        yield self._line(CostKind.SHEETS, board.name, area / 1e6, "m\u00b2", basis, cents, weights)

    def _edging(self) -> Iterator[CostLine]:
        codes = dict.fromkeys(e.edging for c in self._details.cases for p in c.panels for e in p.edged)
        for code in codes:
            edging = self._details.job.edging(code)
            weights = self._by_case(
                lambda c, code=code: sum(  # type: ignore[misc]
                    edge_length(p, e.surface) for p in c.panels for e in p.edged if e.edging == code
                )
            )
            metres = sum(weights) / 1000 * (1 + EDGING_SPARE)
            if edging.price_cents_per_m is None:
                self._lacks(UnpricedKind.EDGING, edging.name, code, metres, "m")
                continue
            cents = whole_cents(Fraction(metres) * edging.price_cents_per_m)
            basis = f"with {EDGING_SPARE:.0%} spare"
            yield self._line(CostKind.EDGING, edging.name, metres, "m", basis, cents, weights)

    def _connectors(self) -> Iterator[CostLine]:
        for item in dict.fromkeys(u.item for c in self._details.cases for u in c.connectors):
            weights = self._by_case(lambda c, item=item: sum(u.count for u in c.connectors if u.item == item))  # type: ignore[misc]
            count = round(sum(weights))
            need = count + math.ceil(count * self._terms.spare_share - 1e-9)
            yield from self._packed(CostKind.CONNECTORS, item, item, need, weights)

    def _packed(
        self, kind: CostKind, item: str, name: str, need: int, weights: list[float], unit: str = "pieces"
    ) -> Iterator[CostLine]:
        price = self._prices.get(item)
        self.to_buy.append(_to_buy(item, need, price))
        if price is None:
            self._lacks(UnpricedKind.ITEM, name, item, need, unit if unit != "pieces" else "")
            return
        cents = whole_cents(Fraction(need * price.price_cents, price.pack))
        basis = f"share of packs of {price.pack}" if price.pack > 1 else "each"
        yield self._line(kind, name, need, unit, basis, cents, weights)

    def _hardware(self) -> Iterator[CostLine]:
        things: dict[str, Hardware] = {}
        for case in self._details.cases:
            for thing in case.built.hardware:
                things.setdefault(f"{thing.item}\n{thing.name}", thing)
        for key, thing in things.items():
            weights = self._by_case(
                lambda c, key=key: sum(h.count for h in c.built.hardware if f"{h.item}\n{h.name}" == key)  # type: ignore[misc]
            )
            count = round(sum(weights))
            runner, hinge = self._workshop.runner(thing.item), self._workshop.hinge(thing.item)
            known = runner or hinge
            if known is None:
                yield from self._packed(CostKind.HARDWARE, thing.item, _short(thing.name), count, weights)
            elif known.price_cents is None:
                self._lacks(UnpricedKind.ITEM, _short(thing.name), thing.item, count, f"{thing.unit}s")
            else:
                cents = count * known.price_cents
                unit = f"{thing.unit}s"
                yield self._line(CostKind.HARDWARE, _short(thing.name), count, unit, "each", cents, weights)

    def _glue(self) -> Iterator[CostLine]:
        weights = self._by_case(glue_g)
        grams = math.ceil(sum(weights) - 1e-9)
        if grams <= 0:
            return
        yield from self._packed(CostKind.GLUE, GLUE, "glue", grams, weights, "g")

    def outlay(self, work: Work) -> list[tuple[str, int]]:
        """Return what must be laid out before the first carcass: tools not owned, jigs to be made."""
        found = self._not_owned(work)
        if work.jigs:
            board = self._prices.get(JIG_BOARD)
            cents = Fraction(work.jig_min) * self._terms.rate_cents_per_h / 60
            if board is not None:
                cents += Fraction(work.jig_m2) * board.price_cents / board.pack
            found.append((f"{len(work.jigs)} jig{'s' * (len(work.jigs) > 1)} made", whole_cents(cents)))
        return found

    def _not_owned(self, work: Work) -> list[tuple[str, int]]:
        tools = (t for t in self._workshop.tools if t.code in work.tools and not t.owned)
        return [(t.name, t.price_cents) for t in tools if t.price_cents is not None]

    def written_off(self, work: Work) -> Iterator[CostLine]:
        """Yield what tools and jigs cost these carcasses, spread over all that are made in their years."""
        terms = self._terms
        if terms.carcasses_per_year <= 0:
            return
        copies = [float(n) for _, n in work.copies]
        tools = [(t.name, t.price_cents, terms.scrap_share) for t in self._workshop.tools if t.code in work.tools]
        jigs = [(name, cents, 0.0) for name, cents in self.outlay(work)[len(self._not_owned(work)) :]]
        for name, price, scrap in (*tools, *jigs):
            if price is None:
                self._lacks(UnpricedKind.TOOL, name)
                continue
            yearly = annual_cost(price, price * scrap, terms.interest_per_year, terms.write_off_years)
            cents = whole_cents(yearly / terms.carcasses_per_year * work.carcasses)
            basis = f"{terms.write_off_years:g} years at {terms.interest_per_year:.1%}, "
            basis += f"{terms.carcasses_per_year:g} carcasses a year"
            yield self._line(CostKind.TOOLS, name, work.carcasses, "carcasses", basis, cents, copies)


def glue_g(case: DetailedCase) -> float:
    """Return the glue one case takes, in grams."""
    return math.fsum(
        GLUE_PER_CONNECTOR_G * len(j.stations) + GLUE_PER_METRE_G * j.length / 1000 for j in case.joints if j.glue
    )


def _to_buy(item: str, need: int, price: Price | None) -> ToBuy:
    if price is None:
        return ToBuy(item=item, need=need, on_hand=0, pack=1, packs=0, cents=None)
    packs = max(-(-(need - price.on_hand) // price.pack), 0)
    return ToBuy(
        item=item, need=need, on_hand=price.on_hand, pack=price.pack, packs=packs, cents=packs * price.price_cents
    )


def _short(name: str) -> str:
    return name.split(", ", maxsplit=1)[0]
