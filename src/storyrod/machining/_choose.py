"""Which way each need is made: the quickest for the whole batch, jigs to be made included."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from storyrod.faults import Caution, Fault, raise_if_any
from storyrod.machining._minutes import MAKING, jig_minutes, minutes_of, place_and_cut
from storyrod.machining._needs import Half, Need
from storyrod.machining._reference import Reference, hand_of
from storyrod.machining._ways import Choice, Offer, closest, held, missing_words, offer_for
from storyrod.model.act import Act
from storyrod.model.machining import HoldKind
from storyrod.model.workshop import Along, Registration, Workshop

WIDE_DRILL = 20.0
"""From this diameter on a hole is not drilled by eye where there is another way; common practice, no source."""


@dataclass(frozen=True, slots=True, eq=False)
class Made:
    """A need, what it is placed from, and the way it is made."""

    need: Need
    reference: Reference
    choice: Choice


def choose_ways(
    placed: Sequence[tuple[Need, Reference]], workshop: Workshop
) -> tuple[tuple[Made, ...], tuple[Caution, ...]]:
    """Return every need with its way.

    Needs of one plan shape go together, both halves of a joint by one way where one can make both.

    Raises:
        JobError: for every kind of need that no way of the workshop can make, saying what is missing.
    """
    offers = _Offers(workshop)
    listed = [(need, reference, offers.of(need, reference)) for need, reference in placed]
    raise_if_any(_missing(listed))
    families: dict[tuple[object, ...], list[tuple[Need, Reference, Offer]]] = {}
    for need, reference, offer in listed:
        families.setdefault(_family(need, offer), []).append((need, reference, offer))
    made: dict[int, Made] = {}
    cautions: list[Caution] = []
    for members in families.values():
        for part in _parts(members):
            for entry, choice in _best(part, workshop):
                made[id(entry[0])] = Made(entry[0], entry[1], choice)
            cautions.extend(_told(part, made[id(part[0][0])].choice))
    return tuple(made[id(need)] for need, _, _ in listed), tuple(cautions)


class _Offers:
    """Offers, worked out once for needs that are alike."""

    def __init__(self, workshop: Workshop) -> None:
        self.workshop = workshop
        self.known: dict[tuple[object, ...], Offer] = {}

    def of(self, need: Need, reference: Reference) -> Offer:
        key = (
            *(need.shape, need.on_edge, need.locates, round(need.through_mate, 2), min(len(need.marks), 9)),
            *(need.half, need.joint is None, need.lines_up, round(reference.wanted, 2), need.along, need.first),
            round(min(closest(need), 1000.0), 2),
        )
        if key not in self.known:
            self.known[key] = offer_for(need, reference, self.workshop)
        offer = held(need, reference, self.known[key])
        if need.locates or need.through_mate > 0 or _is_wide(need):
            true = [c for c in offer.choices if c.way.registration is not Registration.MARK]
            if true and len(true) < len(offer.choices):
                return replace(offer, choices=true)
        return _in_line(offer) if need.lines_up else offer


def _in_line(offer: Offer) -> Offer:
    """Return an offer without the ways that go by marks, where there is another: pins of one shelf must be level."""
    true = [c for c in offer.choices if c.way.along is not Along.MARKS]
    return replace(offer, choices=true) if true else offer


def _is_wide(need: Need) -> bool:
    """Return whether a drill would be too wide to be held by eye."""
    return getattr(need.first, "diameter", 0.0) >= WIDE_DRILL


def _family(need: Need, offer: Offer) -> tuple[object, ...]:
    ways = () if need.locates else tuple(sorted(c.way.code for c in offer.choices))
    return (need.plan, need.locates, need.lines_up, need.through_mate > 0, ways)


def _parts(members: list[tuple[Need, Reference, Offer]]) -> list[list[tuple[Need, Reference, Offer]]]:
    """Return the members whole where a way makes them all, else by surface, else one by one.

    Where some can only be made with a tool that is not owned, it makes all of them if it can: it must be got anyway.
    """
    if not all(offer.choices[0].tool.owned for _, _, offer in members):
        wider = [(n, r, replace(o, choices=[*o.choices, *_others(o)])) for n, r, o in members]
        if _common(wider):
            return [wider]
    if _common(members):
        return [members]
    by_place: dict[tuple[object, ...], list[tuple[Need, Reference, Offer]]] = {}
    for entry in members:
        by_place.setdefault((entry[0].on_edge, tuple(sorted(c.way.code for c in entry[2].choices))), []).append(entry)
    return list(by_place.values())


def _others(offer: Offer) -> list[Choice]:
    """Return the choices with tools only thought of that an offer with owned ones leaves out."""
    return [c for c in offer.thought_of if c not in offer.choices]


def _common(members: Sequence[tuple[Need, Reference, Offer]]) -> list[str]:
    codes = [c.way.code for c in members[0][2].choices]
    for _, _, offer in members[1:]:
        here = {c.way.code for c in offer.choices}
        codes = [c for c in codes if c in here]
    return codes


def _best(
    members: Sequence[tuple[Need, Reference, Offer]], workshop: Workshop
) -> Iterable[tuple[tuple[Need, Reference, Offer], Choice]]:
    """Return each member with its choice of the way that takes the fewest minutes for all of them."""
    codes = _common(members)
    taken = {code: [_of(offer, code) for _, _, offer in members] for code in codes}
    minutes = {code: _total(members, taken[code], workshop) for code in codes}
    best = min(codes, key=lambda c: (round(minutes[c], 6), codes.index(c)))
    return zip(members, taken[best], strict=True)


def _of(offer: Offer, code: str) -> Choice:
    return next(c for c in offer.choices if c.way.code == code)


def _total(members: Sequence[tuple[Need, Reference, Offer]], choices: Sequence[Choice], workshop: Workshop) -> float:
    total = 0.0
    depths: set[tuple[object, ...]] = set()
    jigs: set[tuple[object, ...]] = set()
    stations: set[float] = set()
    hands: set[tuple[object, ...]] = set()
    holds: set[tuple[HoldKind, float, bool]] = set()
    for (need, reference, _), choice in zip(members, choices, strict=True):
        place, cut = place_and_cut(choice, len(need.marks), need.first, _length(need), workshop)
        total += need.copies * (place + cut)
        fence = round(reference.wanted, 1) if choice.way.registration is Registration.EDGE else 0.0
        depths.add((need.shape, need.on_edge, fence))
        if choice.way.along is Along.JIG and not _owned(choice, workshop):
            free = need.half is Half.RECEIVING and not reference.at_end
            jigs.add((choice.opening, free, 0.0 if need.locates else round(reference.wanted, 1)))
            hands.add((need.shape, need.on_edge, free, hand_of(need, reference.toward)))
            stations.update(round(s, 2) for s in need.from_stop)
            holds.add((choice.hold, round(need.run_length, 1), need.on_edge))
    total += len(depths) * (minutes_of(workshop, Act.CHANGE_DEPTH) + _fence_min(choices[0], workshop))
    pins = members[0][0].lines_up
    turns = len(hands) - len({h[:-1] for h in hands})  # a set-up of both hands changes its jig over once
    return (
        total
        + turns * minutes_of(workshop, Act.CHANGE_JIG_OVER)
        + sum(jig_minutes(workshop, 0, pins=pins) for _ in jigs)
        + sum(minutes_of(workshop, MAKING.get(hold, "")) for hold, _, _ in holds)
        + (jig_minutes(workshop, len(stations), pins=pins) - jig_minutes(workshop, 0, pins=pins) if jigs else 0.0)
    )


def _fence_min(choice: Choice, workshop: Workshop) -> float:
    if choice.way.registration is Registration.EDGE:
        return minutes_of(workshop, Act.CHANGE_FENCE)
    return minutes_of(workshop, Act.CHANGE_STOP) if choice.way.along is Along.JIG else 0.0


def _owned(choice: Choice, workshop: Workshop) -> bool:
    opening = choice.opening
    return opening is not None and any(
        abs(j.opening_length - opening[0]) <= 0.1 and abs(j.opening_width - opening[1]) <= 0.1 for j in workshop.jigs
    )


def _length(need: Need) -> float:
    return float(getattr(need.first, "length", 0.0))


def describe(need: Need) -> str:
    """Return a need in words: what, and where."""
    where = f"{need.panel.name} of case {need.panel.case}"
    joint = f" ({need.joint.number})" if need.joint else ""
    return f"{need.marks[0].what} in the {need.surface.value} of the {where}{joint}"


def _missing(listed: Iterable[tuple[Need, Reference, Offer]]) -> list[Fault]:
    faults: dict[tuple[object, ...], Fault] = {}
    for need, _, offer in listed:
        if offer.choices or (need.shape, need.on_edge) in faults:
            continue
        wanted = list(missing_words(offer))
        kind = "an edge or end" if need.on_edge else "a face"
        do = (
            f"Get {', or '.join(wanted[:4])}; or choose another joining method."
            if wanted
            else f'Add a way to your workshop file whose `makes` holds "{need.kind}", or choose another method.'
        )
        faults[(need.shape, need.on_edge)] = Fault(
            code="no-way",
            field=_cause(need),
            found=f"no way to make {describe(need)}",
            allowed=f"what the workshop's tools, cutters and bushes can make in {kind}",
            do=do,
        )
    return list(faults.values())


def _cause(need: Need) -> str:
    if need.joint is not None:
        return f"methods.{need.joint.kind.value.replace(' ', '_').replace('-', '_')}"
    return need.panel.cause or "cases"


def _told(members: Sequence[tuple[Need, Reference, Offer]], choice: Choice) -> list[Caution]:
    need = members[0][0]
    told = []
    if not choice.tool.owned:
        told.append(
            Caution(
                code="tool-not-owned",
                about=choice.tool.name,
                text=f"{need.marks[0].what} needs it, and the workshop file says you do not own it.",
                do="Buy or borrow it, or choose another joining method.",
            )
        )
    if need.locates and choice.way.registration is Registration.MARK:
        error = need.lengths.told(choice.way.error_across or 0.5)
        told.append(
            Caution(
                code="located-by-eye",
                about=need.method.name if need.method else need.kind,
                text=f"The {need.marks[0].what} can only be cut by eye: expect each half to be up to {error} out.",
                do="Get a jig, or a tool with a fence, for it.",
            )
        )
    return told
