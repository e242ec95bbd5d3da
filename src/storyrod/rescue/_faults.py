"""What cannot be so: slips of what is not there, that are none, that are told twice or contradict each other."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from storyrod.faults import Fault
from storyrod.measure.writing import LengthWriter
from storyrod.model.as_built import AsBuilt, Slip, SlipKind
from storyrod.model.detail import Details
from storyrod.model.feature import Channel, Feature, FeatureId, Hole, SegmentPocket, Slot
from storyrod.model.mark import SetOut
from storyrod.rescue._names import Named, Names

NOTHING: Final = 0.05
"""A difference smaller than this (mm) is no slip: a tick of the bench log holds as closely."""

_CUTS: Final = frozenset(
    {SlipKind.ELSEWHERE, SlipKind.WRONG_END, SlipKind.OTHER_FACE, SlipKind.DEPTH, SlipKind.WIDTH}
    | {SlipKind.NOT_CUT, SlipKind.TWICE}
)
FIELDS: Final = {
    SlipKind.SIZE: frozenset({"length", "width", "thickness", "out_of_square"}),
    SlipKind.ELSEWHERE: frozenset({"cuts", "along", "across"}),
    SlipKind.WRONG_END: frozenset({"cuts"}),
    SlipKind.OTHER_FACE: frozenset({"cuts"}),
    SlipKind.DEPTH: frozenset({"cuts", "depth"}),
    SlipKind.WIDTH: frozenset({"cuts", "cut_width"}),
    SlipKind.NOT_CUT: frozenset({"cuts"}),
    SlipKind.TWICE: frozenset({"cuts", "along", "across"}),
    SlipKind.DAMAGE: frozenset({"surface", "from_end", "from_edge", "size"}),
    SlipKind.LOST: frozenset(),
    SlipKind.GLUED: frozenset({"joints", "off"}),
}
"""What each slip says, beside panel and copy."""

_ALL: Final = sorted(set[str]().union(*FIELDS.values()))


def faults_of(details: Details, set_out: SetOut, facts: AsBuilt) -> tuple[Fault, ...]:
    """Return everything in the facts that cannot be so, each with its field."""
    names = Names(details, set_out)
    found = [*_of_what_is_cut(names, facts)]
    before: list[tuple[Slip, Named]] = []
    for n, slip in enumerate(facts.slips):
        if slip.taken_back:
            continue
        at = f"slips[{n}]"
        named = names.of(slip.panel)
        if named is None:
            found.append(_no_panel(at, slip, names))
            continue
        own = [*_of_one(at, slip, named, details.job.lengths)]
        found += own or _beside(at, slip, named, before)
        before.append((slip, named))
    return tuple(found)


def _of_what_is_cut(names: Names, facts: AsBuilt) -> Iterator[Fault]:
    for n, name in enumerate(facts.cut):
        if not names.knows(name):
            yield _fault(
                f"cut[{n}]",
                "as-built-cut",
                f'"{name}"',
                "the mark of a panel, as A3, or of a cut, as A3.2; A3#2 on the second case of a kind",
                "Take it from the set-out page of the panel.",
            )


def _no_panel(at: str, slip: Slip, names: Names) -> Fault:
    marks = ", ".join(list(names.by_mark)[:40])
    return _fault(
        f"{at}.panel", "as-built-panel", f'"{slip.panel}"', marks, "Take the mark that stands on the board's face."
    )


def _of_one(at: str, slip: Slip, named: Named, lengths: LengthWriter) -> Iterator[Fault]:
    count = named.case.built.case.count
    if slip.copy > count:
        allowed = f"1 to {count}" if count > 1 else "1: only one is made"
        yield _fault(f"{at}.copy", "as-built-copy", f"copy {slip.copy}", allowed, "Say which one it is.")
    for name in _ALL:
        if getattr(slip, name) not in (None, ()) and name not in FIELDS[slip.kind]:
            yield _fault(
                f"{at}.{name}",
                "as-built-field",
                f"`{name}` for a slip of kind “{slip.kind}”",
                ", ".join(f"`{f}`" for f in sorted(FIELDS[slip.kind])) or "nothing more",
                "Leave it out, or record it as a slip of its own.",
            )
    if slip.kind in _CUTS:
        yield from _of_cuts(at, slip, named)
    elif slip.kind is SlipKind.SIZE:
        yield from _of_size(at, slip, named, lengths)
    elif slip.kind is SlipKind.DAMAGE:
        yield from _of_damage(at, slip, named, lengths)
    elif slip.kind is SlipKind.GLUED:
        yield from _of_glued(at, slip, named)


def _of_cuts(at: str, slip: Slip, named: Named) -> Iterator[Fault]:
    for n, name in enumerate(slip.cuts):
        if not named.cut(name):
            joints = ", ".join(j.number for j in named.joints)
            allowed = f"1 to {len(named.cuts)}, {joints} or all" if named.cuts else "nothing: this panel has no cuts"
            yield _fault(f"{at}.cuts[{n}]", "as-built-cut", f'"{name}"', allowed, "Take it from the panel's set-out.")
    if not slip.cuts:
        yield _fault(f"{at}.cuts", "as-built-cut", "nothing", "a cut, a joint or all", "Say which cuts it is about.")
    if (
        slip.kind in {SlipKind.ELSEWHERE, SlipKind.TWICE}
        and max(abs(slip.along or 0.0), abs(slip.across or 0.0)) <= NOTHING
    ):
        yield _none(f"{at}.along", "0 along and 0 across", "a distance other than 0")
    if slip.kind in {SlipKind.DEPTH, SlipKind.WIDTH}:
        yield from _of_measure(at, slip, named)


def _of_measure(at: str, slip: Slip, named: Named) -> Iterator[Fault]:
    name = "depth" if slip.kind is SlipKind.DEPTH else "cut_width"
    value = getattr(slip, name)
    if value is None or value <= 0:
        yield _none(f"{at}.{name}", "nothing" if value is None else "0", "what it measures, above 0")
        return
    own = [f for f in named.case.on(named.panel.id) if f.id in cuts_of(slip, named)]
    if own and all(abs(measured(f, slip.kind) - value) <= NOTHING for f in own):
        yield _none(f"{at}.{name}", f"{value:g} mm, as it is planned", "another measure than is planned")


def measured(feature: Feature, kind: SlipKind) -> float:
    """Return the depth of a cut, or its width: of a hole its diameter."""
    shape = feature.shape
    if kind is SlipKind.DEPTH:
        return feature.depth
    if isinstance(shape, Hole):
        return shape.diameter
    return shape.width if isinstance(shape, Slot | Channel | SegmentPocket) else 0.0


def cuts_of(slip: Slip, named: Named) -> frozenset[FeatureId]:
    """Return the cuts that a slip is about."""
    return frozenset(c for name in slip.cuts for c in named.cut(name))


def _of_size(at: str, slip: Slip, named: Named, lengths: LengthWriter) -> Iterator[Fault]:
    panel = named.panel
    planned = {"length": panel.length, "width": panel.width, "thickness": panel.thickness, "out_of_square": 0.0}
    said = {name: getattr(slip, name) for name in planned if getattr(slip, name) is not None}
    if not said:
        yield _none(f"{at}.length", "nothing", "a length, width, thickness or out_of_square that was measured")
    for name, value in said.items():
        if name != "out_of_square" and value <= 0:
            yield _none(f"{at}.{name}", "0", "what it measures, above 0")
        elif abs(value - planned[name]) <= NOTHING:
            allowed = f"another measure than {lengths.told(planned[name])}"
            yield _none(f"{at}.{name}", f"{lengths.told(value)}, as it is planned", allowed)


def _of_damage(at: str, slip: Slip, named: Named, lengths: LengthWriter) -> Iterator[Fault]:
    if slip.surface is None:
        yield _none(f"{at}.surface", "nothing", "the surface that is damaged")
    if not slip.size:
        yield _none(f"{at}.size", "0" if slip.size == 0 else "nothing", "how wide it is, above 0")
    for name, most in (("from_end", named.panel.length), ("from_edge", named.panel.width)):
        value = getattr(slip, name)
        if value is None or value > most:
            found = "nothing" if value is None else lengths.told(value)
            yield _fault(
                f"{at}.{name}", "as-built-place", found, f"0 to {lengths.told(most)}", "Measure it on the panel."
            )


def _of_glued(at: str, slip: Slip, named: Named) -> Iterator[Fault]:
    numbers = [j.number for j in named.joints]
    if slip.off and not any(j.entering == named.panel.id for j in named.joints):
        yield _fault(
            f"{at}.off",
            "as-built-off",
            f"{named.panel.mark} off its lines, which other panels stand against",
            "a panel that stands on the lines of others",
            "Record it at the panel that stands against this one.",
        )
    for n, name in enumerate(slip.joints):
        if name not in numbers:
            yield _fault(
                f"{at}.joints[{n}]", "as-built-joint", f'"{name}"', ", ".join(numbers), "Name a joint of this panel."
            )


def _beside(at: str, slip: Slip, named: Named, before: list[tuple[Slip, Named]]) -> list[Fault]:
    """Return how a slip does not go with those before it."""
    own = [s for s, n in before if n.panel.id == named.panel.id and s.copy == slip.copy]
    mark = named.panel.mark
    found = []
    if any(_same(s, slip, named) for s in own):
        found.append(_fault(at, "as-built-twice", f"the same slip of {mark} once more", "each slip once", _BACK))
    elif any(s.kind is SlipKind.LOST for s in own):
        found.append(
            _fault(
                at, "as-built-contradicts", f"a slip of {mark}, which is lost", "nothing more of a lost panel", _BACK
            )
        )
    elif slip.kind is not SlipKind.DAMAGE and any(s.kind is SlipKind.GLUED for s in own):
        found.append(
            _fault(
                at,
                "as-built-glued",
                f"a slip of {mark}, which is glued in already",
                "damage alone, once a panel is glued in",
                "If it was so before the glue, take the gluing back, record this, and record the gluing again.",
            )
        )
    elif any(_contradicts(s, slip, named) for s in own):
        found.append(
            _fault(
                at, "as-built-contradicts", f"another word on what was told of {mark} before", "one word on each", _BACK
            )
        )
    return found


_BACK: Final = "Take one of the two back."


def _same(one: Slip, other: Slip, named: Named) -> bool:
    return (
        one.kind is other.kind
        and cuts_of(one, named) == cuts_of(other, named)
        and all(getattr(one, n) == getattr(other, n) for n in _ALL if n != "cuts")
    )


_PLACES: Final = frozenset({SlipKind.ELSEWHERE, SlipKind.WRONG_END, SlipKind.OTHER_FACE, SlipKind.NOT_CUT})


def _contradicts(one: Slip, other: Slip, named: Named) -> bool:
    """Return whether two slips say different things of one size, or of one cut's place or measure."""
    if one.kind is other.kind is SlipKind.SIZE:
        names = FIELDS[SlipKind.SIZE]
        return any(None not in (getattr(one, n), getattr(other, n)) for n in names)
    shared = bool(cuts_of(one, named) & cuts_of(other, named))
    kinds = {one.kind, other.kind}
    if SlipKind.NOT_CUT in kinds and shared:
        return True
    if SlipKind.TWICE in kinds:
        return False
    return shared and (one.kind is other.kind or kinds <= _PLACES)


def _none(field: str, found: str, allowed: str) -> Fault:
    return _fault(field, "as-built-none", found, allowed, "Leave the slip out, or write what you measured.")


def _fault(field: str, code: str, found: str, allowed: str, do: str) -> Fault:
    return Fault(code=code, field=field, found=found, allowed=allowed, do=do)
