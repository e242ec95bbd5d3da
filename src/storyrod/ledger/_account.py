"""What a job takes in minutes and money, and what the customer pays."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final

from storyrod.ledger._learning_curve import mean_factor
from storyrod.ledger._materials import Materials
from storyrod.ledger._noise import noise_of
from storyrod.ledger._work import list_work
from storyrod.model.account import (
    JOINERY,
    Account,
    BatchFigure,
    CaseAccount,
    CostKind,
    CostLine,
    Terms,
    Unpriced,
    UnpricedKind,
    share_out,
    whole_cents,
)
from storyrod.model.detail import Details
from storyrod.model.hung import Hanging
from storyrod.model.machining import WorkPlan
from storyrod.model.sheet import CuttingPlan
from storyrod.model.wall import WallFixing
from storyrod.model.work import MinutesOf, Stage, Work, WorkItem, total_minutes
from storyrod.model.workshop import Money, Workshop

BATCHES: Final = (1, 2, 5, 10, 20, 50)


def account(
    details: Details,
    workshop: Workshop,
    *,
    run: WorkPlan | None = None,
    sheets: CuttingPlan | None = None,
    walls: Mapping[str, WallFixing | Hanging] | None = None,
    terms: Terms | None = None,
) -> Account:
    """Return minutes, money and price of the whole batch; see `list_work` for what `run` and `sheets` change.

    `walls` says how cases are fixed to the wall, by their codes; what is not among them stands by itself.

    Every view of the money adds up to the cent: by line, by kind, by case, by copy.

    Raises:
        JobError: the learning rate in `terms` is none.
    """
    terms = terms or terms_of(workshop.money, details.job.currency)
    work = list_work(details, workshop, run=run, sheets=sheets)
    materials = Materials(details, workshop, terms, run=run, sheets=sheets, walls=walls or {})
    return replace(_Accountant(details, terms, work, materials).account(), noise=noise_of(run, workshop))


def terms_of(money: Money, currency: str = "") -> Terms:
    """Return the workshop's own terms; the job's currency goes before the workshop's."""
    return Terms(
        rate_cents_per_h=money.rate_cents_per_h,
        overhead_share=money.overhead_share,
        margin_share=money.margin_share,
        carcasses_per_year=money.carcasses_per_year,
        interest_per_year=money.interest_per_year,
        write_off_years=money.write_off_years,
        currency=currency or money.currency,
    )


def in_practice(items: Iterable[WorkItem], terms: Terms, carcasses: int) -> tuple[WorkItem, ...]:
    """Return the items with allowance and learning in their minutes; learning counts for the joinery alone."""
    plain = 1 + terms.allowance_share
    learned = plain * mean_factor(terms.learning, carcasses)
    return tuple(_slower(i, learned if i.stage in JOINERY else plain) for i in items)


def _slower(item: WorkItem, factor: float) -> WorkItem:
    return item if factor == 1 or not item.hands_on else replace(item, each=item.each.times(factor))


