"""What has no price, with a field for it right where the sum stands; and where each price is written.

Prices of boards, edging and finish go into the job file, all others into the workshop file: into the maker's own, which
is made, and named by the job, where the job still plans with the packaged one.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from storyrod.adapters.files.editing import Act, Change, Value
from storyrod.adapters.files.workshop_editing import START, group_of, set_item
from storyrod.adapters.web._worked import Worked
from storyrod.adapters.web._workshops import OWN, WorkshopShelf, change_workshop_of
from storyrod.faults import Fault, raise_if_any
from storyrod.model.account import Account, Unpriced, UnpricedKind

if TYPE_CHECKING:
    from storyrod.adapters.web._desk import Desk

_AMOUNT: Final = re.compile(r"\d{1,7}([.,]\d{1,2})?")
_COUNT: Final = re.compile(r"\d{1,6}")
_BOTTLE_G: Final = 750


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceField:
    """One price that is asked for.

    Attributes:
        field: where it is written; `words` what lacks it, with how much of it.
        label: what the figure is the price of; `pack` how much is in a pack unless set, 0 where there are none.
    """

    field: str
    words: str
    label: str
    pack: int = 0
    pack_label: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Prices:
    """What a job's sums leave out, and the fields to fill in.

    Attributes:
        words: how much of what has no price, in a few words: `5 sheets and 6 hours 39 minutes of work have no price`;
            "" where nothing lacks one. `bought_words` the same of what is bought.
        other: the maker's own workshop file, where the job plans with the built-in workshop and that differs; else "".
    """

    fields: tuple[PriceField, ...]
    words: str
    bought_words: str
    currency: str
    other: str


def prices_of(desk: Desk, worked: Worked, told: Account) -> Prices:
    """Return what is to be asked at a job's sums."""
    return Prices(
        fields=tuple(_field(m) for m in told.not_sold),
        words=lacking_words(told),
        bought_words=lacking_words(told, bought=True),
        currency=told.terms.currency,
        other=own_workshop(desk, worked),
    )


def own_workshop(desk: Desk, worked: Worked) -> str:
    """Return the name of the maker's own workshop file where a job plans with the packaged one all the same."""
    if worked.read is None or worked.read.workshop_path is not None:
        return ""
    path = desk.settings.jobs / f"{OWN}.toml"
    try:
        own = path.read_text(encoding="utf-8")
    except (OSError, ValueError):
        return ""
    return f"{OWN}.toml" if own.strip() != START.strip() else ""


def lacking_words(told: Account, *, bought: bool = False) -> str:
    """Return what the sums leave out as a headline says it: `2 sheets and 6 hours 39 minutes of work`.

    With `bought`, of what is bought alone, without labour.
    """
    sheets = sum(round(m.amount or 1) for m in told.not_sold if m.kind is UnpricedKind.SHEETS and m.unit == "sheets")
    boards = sum(m.kind is UnpricedKind.SHEETS and m.unit != "sheets" for m in told.not_sold)
    edgings = sum(m.kind is UnpricedKind.EDGING for m in told.not_sold)
    items = sum(m.kind is UnpricedKind.ITEM for m in told.not_sold)
    parts = [
        _many(sheets, "sheet"),
        _many(boards, "board"),
        _many(edgings, "edging"),
        _many(items, "kind of fitting", "kinds of fittings"),
        *(m.words for m in told.not_sold if m.kind is UnpricedKind.LABOUR and not bought),
    ]
    named = [p for p in parts if p]
    if not named:
        return ""
    *most, last = named
    listed = f"{', '.join(most)} and {last}" if most else last
    is_one = len(named) == 1 and named[0].startswith("1 ")
    return f"{listed} {'has' if is_one else 'have'} no price"


def _many(count: int, one: str, many: str = "") -> str:
    return "" if not count else f"{count} {one if count == 1 else many or one + 's'}"


