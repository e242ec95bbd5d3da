"""Money and minutes in the packet: the maker's cost sheet, the comparison of methods, and the customer's quotation."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from storyrod.adapters.packet._blocks import Block, Row, Section
from storyrod.drawing.break_even import break_even_plot
from storyrod.ledger import traits
from storyrod.model.account import Account, CostLine, about, show_money
from storyrod.model.comparison import BreakEven, Comparison, MethodRow
from storyrod.planning import Plan
from storyrod.telling.account import against_own, amount_words, clamp_words, lines_by_kind, noise_words
from storyrod.telling.blocks import Bullets, Column, Heading, Picture, Words, right, table, wide

_MOST_PANELS = 60


def ledger_sections(plan: Plan) -> tuple[Section, ...]:
    """Return the cost sheet and the comparison of methods."""
    return (cost_section(plan.account), compare_section(plan.comparison))


def cost_section(told: Account) -> Section:
    """Return the maker's cost sheet: money, minutes, what must be bought."""
    currency = told.terms.currency
    blocks: list[Block] = [
        Words(text=_summary(told), strong=True),
        table(
            (wide("what"), right("how much"), wide("reckoned"), right(currency or "money")),
            [_line_cells(line) for _, own in lines_by_kind(told) for line in own],
            title="Money",
            small=True,
            groups=tuple(_groups(told)),
        ),
        _cases_table(told),
        Heading(text="Minutes"),
        Row(cells=((_stages_table(told),), (_batch_table(told),)), shares=(1.0, 1.0)),
        _minutes_table("By set-up", "set-up", [(m.name, str(m.minutes)) for m in told.by_set_up]),
    ]
    panels = [(m.name, str(m.minutes)) for m in told.by_panel]
    if len(panels) <= _MOST_PANELS:
        blocks.append(_minutes_table("By panel", "panel", panels))
    blocks.append(Bullets(items=tuple(filter(None, (noise_words(told), *told.notes)))))
    return Section(title="What it costs", head="cost sheet", blocks=tuple(blocks))


def _summary(told: Account) -> str:
    money = told.terms.currency
    least = "at least " if told.at_least else ""
    said = f"Cost {least}{show_money(told.cost_cents, money)}, price {least}{show_money(told.price_cents, money)}"
    carcasses = told.work.carcasses
    said += f" for {carcasses} carcass{'es' * (carcasses > 1)}; {told.minutes}."
    if told.missing_words:
        said += f" {told.missing_words}"
    clamped = clamp_words(told)
    return f"{said} {clamped}" if clamped else said


def _groups(told: Account) -> Iterator[tuple[int, str]]:
    n = 0
    for kind, own in lines_by_kind(told):
        yield n, f"{kind.value.capitalize()}: {show_money(told.cents_of(kind))}"
        n += len(own)


def _line_cells(line: CostLine) -> tuple[str, ...]:
    return (line.what, amount_words(line), line.basis, show_money(line.cents))


def _cases_table(told: Account) -> Block:
    rows = [
        (
            c.case,
            c.name,
            str(c.count),
            f"{c.minutes.usual / c.count:,.0f}",
            f"{c.alone_min:,.0f}",
            show_money(c.cost_cents),
            show_money(c.price_cents),
        )
        for c in told.cases
    ]
    columns = (
        "case",
        wide("name"),
        right("how many"),
        right("min each"),
        right("alone"),
        right("cost"),
        right("price"),
    )
    rows.append(
        ("", "all", str(told.work.carcasses), "", "", show_money(told.cost_cents), show_money(told.price_cents))
    )
    return table(columns, rows, title="By case (alone: one made by itself, with every set-up)", small=True)


def _stages_table(told: Account) -> Block:
    return _minutes_table("By stage", "stage", [(m.name, str(m.minutes)) for m in told.by_stage])


def _batch_table(told: Account) -> Block:
    rows = [(str(b.carcasses), f"{b.each_min:,.0f}", f"{b.setting_min:,.0f}") for b in told.batches]
    return table((right("carcasses"), right("min each"), right("of it setting up, in all")), rows, small=True)


def _minutes_table(title: str, head: str, rows: Sequence[tuple[str, str]]) -> Block:
    return table((wide(head), right("minutes")), rows, title=title, small=True)


def compare_section(told: Comparison) -> Section:
    """Return the methods side by side, when each dearer one pays, and what does not fit."""
    currency = told.terms.currency
    columns: tuple[Column | str, ...] = (
        wide("method", 1.3),
        right("connectors"),
        right("minutes"),
        right("set-ups"),
        right("jigs"),
        right("step \u00b1"),
        right("a carcass"),
        right("outlay"),
        wide("besides"),
    )
    blocks: list[Block] = [
        Words(text=_terms_words(told)),
        table(columns, [_method_cells(r) for r in told.rows], title=f"A carcass, {currency}".rstrip(", "), small=True),
    ]
    kept = tuple(f"{r.candidate.name}: {words}." for r in told.rows for words in r.candidate.keeps)
    if kept:
        blocks.append(Bullets(items=kept))
    plot = break_even_plot(told)
    if plot is not None:
        blocks += [Heading(text=plot.title), Picture(drawing=plot)]
    pays = against_own(told)
    if pays:
        blocks.append(Bullets(items=tuple(b.text for b in pays)))
        blocks.append(_rates_table(told, pays))
    if told.misfits:
        rows = [(c.name, " ".join(c.why_not)) for c in told.misfits]
        blocks.append(table((wide("does not fit"), wide("why", 3.0)), rows, small=True))
    blocks.append(Bullets(items=told.notes))
    return Section(title="By other methods", head="comparison", blocks=tuple(blocks))


def _terms_words(told: Comparison) -> str:
    terms = told.terms
    rate = show_money(terms.rate_cents_per_h, terms.currency)
    return (
        f"The same job by every method you have the tools for, or are thinking of buying for; at {rate} an hour "
        f"and {terms.carcasses_per_year:g} carcasses a year. The job's own is marked with a star. Minutes are "
        "machining and assembly of the joints."
    )


def _method_cells(row: MethodRow) -> tuple[str, ...]:
    c, m = row.candidate, row.minutes
    return (
        f"{c.name} *" if c.own else c.name,
        str(c.connectors),
        f"{m.usual:,.0f} ({m.low:,.0f}\u2013{m.high:,.0f})",
        str(row.set_ups),
        str(row.jigs),
        "" if c.step_mm is None else f"{c.step_mm:.1f}",
        show_money(row.cost_cents),
        show_money(row.outlay_cents),
        ", ".join(traits(row)),
    )


def _rates_table(told: Comparison, pays: Sequence[BreakEven]) -> Block:
    names = {r.candidate.method: r.candidate.name for r in told.rows}
    rates = [rate for rate, _ in pays[0].at_rates]
    rows = [(names[b.dear], names[b.cheap], *("never" if n is None else about(n) for _, n in b.at_rates)) for b in pays]
    columns = (wide("pays from so many a year"), wide("against"), *(right(f"at {r / 100:g}") for r in rates))
    return table(columns, rows, title="At other hourly rates", small=True)
