"""What sharing stations has saved, and what it would save where it is not asked for, in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from storyrod.machining._share import rows_if_shared
from storyrod.measure.writing import LengthWriter
from storyrod.model.detail import Details
from storyrod.model.machining import StationAdvice
from storyrod.model.sharing import SharedRow, Sharing


def station_advice(details: Details, sharing: Sharing | None) -> tuple[StationAdvice, ...]:
    """Return, for each method with stations, how many there are and the fewest that do or would do."""
    names = {m.code: m.name for m in details.methods}
    asked = () if sharing is None else sharing.rows
    lengths = details.job.lengths
    if_shared = rows_if_shared(details)
    return (*_told(asked, names, lengths, is_asked=True), *_told(if_shared, names, lengths, is_asked=False))


def _told(
    rows: Iterator[SharedRow] | tuple[SharedRow, ...],
    names: Mapping[str, str],
    lengths: LengthWriter,
    *,
    is_asked: bool,
) -> Iterator[StationAdvice]:
    for row in rows:
        yield StationAdvice(
            method=row.method,
            lengths=row.lengths,
            now=row.now,
            fewest=len(row.stations),
            stations=row.stations,
            bound=row.bound,
            moved=row.moved,
            small=row.small,
            asked=is_asked,
            text=_words(row, names[row.method], lengths, is_asked=is_asked),
        )


def _words(row: SharedRow, name: str, lengths: LengthWriter, *, is_asked: bool) -> str:
    count = len(row.stations)
    boards = " and ".join(lengths.told(b) for b in row.boards)
    where = f"{name} in boards of {boards}{', narrow parts' if row.small else ''}"
    sure = "Fewer will not do." if row.proven else f"Fewer than {row.bound} will not do; {row.bound} might."
    if row.now <= count:
        serve = "1 station serves" if count == 1 else f"{count} stations serve"
        return f"{where}: {serve} all the joints. {sure}"
    at = ", ".join(map(lengths.n, row.stations))
    do = f"{count} station{'' if count == 1 else 's'}"
    joints, their = (f"{row.moved} joints", "their") if row.moved > 1 else ("1 joint", "its")
    if is_asked:
        had = f"{joints} had {their} connectors moved within the method's rules, as the job says"
        return f"{where}: {do} instead of {row.now}, at {at}. {had}. {sure}"
    return (
        f"{where}: {row.now} stations as set out. With spread = \u201cshared\u201d in the job file {count} would do, "
        f"at {at}, where no other cut is in the way: {joints} would have {their} connectors moved. {sure}"
    )