def _field(missing: Unpriced) -> PriceField:
    top = missing.field.split(".")[0]
    match top:
        case "boards":
            label = "a sheet"
        case "edgings":
            label = "a metre"
        case "money":
            label = "an hour"
        case "finish":
            label = "a tin"
        case "prices":
            is_weighed = missing.unit == "g"
            return PriceField(
                field=missing.field,
                words=missing.words,
                label="a bottle" if is_weighed else "a pack",
                pack=_BOTTLE_G if is_weighed else 1,
                pack_label="grams in it" if is_weighed else "how many in it",
            )
        case _:
            label = "one pair" if top == "runners" else "one"
    return PriceField(field=missing.field, words=missing.words, label=label)


# Writing --------------------------------------------------------------------------------------------------------------


def keep_prices(desk: Desk, shelf: WorkshopShelf, worked: Worked, sent: Mapping[str, str]) -> None:
    """Write the prices that were sent, as `price.FIELD` and `pack.FIELD`; only those that the job lacks are taken.

    Raises:
        JobError: what was sent is no amount; nothing is written then.
        StaleError: a file was changed at this very moment.
    """
    told = worked.ask(lambda plan: plan.account)
    words = {name: text.strip() for name, text in sent.items()}
    typed = [(m, words.get(f"price.{m.field}", ""), words.get(f"pack.{m.field}", "")) for m in told.not_sold]
    given = [(m, price, pack) for m, price, pack in typed if price]
    raise_if_any(_wrong(given))
    own = [(m, _plain(price), int(pack or 1)) for m, price, pack in given if not m.is_of_job]
    if own:
        _into_workshop(desk, shelf, worked, own)
        worked = desk.job(worked.name)
    changes = [c for m, price, _ in given if m.is_of_job for c in _changes(worked, m, _plain(price))]
    if changes:
        from storyrod.adapters.web.views.changing import make_changes

        now = make_changes(desk, worked, changes)
        desk.live.tell_from_thread(worked.name, {"kind": "job", "version": now.version})


def _plain(words: str) -> float:
    return float(words.replace(",", "."))


def _wrong(given: list[tuple[Unpriced, str, str]]) -> list[Fault]:
    faults = [
        Fault(
            code="sent",
            field=m.field,
            found=f'"{price[:20]}"',
            allowed="an amount such as 62.50, without the currency's sign",
            do="Go back and write it again.",
        )
        for m, price, _ in given
        if not _AMOUNT.fullmatch(price)
    ]
    return faults + [
        Fault(
            code="sent",
            field=m.field,
            found=f'"{pack[:20]}"',
            allowed="a whole number, 1 or more",
            do="Go back and write how many are in a pack.",
        )
        for m, _, pack in given
        if pack and not (_COUNT.fullmatch(pack) and int(pack) > 0)
    ]


def _into_workshop(desk: Desk, shelf: WorkshopShelf, worked: Worked, prices: list[tuple[Unpriced, float, int]]) -> None:
    def priced(text: str) -> str:
        for missing, price, pack in prices:
            table, _, rest = missing.field.partition(".")
            group = group_of(table)
            assert group is not None  # noqa: S101  # prices, runners, hinges and money are groups
            if table == "money":
                text = set_item(text, group, "", {rest: price})
            elif table == "prices":
                text = set_item(text, group, missing.code, {"pack": pack, "price": price})
            else:
                text = set_item(text, group, missing.code, {"price": price})
        return text

    change_workshop_of(desk, shelf, worked, priced)


def _changes(worked: Worked, missing: Unpriced, price: float) -> list[Change]:
    if missing.kind is not UnpricedKind.SHEETS:
        return [Change(path=missing.field, act=Act.SET, value=price)]
    return worked.ask(lambda plan: _sheet_changes(plan.job.board(missing.code), missing.field, worked.text, price))


def _sheet_changes(board: Any, field: str, text: str, price: float) -> list[Change]:  # noqa: ANN401  # a board
    """Return the changes that give a price to every size of a board that has none; a usual size is written out."""
    from storyrod.adapters.files.editing import parsed

    written = parsed(text).get("boards", {}).get(board.code, {}).get("sheets")
    if not written:
        size = board.sheets[0]
        whole: dict[str, Value] = {"length": f"{size.length:g} mm", "width": f"{size.width:g} mm", "price": price}
        return [Change(path=field, act=Act.SET, value=[whole])]
    return [
        Change(path=f"{field}[{n}].price", act=Act.SET, value=price)
        for n, size in enumerate(board.sheets)
        if size.price_cents is None
    ]
