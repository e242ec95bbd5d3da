"""What fewer stations would do: the fewest that could serve every joint of a method, moved within its rules."""

from __future__ import annotations

from collections.abc import Iterator

from storyrod.machining._stations import StationRange, fewest_stations
from storyrod.measure.length import show_mm
from storyrod.model.detail import Details
from storyrod.model.machining import StationAdvice


def station_advice(details: Details) -> tuple[StationAdvice, ...]:
    """Return, for each method with stations, how many a jig needs now and the fewest that would do."""
    return tuple(_advice(details))


def _advice(details: Details) -> Iterator[StationAdvice]:
    for method in details.methods:
        rules = method.rules
        joints = [j for c in details.cases for j in c.joints if j.method == method.code and j.stations]
        if rules is None or not joints or method.held_by_screws:
            continue
        room = StationRange(rules.end, rules.end_min, rules.pitch, rules.gap_min, rules.least)
        shortest = 2 * rules.end_min + rules.gap_min * (rules.least - 1)
        lengths = sorted({round(j.length, 1) for j in joints if j.length >= shortest + 5})
        taking_part = [j for j in joints if round(j.length, 1) in lengths]
        now = len({round(s, 1) for j in taking_part for s in j.stations})
        stations, proven = fewest_stations(lengths, room, limit_s=0.0)
        if not stations:
            continue
        yield StationAdvice(
            method=method.code,
            lengths=tuple(lengths),
            now=now,
            fewest=len(stations),
            stations=stations,
            proven=proven,
            text=f"{method.name}: {_words(now, stations, proven=proven)}",
        )


def _words(now: int, stations: tuple[float, ...], *, proven: bool) -> str:
    at = ", ".join(show_mm(s) for s in stations)
    least = "No fewer will do" if proven else "Perhaps fewer would do"
    if now <= len(stations):
        return f"{now} stations serve all joints. {least}."
    return (
        f"{now} stations as set out; {len(stations)} would serve every joint within the method's rules, at {at} from "
        f"the stop. {least}."
    )
