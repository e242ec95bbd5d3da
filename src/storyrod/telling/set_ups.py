"""What a set-up card, a jig and the run say in words and figures: the same in print and on the page."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from storyrod.measure.writing import LengthWriter
from storyrod.model.machining import (
    ExpectedStep,
    Hold,
    JigKind,
    JigPlan,
    Operation,
    PackerSide,
    PackerStack,
    Sentence,
    Setting,
    SetUp,
    SidePass,
    Sureness,
    WorkPlan,
)
from storyrod.model.workshop import Registration, ToolKind

DEPTH_NAMES: Final[Mapping[ToolKind, str]] = {
    ToolKind.TABLE_SAW: "blade height",
    ToolKind.TRACK_SAW: "blade depth",
    ToolKind.ROUTER_TABLE: "cutter height",
    ToolKind.NC_ROUTER: "depth",
}
"""What sets the depth of a cut, where it is no depth stop."""

STOP_WORDS: Final = (
    "Where a row says \u201cbase to a stop at\u201d, clamp a block with its face there, measured from the end or edge "
    "named. Try it unplugged: with the base against the block, the cutter is at the end of the cut."
)
"""How the stop blocks of stopped cuts are set, beside the plan on which they are drawn."""

BY_EYE_WORDS: Final = (
    "\u201cBy eye at\u201d: there is no room for a block. Draw that line, go slowly and stop when the cutter is at it."
)
"""How a cut is stopped where no block can be clamped."""


def stop_words(set_up: SetUp) -> tuple[str, ...]:
    """Return how the cuts of a set-up are stopped: against blocks, by eye, or both; nothing where none is stopped."""
    places = [p for o in set_up.operations for p in o.places]
    by_eye = any(p.by_eye for p in places)
    return (*((STOP_WORDS,) if set_up.stops else ()), *((BY_EYE_WORDS,) if by_eye else ()))


def run_words(work: WorkPlan) -> str:
    """Return how long the work takes, what the order saves where it saves any, and how sure it is."""
    run = work.run
    if run.sureness is Sureness.PROVEN_BEST:
        sure = "No other order needs fewer changes."
    else:
        sure = f"A better order may exist, at most {run.gap * 100:.0f} % quicker."
    lots, in_each = "", ""
    if run.lot.lots > 1:
        lots, in_each = f" in {run.lot.lots} lots of up to {run.lot.size}", " in each lot"
    changing, otherwise = minute_words(run.changes_min), minute_words(run.panel_by_panel_min)
    saves = f", {otherwise} if you finished each panel before the next" if otherwise != changing else ""
    return (
        f"{minute_words(run.minutes)} minutes in all{lots}. Changing set-ups takes {changing} of them{in_each}{saves}. "
        f"{sure}"
    )


def jig_words(jig: JigPlan, lengths: LengthWriter) -> str:
    """Return what a jig is for, what runs in it, and what making it costs and saves."""
    run = f"a {lengths.bought(jig.bush)} bush with {jig.cutter_name}" if jig.bush is not None else jig.cutter_name
    hands = "both hands" if len(jig.hands) > 1 else "one hand"
    placings = f"{jig.placings} placing{'' if jig.placings == 1 else 's'}"
    words = f"For {', '.join(jig.serves)}; {placings}, {hands}. {run[:1].upper()}{run[1:]} runs in it."
    if jig.owned:
        return f"{words} You own it already."
    made = f" About {minute_words(jig.making_min)} minutes to make"
    least = " A jig with fewer stations will not do." if jig.proven_least and len(jig.stations) > 1 else ""
    return f"{words}{made}{_saving_words(jig)}{least}"


def _saving_words(jig: JigPlan) -> str:
    """Return what a jig saves beside what it takes to make; where it does not pay in minutes, why it is made."""
    if jig.kind is JigKind.TEMPLATE:
        return ", once for all that it serves."
    against = "compared with setting the tool to every mark"
    if jig.saves > jig.making_min:
        return f"; in this batch it saves {minute_words(jig.saves)} {against}."
    saves = f"; in this batch it saves {minute_words(jig.saves)} {against}" if jig.saves > 0.5 else ""
    if jig.kind is JigKind.PINS:
        return f"{saves}. It is worth making so that shelves sit level, not to save time: set to marks they would rock."
    if jig.kind is JigKind.ROW:
        return f"{saves}."
    return f"{saves}. It is worth making for accuracy, not to save time: by eye the halves would not meet as well."


@dataclass(frozen=True, slots=True)
class ToldJig:
    """What a jig says in whole sentences, its lengths in the unit of the job."""

    steps: tuple[str, ...]
    checks: tuple[str, ...]
    notes: tuple[str, ...]
    holds: tuple[tuple[str, ...], ...]


def told_of_jig(jig: JigPlan, lengths: LengthWriter) -> ToldJig:
    """Return how a jig is made, checked, held and used, in words."""

    def told(sentences: Iterable[Sentence]) -> tuple[str, ...]:
        return tuple(s.told(lengths) for s in sentences)

    return ToldJig(told(jig.steps), told(jig.checks), told(jig.notes), tuple(told(h.steps) for h in jig.holds))


def hold_title(jig: JigPlan, hold: Hold) -> str:
    """Return what a way of holding is, and for which joints, where the jig is held in more than one."""
    title = f"Held {hold.kind.value}"
    return title if len(jig.holds) == 1 else f"{title}: {', '.join(hold.serves)}"


def tally_words(work: WorkPlan) -> Iterator[str]:
    """Yield how many jigs there are, and how sure it is that fewer would not do."""
    tally = work.tally
    if tally.to_make + tally.owned == 0:
        return
    made = f"{tally.to_make} jig{'' if tally.to_make == 1 else 's'} to make"
    owned = f"{made}, and {tally.owned} that you own" if tally.owned else made
    if tally.to_make == 0:
        yield f"No jig to make: {tally.owned} that you own will do."
    elif tally.proven:
        yield f"{owned}. Fewer will not do for these ways of working."
    else:
        yield f"{owned}. Fewer than {tally.bound} will not do; {tally.bound} might."


def setting_facts(s: Setting, work: WorkPlan, lengths: LengthWriter) -> list[list[str]]:
    """Return what is set and to what, as (what, to what)."""
    rows = [["tool", s.way_name if s.tool_name in s.way_name else f"{s.tool_name}: {s.way_name}"]]
    if s.cutter:
        rows.append(["cutter", s.cutter_name])
    if s.bush is not None:
        rows.append(["bush", f"{lengths.bought_n(s.bush)} (offset {lengths.n(s.bush_offset)})"])
    if s.jig:
        rows.append(["jig", f"{s.jig}, {work.jig(s.jig).name}"])
    if s.tool_kind not in (ToolKind.HAND_SAW, ToolKind.JIGSAW):
        rows.append([depth_name(s.tool_kind), _depth(s, lengths)])
    if s.passes[0] > 1:
        rows.append(["passes", _deep_words(s, lengths)])
    if s.fence is not None:
        rows.append([_fence_name(s), _fence_words(s, s.fence, lengths)])
    rows += _beside_rows(s, lengths)
    if s.packer is not None:
        side = "" if s.packer_side is PackerSide.NONE else f", {s.packer_side.value}"
        rows.append(["packer", f"{packer_words(s.packer, lengths)}{side}"])
    if s.speed_rpm:
        rows.append(["speed", f"not above {s.speed_rpm:,} a minute"])
    return rows


def depth_name(tool: ToolKind) -> str:
    """Return what is set on a tool for the depth of its cut, as a maker calls it."""
    return DEPTH_NAMES.get(tool, "depth stop")


def _depth(s: Setting, lengths: LengthWriter) -> str:
    if s.through:
        return f"through, {lengths.n(s.plunge)} and into a spoil board" if s.guide else "through, into a spoil board"
    if s.slope is not None:
        return f"{lengths.n(s.slope)} along the slope, {lengths.n(s.depth)} below the face at its end"
    depth = lengths.n(s.depth)
    if s.tool_kind is ToolKind.DRILL_JIG and not s.guide:
        return f"{depth} + the height of the jig's bushes"
    return f"{lengths.n(s.plunge)} = {lengths.n(s.guide)} + {depth}" if s.guide else depth


def _fence_name(s: Setting) -> str:
    return "straight edge" if s.registration is Registration.LINE else "fence"


def _fence_words(s: Setting, fence: float, lengths: LengthWriter) -> str:
    """Return where a fence stands: to the centre of a drill, else to the near wall."""
    to = "the centre" if s.to_centre else "the near wall"
    return f"{lengths.n(fence)} to {to}"


def _deep_words(s: Setting, lengths: LengthWriter) -> str:
    """Return what the depth is set to for each of several passes, each deeper than the one before."""
    count = s.passes[0]
    stops = [lengths.n(s.guide + (s.plunge - s.guide) * n / count) for n in range(1, count + 1)]
    last = f"{stops[-1]} and into the spoil board" if s.through else stops[-1]
    return f"{count}, each deeper: {', '.join(stops[:-1])}{', then' if s.through else ' and'} {last}"


def _beside_rows(s: Setting, lengths: LengthWriter) -> list[list[str]]:
    """Return a row for each of several passes beside each other, in the order in which none of them climbs."""
    if len(s.beside) < 2:
        return []
    return [
        [f"pass {n}", f"{one.wall.value}: {_pass_words(s, one, lengths)}"] for n, one in enumerate(s.beside, start=1)
    ]


def _pass_words(s: Setting, one: SidePass, lengths: LengthWriter) -> str:
    if one.strip is not None:
        made = f" ({one.strip.told(lengths)})" if len(one.strip.pieces) > 1 else ""
        return f"a strip of {lengths.n(one.strip.made)}{made} between straight edge and base"
    if s.registration is Registration.LINE:
        return "base against the straight edge, no strip"
    return f"{_fence_name(s)} at {lengths.n((s.fence or 0.0) + one.offset)}"


def packer_words(stack: PackerStack, lengths: LengthWriter) -> str:
    """Return what makes up a packer."""
    if stack.mill is None and not stack.pieces:
        return stack.told(lengths)
    exact = abs(stack.error) < 0.005
    return stack.told(lengths) if exact else f"{stack.told(lengths)} (wanted {lengths.n(stack.wanted)})"


def mark_numbers(o: Operation) -> str:
    """Return the numbers of marks and the joint that they are for, runs of them told together."""
    return f"{bare_numbers(o)} ({o.joint_number})" if o.joint_number else bare_numbers(o)


def bare_numbers(o: Operation) -> str:
    """Return the numbers of marks, runs of them told together."""
    runs: list[list[int]] = []
    for number in o.marks:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{r[0]}\u2013{r[-1]}" if len(r) > 1 else str(r[0]) for r in runs)


FLUSH: Final = (
    "Usual: 997 joints in 1000 stay within it. Worst: every error in the same direction. "
    "From centre lines: the usual step if both halves were set to the middle of the board."
)
"""What the figures of how flush to expect are."""


def placed_together(e: ExpectedStep) -> str:
    """Return from what both halves of a joint are placed."""
    return "the same face" if e.same_face else "each half by itself"


def minute_words(value: float) -> str:
    """Return minutes as they are told: whole ones from ten on."""
    return f"{value:,.0f}" if value >= 10 else f"{value:.1f}"
