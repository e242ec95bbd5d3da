"""What is bought: sheets, edging, connectors, fittings, glue, and the tools and jigs that are written off.

Each thing is gathered once, as a `ToBuy`; the lines of the account are made from the same amounts and prices, so that
what a job costs, what is paid for it and the buying list agree to the cent.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storyrod.ledger._annuity import annual_cost
from storyrod.ledger._fittings_bought import Fitting, fittings_of
from storyrod.ledger._stages import edge_length, finished_m2
from storyrod.ledger._work import USED_OF_SHEET
from storyrod.model.account import CostKind, CostLine, Terms, Unpriced, UnpricedKind, share_out, whole_cents
from storyrod.model.buying import DRILL_AS_GOOD, FINISH, GLUE, JIG_BOARD, BuyKind, ToBuy
from storyrod.model.detail import DetailedCase, Details
from storyrod.model.hung import Hanging
from storyrod.model.joint import Joint
from storyrod.model.machining import WorkPlan
from storyrod.model.sheet import BoardPlan, CuttingPlan, SheetPlan
from storyrod.model.tool import CutterKind
from storyrod.model.wall import WallFixing
from storyrod.model.work import Work
from storyrod.model.workshop import Price, Workshop

EDGING_SPARE: Final = 0.1
GLUE_PER_CONNECTOR_G: Final = 1.5
GLUE_PER_METRE_G: Final = 5.0
"""Spare length of edging; glue for a connector, and for a metre of joint line (150 to 200 g a square metre on an edge
of 18 mm and what runs out): common practice, no source."""

_COSTS: Final[Mapping[BuyKind, CostKind]] = {
    BuyKind.CONNECTORS: CostKind.CONNECTORS,
    BuyKind.FITTINGS: CostKind.HARDWARE,
    BuyKind.HANDLES: CostKind.HARDWARE,
    BuyKind.WALL: CostKind.HARDWARE,
    BuyKind.GLUE: CostKind.GLUE,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Wanted:
    """So much of one thing for each case (all copies), told as one line of the account."""

    kind: BuyKind
    name: str
    where: str
    by_case: list[float]

    @property
    def count(self) -> float:
        return math.fsum(self.by_case)


class Materials:
    """Cost lines of one batch and what is bought for it; what has no price is gathered in `missing`."""

    def __init__(
        self,
        details: Details,
        workshop: Workshop,
        terms: Terms,
        *,
        run: WorkPlan | None,
        sheets: CuttingPlan | None,
        walls: Mapping[str, WallFixing | Hanging],
    ) -> None:
        self._details, self._workshop, self._terms = details, workshop, terms
        self._run, self._sheets, self._walls = run, sheets, walls
        self._prices = {p.item: p for p in workshop.prices}
        self.missing: list[Unpriced] = []
        self.to_buy: list[ToBuy] = []

    def lines(self) -> Iterator[CostLine]:
        """Yield a line for everything bought for the job."""
        yield from self._boards()
        yield from self._edging()
        yield from self._pieces()
        yield from self._glue()
        yield from self.finish()

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

    def _lacks(self, kind: UnpricedKind, name: str, code: str, amount: float | None = None, unit: str = "") -> None:
        field = {
            UnpricedKind.SHEETS: f"boards.{code}.sheets",
            UnpricedKind.EDGING: f"edgings.{code}.price_per_m",
            UnpricedKind.TOOL: f"tools.{code}.price",
        }.get(kind) or self._field_of(code)
        self.missing.append(Unpriced(kind=kind, name=name, code=code, field=field, amount=amount, unit=unit))

    def _field_of(self, item: str) -> str:
        """Return where the price of something bought by the piece is written."""
        if self._workshop.runner(item) is not None:
            return f"runners.{item}.price"
        if self._workshop.rail(item) is not None:
            return f"clothes_rails.{item}.price"
        if self._workshop.foot(item) is not None:
            return f"feet.{item}.price"
        return f"hinges.{item}.price" if self._workshop.hinge(item) is not None else f"prices.{item}"

    # --- Sheets and edging --------------------------------------------------------------------------------------------

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
        name = board.sold_as(self._details.job.lengths)
        self.to_buy += self._sheets_of(name, plan)
        bought = [s for s in plan.sheets if not s.offcut]
        rack = len(plan.sheets) - len(bought)
        if figures.unpriced:
            counts = dict(figures.sheets)
            self._lacks(UnpricedKind.SHEETS, name, code, sum(counts[u] for u in figures.unpriced), "sheets")
        basis = f"whole sheets of the layout, {figures.yield_share:.0%} used"
        if rack:
            basis += f", and {rack} offcut{'s' * (rack > 1)} from the rack"
        yield self._line(CostKind.SHEETS, name, len(bought), "sheets", basis, figures.cents, weights)

    def _sheets_of(self, name: str, plan: BoardPlan) -> Iterator[ToBuy]:
        """Yield each size of sheet that is bought, and each offcut of the rack that is cut up."""
        sizes: dict[str, list[SheetPlan]] = {}
        for sheet in plan.sheets:
            sizes.setdefault(sheet.stock, []).append(sheet)
        for stock, sheets in sizes.items():
            first, count = sheets[0], len(sheets)
            cents = None if stock in plan.figures.unpriced else sum(s.price_cents for s in sheets)
            yield ToBuy(
                kind=BuyKind.SHEETS,
                item=stock,
                name=name,
                size=self._details.job.lengths.told_size(first.length, first.width),
                uses=count,
                unit="sheets",
                on_hand=count if first.offcut else 0,
                packs=0 if first.offcut else count,
                cents=0 if first.offcut else cents,
                used_cents=0 if first.offcut else cents,
            )

    def _by_area(self, code: str, weights: list[float]) -> Iterator[CostLine]:
        board = self._details.job.board(code)
        name = board.sold_as(self._details.job.lengths)
        prices = [Fraction(s.price_cents) / Fraction(s.length * s.width) for s in board.sheets if s.price_cents]
        area = sum(weights) / USED_OF_SHEET
        cents = whole_cents(Fraction(area) * min(prices)) if prices else None
        self.to_buy.append(
            ToBuy(
                kind=BuyKind.SHEETS,
                item=code,
                name=name,
                uses=area / 1e6,
                unit="m\u00b2",
                pack=0,
                cents=cents,
                used_cents=cents,
                loose="no layout: area of the parts, plus waste",
            )
        )
        if cents is None:
            self._lacks(UnpricedKind.SHEETS, name, code, area / 1e6, "m\u00b2")
            return
        basis = f"by area with {1 - USED_OF_SHEET:.0%} waste: no layout"
        yield self._line(CostKind.SHEETS, name, area / 1e6, "m\u00b2", basis, cents, weights)

    def _edging(self) -> Iterator[CostLine]:
        codes = dict.fromkeys(e.edging for c in self._details.cases for p in c.panels for e in p.edged)
        for code in codes:
            edging = self._details.job.edging(code)
            weights = self._by_case(
                lambda c, code=code: sum(  # type: ignore[misc]
                    edge_length(p, e.surface) for p in c.panels for e in p.edged if e.edging == code
                )
            )
            uses = sum(weights) / 1000
            metres, price = uses * (1 + EDGING_SPARE), edging.price_cents_per_m
            cents = None if price is None else whole_cents(Fraction(metres) * price)
            packs = math.ceil(metres / edging.roll_m - 1e-9)
            wide = self._widest_edge(code) + (2 * edging.proud if edging.solid else 0.0)
            told = self._details.job.lengths.bought(wide)
            self.to_buy.append(
                ToBuy(
                    kind=BuyKind.EDGING,
                    item=code,
                    name=edging.name,
                    size=f"at least {told} wide" if edging.solid else f"wider than {told}",
                    uses=uses,
                    spare=metres - uses,
                    unit="m",
                    pack=edging.roll_m,
                    packs=packs,
                    cents=None if price is None else packs * edging.roll_m * price,
                    used_cents=cents,
                )
            )
            if cents is None:
                self._lacks(UnpricedKind.EDGING, edging.name, code, metres, "m")
                continue
            basis = f"with {EDGING_SPARE:.0%} spare"
            yield self._line(CostKind.EDGING, edging.name, metres, "m", basis, cents, weights)

    def _widest_edge(self, code: str) -> float:
        """Return the thickness of the thickest panel on which an edging is put (mm)."""
        return max(p.thickness for c in self._details.cases for p in c.panels if any(e.edging == code for e in p.edged))

    # --- What is bought by the piece ----------------------------------------------------------------------------------

    def _pieces(self) -> Iterator[CostLine]:
        """Yield connectors, fittings, handles and wall fixings; an item wanted by several is bought once for all."""
        wanted: dict[tuple[str, str], list[_Wanted]] = {}
        for kind, item in self._connectors():
            by_case = self._by_case(lambda c, item=item: sum(u.count for u in c.connectors if u.item == item))  # type: ignore[misc]
            wanted.setdefault((item, ""), []).append(_Wanted(kind=kind, name=item, where="joints", by_case=by_case))
        fittings = self._fittings()
        for fitting, by_case in fittings.items():
            key = (fitting.item, "" if fitting.is_priced_by_item else fitting.name)
            wanted.setdefault(key, []).append(
                _Wanted(kind=fitting.kind, name=fitting.name, where=fitting.where, by_case=by_case)
            )
        known = {(f.item, "" if f.is_priced_by_item else f.name): f for f in fittings}
        for key, parts in wanted.items():
            yield from self._bought(key[0], parts, known.get(key))

    def _connectors(self) -> Iterator[tuple[BuyKind, str]]:
        for item in dict.fromkeys(u.item for c in self._details.cases for u in c.connectors):
            yield BuyKind.CONNECTORS, item

    def _fittings(self) -> dict[Fitting, list[float]]:
        """Return each fitting with how many of it each case takes, all its copies."""
        found: dict[Fitting, list[float]] = {}
        cases = self._details.cases
        for n, case in enumerate(cases):
            wall = self._walls.get(case.built.case.code)
            for fitting, count in fittings_of(case.built, self._workshop, self._details.job.lengths, wall):
                by_case = found.setdefault(fitting, [0.0] * len(cases))
                by_case[n] += count * case.built.case.count
        return found

    def _bought(self, item: str, parts: list[_Wanted], fitting: Fitting | None) -> Iterator[CostLine]:
        count = round(sum(p.count for p in parts))
        spares = fitting is None or fitting.has_spares
        spare = math.ceil(count * self._terms.spare_share - 1e-9) if spares else 0
        price = self._price_of(item, fitting)
        unit = fitting.unit if fitting is not None else "pieces"
        bought = self._packed(parts, item, count, spare, unit, price)
        self.to_buy.append(bought)
        if price is None or bought.used_cents is None:
            self._lacks(UnpricedKind.ITEM, bought.name, item, count + spare, unit if unit != "pieces" else "")
            return
        counts = [p.count + (spare if n == 0 else 0) for n, p in enumerate(parts)]
        basis = f"share of packs of {price.pack}" if price.pack > 1 else "each"
        for part, quantity, cents in zip(parts, counts, share_out(bought.used_cents, counts), strict=True):
            yield self._line(_COSTS[part.kind], part.name, quantity, unit, basis, cents, part.by_case)

    def _price_of(self, item: str, fitting: Fitting | None) -> Price | None:
        """Return what a runner, hinge, clothes rail or foot costs, else what the workshop's prices say of the item."""
        if fitting is not None and not fitting.is_priced_by_item:
            shop = self._workshop
            known = shop.runner(item) or shop.hinge(item) or shop.rail(item) or shop.foot(item)
            if known is not None and known.price_cents is not None:
                return Price(item=item, price_cents=known.price_cents)
        return self._prices.get(item)

    def _packed(
        self, parts: list[_Wanted], item: str, count: float, spare: float, unit: str, price: Price | None
    ) -> ToBuy:
        told = ", ".join(dict.fromkeys(p.where for p in parts if p.where))
        pack, here = (price.pack, price.on_hand) if price is not None else (1, 0)
        packs = max(-(-(count + spare - here) // pack), 0)
        if packs and price is not None:
            packs = max(packs, price.least)
        return ToBuy(
            kind=parts[0].kind,
            item=item,
            name=parts[0].name,
            uses=count,
            spare=spare,
            unit=unit,
            on_hand=here,
            pack=pack,
            packs=int(packs),
            cents=None if price is None else int(packs) * price.price_cents,
            used_cents=None if price is None else whole_cents(Fraction(count + spare) * price.price_cents / price.pack),
            where=told,
        )

    def _glue(self) -> Iterator[CostLine]:
        weights = self._by_case(glue_g)
        grams = math.ceil(sum(weights) - 1e-9)
        if grams <= 0:
            return
        price = self._prices.get(GLUE)
        part = _Wanted(kind=BuyKind.GLUE, name="glue", where="joints", by_case=weights)
        bought = self._packed([part], GLUE, grams, 0, "g", price)
        self.to_buy.append(bought)
        if price is None or bought.used_cents is None:
            self._lacks(UnpricedKind.ITEM, "glue", GLUE, grams, "g")
            return
        basis = f"share of packs of {price.pack}" if price.pack > 1 else "each"
        yield self._line(CostKind.GLUE, "glue", grams, "g", basis, bought.used_cents, weights)

    def finish(self) -> Iterator[CostLine]:
        """Yield a line for the finish of all bare boards, where the job has one."""
        finish = self._details.job.finish
        weights = self._by_case(lambda c: finished_m2(c, self._details.job))
        if finish is None or not any(weights):
            return
        litres = math.fsum(weights) * finish.coats / finish.covers_m2
        packs, price = math.ceil(litres / finish.tin_l - 1e-9), finish.price_cents
        cents = None if price is None else whole_cents(Fraction(litres) / Fraction(finish.tin_l) * price)
        self.to_buy.append(
            ToBuy(
                kind=BuyKind.FINISH,
                item=FINISH,
                name=finish.name,
                uses=litres,
                unit="l",
                pack=finish.tin_l,
                packs=packs,
                cents=None if price is None else packs * price,
                used_cents=cents,
                where=f"{math.fsum(weights):.1f} m\u00b2 of bare board, {finish.coats} coat{'s' * (finish.coats > 1)}",
            )
        )
        if cents is None:
            self.missing.append(
                Unpriced(
                    kind=UnpricedKind.ITEM, name=finish.name, field="finish.price", amount=litres, unit="l", code=FINISH
                )
            )
            return
        basis = f"share of tins of {finish.tin_l:g} l"
        yield self._line(CostKind.FINISH, finish.name, litres, "l", basis, cents, weights)

    # --- What is paid once and kept -----------------------------------------------------------------------------------

    def outlay(self, work: Work) -> list[tuple[str, int]]:
        """Return what must be laid out before the first carcass: tools and drills not owned, jigs to be made."""
        found = [(b.name, b.cents) for b in self.to_buy if b.kind in {BuyKind.TOOLS, BuyKind.CUTTERS} and b.cents]
        if work.jigs:
            board = next((b.cents or 0 for b in self.to_buy if b.kind is BuyKind.JIGS), 0)
            minutes = whole_cents(Fraction(work.jig_min) * self._terms.rate_cents_per_h / 60)
            found.append((f"{len(work.jigs)} jig{'s' * (len(work.jigs) > 1)} made", board + minutes))
        return found

    def gather_kept(self, work: Work) -> None:
        """Put on the list what is bought once and kept: board for jigs, drills and tools that are not here."""
        if work.jigs:
            price = self._prices.get(JIG_BOARD)
            cents = None if price is None else whole_cents(Fraction(work.jig_m2) * price.price_cents / price.pack)
            self.to_buy.append(
                ToBuy(
                    kind=BuyKind.JIGS,
                    item=JIG_BOARD,
                    name="board for jigs",
                    uses=work.jig_m2,
                    unit="m\u00b2",
                    pack=0,
                    cents=cents,
                    where=", ".join(work.jigs),
                )
            )
        self.to_buy += self._drills()
        self.to_buy += (
            ToBuy(kind=BuyKind.TOOLS, item=t.code, name=t.name, uses=1, packs=1, cents=t.price_cents)
            for t in self._workshop.tools
            if t.code in work.tools and not t.owned
        )

    def _drills(self) -> Iterator[ToBuy]:
        """Yield the drills that a card asks for and that are not among the workshop's cutters."""
        asked: dict[float, list[str]] = {}
        for case in self._details.cases:
            for fixing in case.built.fixings:
                if fixing.screws is not None and not fixing.screws.marked:
                    asked.setdefault(round(fixing.screws.pilot, 2), []).append(f"pilots for {fixing.screws.item}")
        for jig in self._run.jigs if self._run is not None else ():
            for bore in () if jig.owned else jig.bores:
                asked.setdefault(round(bore, 2), []).append(jig.name)
        here = [c.diameter for c in self._workshop.cutters if c.kind is CutterKind.DRILL]
        lengths = self._details.job.lengths
        for size in sorted(asked):
            if any(abs(d - size) < DRILL_AS_GOOD for d in here):
                continue
            item = f"drill {size:g}"
            price = self._prices.get(item)
            where = ", ".join(dict.fromkeys(asked[size]))
            packs = 0 if price is not None and price.on_hand else 1
            yield ToBuy(
                kind=BuyKind.CUTTERS,
                item=item,
                name="drill or bit for wood",
                size=lengths.bought(size),
                uses=1,
                on_hand=price.on_hand if price is not None else 0,
                packs=packs,
                cents=None if price is None else packs * price.price_cents,
                where=where,
            )

    def written_off(self, work: Work) -> Iterator[CostLine]:
        """Yield what tools and jigs cost these carcasses, spread over all that are made in their years."""
        terms = self._terms
        if terms.carcasses_per_year <= 0:
            return
        copies = [float(n) for _, n in work.copies]
        tools = [(t.name, t.price_cents, terms.scrap_share) for t in self._workshop.tools if t.code in work.tools]
        jigs = [(name, cents, 0.0) for name, cents in self.outlay(work)[-1:] if work.jigs]
        for name, price, scrap in (*tools, *jigs):
            if price is None:
                code = next((t.code for t in self._workshop.tools if t.name == name), "")
                self._lacks(UnpricedKind.TOOL, name, code)
                continue
            yearly = annual_cost(price, price * scrap, terms.interest_per_year, terms.write_off_years)
            cents = whole_cents(yearly / terms.carcasses_per_year * work.carcasses)
            basis = f"{terms.write_off_years:g} years at {terms.interest_per_year:.1%}, "
            basis += f"{terms.carcasses_per_year:g} carcasses a year"
            yield self._line(CostKind.TOOLS, name, work.carcasses, "carcasses", basis, cents, copies)


def glue_g(case: DetailedCase) -> float:
    """Return the glue one case takes, in grams."""
    return math.fsum(glue_of_joint_g(j) for j in case.joints if j.glue)


def glue_of_joint_g(joint: Joint) -> float:
    """Return the glue that a joint takes, in grams."""
    return GLUE_PER_CONNECTOR_G * len(joint.stations) + GLUE_PER_METRE_G * joint.length / 1000


def finish_bought(details: Details, workshop: Workshop, terms: Terms) -> tuple[tuple[ToBuy, ...], tuple[CostLine, ...]]:
    """Return what is bought of the job's finish, and the lines of the account that it makes."""
    materials = Materials(details, workshop, terms, run=None, sheets=None, walls={})
    lines = tuple(materials.finish())
    return tuple(materials.to_buy), lines
