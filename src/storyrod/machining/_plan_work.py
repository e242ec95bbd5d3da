"""From details and marks to jigs, set-ups, the run and its count."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from storyrod.faults import Caution
from storyrod.machining._advice import station_advice
from storyrod.machining._choose import choose_ways
from storyrod.machining._expected import expected_steps
from storyrod.machining._jigs import Jigs, plan_jigs
from storyrod.machining._needs import Need, find_needs
from storyrod.machining._reconcile import reconcile, refuse_missing
from storyrod.machining._reference import Reference, reference_of
from storyrod.machining._repeats import find_repeats
from storyrod.machining._run import Ordered, last_of_pairs, numbers_in_place, order_groups, pair_key, told_run
from storyrod.machining._settings import Setter
from storyrod.machining._setups import Writer, gather
from storyrod.machining._setups_by_hand import first_set_ups, last_set_up
from storyrod.machining._speed import RIM_CAUTION_M_S, rim_speed_m_s
from storyrod.measure.writing import LengthWriter
from storyrod.model.detail import Details
from storyrod.model.machining import LEAST_PACKER, TAPE, THIN_PACKER, PackerStack, SetUp, WorkPlan
from storyrod.model.mark import SetOut
from storyrod.model.series import number_before
from storyrod.model.sharing import Sharing
from storyrod.model.workshop import Workshop


def plan_work(
    details: Details,
    set_out: SetOut,
    workshop: Workshop,
    *,
    sharing: Sharing | None = None,
    limit_s: float = 10.0,
) -> WorkPlan:
    """Return how the whole batch is cut: jigs, settings, set-ups, the run, the count, and the errors to expect.

    Cases that are alike in all but their code are planned once.

    Args:
        details: every feature on every panel.
        set_out: the marks, rounded once.
        workshop: what the maker owns.
        sharing: what was moved so that joints share stations, to be told.
        limit_s: what the search for the order may take, in seconds of a usual machine, counted in work done.

    Raises:
        JobError: for every cut that no way of the workshop can make, saying what is missing; for contradictory
            precedence; for a half that is missing from the plan.
    """
    panels = [p for c in details.cases for p in c.panels]
    repeats = find_repeats(details, set_out)
    placed = _with_references(find_needs(repeats.details, repeats.set_out))
    made, cautions = choose_ways(placed, workshop)
    jigs = plan_jigs(made, workshop, before=number_before("G", panels))
    setter = Setter(workshop, jigs, made)
    ready = [setter.place(m) for m in made]
    groups = gather(ready, workshop)
    ordered = order_groups(groups, last_of_pairs(groups), workshop, limit_s=limit_s)
    distinct = _told(repeats.details, repeats.set_out, workshop, jigs, ordered, before=number_before("S", panels))
    run = told_run(distinct, ordered, workshop, _copies(repeats.details), _panels(repeats.details))
    set_ups = repeats.set_ups(distinct)
    count = reconcile(details, set_ups)
    refuse_missing(count)
    packers = _packer_cautions(set_ups, workshop, details.job.lengths)
    return WorkPlan(
        set_ups=set_ups,
        jigs=repeats.jigs(jigs.plans),
        run=run,
        reconciliation=count,
        steps_expected=repeats.steps(expected_steps(ready, details.job)),
        tally=jigs.tally,
        stations=station_advice(details, sharing),
        cautions=_once(
            (
                *cautions,
                *jigs.cautions,
                *packers,
                *_speed_cautions(set_ups),
            )
        ),
    )


def _with_references(needs: Sequence[Need]) -> list[tuple[Need, Reference]]:
    panels = {id(n.case): {str(p.id): p for p in n.case.panels} for n in needs}
    return [(n, reference_of(n, panels[id(n.case)])) for n in needs]


def _told(
    details: Details, set_out: SetOut, workshop: Workshop, jigs: Jigs, ordered: Ordered, *, before: int
) -> tuple[SetUp, ...]:
    """Return all set-ups, numbered in the order of the run, from the one after `before`."""
    writer = Writer(details, workshop, jigs)
    told: list[SetUp] = []
    for set_up in first_set_ups(details, set_out, workshop):
        told.append(_numbered(set_up, before + len(told) + 1))
    ends = last_of_pairs(ordered.groups)
    at: dict[tuple[object, ...], list[str]] = {}
    in_place = numbers_in_place(ordered.groups)
    last = last_set_up(details, workshop)
    for n, (group, turns, is_last) in enumerate(zip(ordered.groups, ordered.turns, ends, strict=True)):
        if n in in_place and last is not None:
            told.append(_numbered(last, before + len(told) + 1))
            last = None
        number = f"S{before + len(told) + 1}"
        earlier = at.setdefault(pair_key(group), [])
        tested = tuple(earlier) if is_last else None
        told.append(writer.set_up(group, number, turns, earlier=tested, in_place=n in in_place))
        earlier.append(number)
    if last is not None:
        told.append(_numbered(last, before + len(told) + 1))
    return tuple(told)


def _numbered(set_up: SetUp, number: int) -> SetUp:
    operations = tuple(replace(o, id=f"S{number}.{n}") for n, o in enumerate(set_up.operations, start=1))
    return replace(set_up, id=f"S{number}", operations=operations)


def _copies(details: Details) -> int:
    return max((c.built.case.count for c in details.cases), default=1)


def _panels(details: Details) -> tuple[int, float]:
    """Return how many panels one of each case has together, and their mean area in square mm."""
    areas = [p.length * p.width for c in details.cases for p in c.panels]
    return len(areas), sum(areas) / max(1, len(areas))


def _packer_cautions(set_ups: Sequence[SetUp], workshop: Workshop, lengths: LengthWriter) -> list[Caution]:
    wanted = {
        round(s.setting.packer.wanted, 2): s.setting.packer
        for s in set_ups
        if s.setting and s.setting.packer and s.setting.packer.mill is not None
    }
    shelf = "No packers are in the workshop file." if not workshop.packers else "None on the shelf makes it up."
    return [
        Caution(
            code="packer-to-mill",
            about=f"packer of {lengths.told(value)}",
            text=shelf,
            do=_packer_way(stack, lengths),
        )
        for value, stack in sorted(wanted.items())
    ]


def _packer_way(stack: PackerStack, lengths: LengthWriter) -> str:
    """A sheet of writing paper is about 0.1 mm thick (common practice, no source)."""
    if stack.mill is not None and stack.wanted < LEAST_PACKER:
        return (
            f"Stick on {lengths.told(stack.mill)} of tape where the packer would go (a layer of masking tape is about "
            f"{lengths.told(TAPE)}; measure yours), and take it off after this set-up."
        )
    if stack.mill is not None and stack.mill < THIN_PACKER:
        return (
            f"Build one up to {lengths.told(stack.mill)} from paper (about {lengths.told(0.1)} a sheet), card or "
            f"veneer, measure it, and write it into the workshop file."
        )
    return f"Mill one to {lengths.told(stack.made)}, or pack it up with card, and write it into the workshop file."


def _speed_cautions(set_ups: Sequence[SetUp]) -> list[Caution]:
    told = []
    for s in set_ups:
        if s.is_cut and s.setting and s.setting.speed_rpm:
            rim = rim_speed_m_s(s.setting.cutter_diameter, s.setting.speed_rpm)
            if rim > RIM_CAUTION_M_S:
                told.append(
                    Caution(
                        code="rim-speed",
                        about=s.setting.cutter_name,
                        text=f"Its edge would run at {rim:.0f} m/s at {s.setting.speed_rpm:,} turns a minute.",
                        do="Turn the speed down; the cutter's own mark rules.",
                    )
                )
    return told


def _once(cautions: Sequence[Caution]) -> tuple[Caution, ...]:
    return tuple({(c.code, c.about, c.text): c for c in cautions}.values())