class _Accountant:
    def __init__(self, details: Details, terms: Terms, work: Work, materials: Materials) -> None:
        self.details, self.terms, self.work, self.materials = details, terms, work, materials
        self.items = in_practice(work.items, terms, work.carcasses)
        self.codes = [code for code, _ in work.copies]
        self.own = [math.fsum(i.usual_min for i in self.items if i.hands_on and i.case == c) for c in self.codes]

    def account(self) -> Account:
        bought = tuple(self.materials.lines())
        self.materials.gather_kept(self.work)
        paid = [*bought, *self._labour(), *self.materials.written_off(self.work)]
        paid += self._overhead(paid)
        paid += self._rounding(paid)
        cases = self._cases(paid)
        margin = tuple(c.price_cents - c.cost_cents for c in cases)
        lines = [*paid, self._margin(margin)]
        outlay = tuple(self.materials.outlay(self.work))
        work = self.work
        return Account(
            terms=self.terms,
            work=work,
            lines=tuple(lines),
            cases=cases,
            minutes=total_minutes(self.items),
            clamp_min=max((i.each.usual for i in self.items if not i.hands_on), default=0.0),
            by_stage=self._grouped(lambda i: i.stage.value, {s.value: s.value for s in Stage}, ""),
            by_set_up=self._grouped(lambda i: i.set_up, dict(work.set_up_names), "without a set-up"),
            by_panel=self._grouped(lambda i: i.panel, dict(work.panel_names), "the batch as a whole"),
            batches=tuple(self._batch(n) for n in BATCHES),
            to_buy=tuple(self.materials.to_buy),
            outlay_cents=sum(cents for _, cents in outlay),
            outlay=outlay,
            missing=tuple(self._missing()),
            notes=tuple(self._notes()),
        )

    def _missing(self) -> Iterator[Unpriced]:
        yield from dict.fromkeys(self.materials.missing)
        minutes = math.fsum(i.usual_min for i in self.items if i.hands_on)
        if self.terms.rate_cents_per_h == 0 and minutes > 0:
            field = "money.rate_per_hour"
            yield Unpriced(kind=UnpricedKind.LABOUR, name="work", field=field, amount=minutes, unit="minutes")

    def _labour(self) -> list[CostLine]:
        """Return labour as one line a stage: the whole is rounded once, then shared out."""
        stages = [(s, [i for i in self.items if i.hands_on and i.stage is s]) for s in Stage]
        told = [(s, own, math.fsum(i.usual_min for i in own)) for s, own in stages if own]
        whole = math.fsum(minutes for _, _, minutes in told)
        cents = whole_cents(Fraction(whole) * self.terms.rate_cents_per_h / 60)
        shares = share_out(cents, [minutes for _, _, minutes in told])
        return [
            CostLine(
                kind=CostKind.LABOUR,
                what=stage.value,
                quantity=minutes,
                unit="min",
                basis="at the hourly rate",
                cents=share,
                by_case=share_out(share, self._weights(own)),
            )
            for (stage, own, minutes), share in zip(told, shares, strict=True)
        ]

    def _weights(self, items: Sequence[WorkItem]) -> list[float]:
        """Return how some items weigh on the cases; what is shared weighs as the rest of the work does."""
        own = [math.fsum(i.usual_min for i in items if i.case == c) for c in self.codes]
        shared = math.fsum(i.usual_min for i in items if not i.case)
        basis = own if any(own) else self.own
        whole = math.fsum(basis)
        return [o + (shared * b / whole if whole else 0.0) for o, b in zip(own, basis, strict=True)]

    def _overhead(self, paid: Sequence[CostLine]) -> list[CostLine]:
        labour = sum(line.cents for line in paid if line.kind is CostKind.LABOUR)
        share = self.terms.overhead_share
        if share == 0:
            return []
        cents = whole_cents(Fraction(share) * labour)
        weights = [sum(x.by_case[n] for x in paid if x.kind is CostKind.LABOUR) for n in range(len(self.codes))]
        basis = f"{share:.0%} on labour"
        return [
            CostLine(
                kind=CostKind.OVERHEAD,
                what="overhead",
                quantity=share,
                unit="share",
                basis=basis,
                cents=cents,
                by_case=share_out(cents, weights),
            )
        ]

    def _rounding(self, paid: Sequence[CostLine]) -> list[CostLine]:
        """Return what makes the cost of each case whole cents a piece, so that without a margin cost is price."""
        counts = [c.built.case.count for c in self.details.cases]
        by_case = tuple(-sum(line.by_case[n] for line in paid) % count for n, count in enumerate(counts))
        cents = sum(by_case)
        if cents == 0:
            return []
        return [
            CostLine(
                kind=CostKind.ROUNDING,
                what="rounding",
                quantity=cents,
                unit="cents",
                basis="up to whole cents a piece",
                cents=cents,
                by_case=by_case,
            )
        ]

    def _margin(self, by_case: tuple[int, ...]) -> CostLine:
        share = self.terms.margin_share
        return CostLine(
            kind=CostKind.MARGIN,
            what="margin",
            quantity=share,
            unit="share",
            basis=f"{share:.0%} on cost, up to the next whole cent a piece",
            cents=sum(by_case),
            by_case=by_case,
        )

    def _cases(self, paid: Sequence[CostLine]) -> tuple[CaseAccount, ...]:
        return tuple(self._case(n, paid) for n in range(len(self.codes)))

    def _case(self, n: int, paid: Sequence[CostLine]) -> CaseAccount:
        case = self.details.cases[n].built.case
        cost = sum(line.by_case[n] for line in paid)
        # The price of one is whole cents, so that the quotation's own sums come out.
        each = math.ceil(Fraction(cost) * (1 + Fraction(str(self.terms.margin_share))) / case.count)
        weights = self._weights([i for i in self.items if i.hands_on])
        own = total_minutes(i for i in self.items if i.case == case.code)
        return CaseAccount(
            case=case.code,
            name=case.name,
            count=case.count,
            minutes=own.times(weights[n] / own.usual) if own.usual else own,
            alone_min=self._alone(case.code, case.count),
            cost_cents=cost,
            each_price_cents=each,
            price_cents=each * case.count,
        )

    def _alone(self, code: str, count: int) -> float:
        """Return the minutes of one copy made by itself, with every set-up it needs."""
        own = [i for i in self.items if i.hands_on and i.case == code]
        touched = {i.set_up for i in own if i.set_up}
        settings = math.fsum(i.usual_min for i in self.items if i.setting and i.set_up in touched)
        shared = math.fsum(i.usual_min for i in self.items if i.hands_on and not i.case and not i.setting)
        return math.fsum(i.usual_min for i in own) / count + settings + shared / self.work.carcasses

    def _grouped(self, key: Callable[[WorkItem], str], names: dict[str, str], rest: str) -> tuple[MinutesOf, ...]:
        groups: dict[str, list[WorkItem]] = {name: [] for name in names}
        for item in self.items:
            groups.setdefault(key(item), []).append(item)
        return tuple(
            MinutesOf(id=k, name=names.get(k, k or rest), minutes=total_minutes(own))
            for k, own in groups.items()
            if any(i.hands_on for i in own)
        )

    def _batch(self, size: int) -> BatchFigure:
        carcasses = size * self.work.carcasses
        items = [i for i in in_practice(self.work.items, self.terms, carcasses) if i.hands_on]
        return BatchFigure(
            size=size,
            carcasses=carcasses,
            setting_min=math.fsum(i.usual_min for i in items if i.setting),
            work_min=size * math.fsum(i.usual_min for i in items if not i.setting),
        )

    def _notes(self) -> list[str]:
        notes = [f"Minutes for cutting the joints come from {self.work.source}."]
        if self.terms.carcasses_per_year <= 0:
            notes.append(
                "Tools are not written off: the workshop file does not say how many carcasses you make a year."
            )
        learning = self.terms.learning
        if learning is not None:
            notes.append(
                f"New to the method: each time the number of carcasses doubles, one takes {learning.rate:.0%} of the "
                f"minutes "
                f"({learning.model.value}), down to the standard time at number {learning.standard_at}."
            )
        return notes
