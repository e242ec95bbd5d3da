"""The sag of every plank of a case: at once and in the long run, against the limit, and what would mend it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import pairwise
from typing import Final

from storyrod.faults import Caution
from storyrod.measure.space import Axis
from storyrod.model.detail import DetailedCase, Details
from storyrod.model.job import BoardKind
from storyrod.model.panel import Role
from storyrod.model.soundness import Carried, RemedyKind, Rest, Resting, Sag
from storyrod.model.thresholds import GRAVITY, Thresholds
from storyrod.model.weight import panel_mass_kg
from storyrod.soundness._beam import FIRM, Bent
from storyrod.soundness._boards import Stiffness, stiffness_of, strength_of
from storyrod.soundness._carry import Carrying, Plank
from storyrod.soundness._mend import THICKER, alone, below, remedies_for, remedy
from storyrod.soundness._plate import plate_sag
from storyrod.soundness._span import greatest_span
from storyrod.trade.creep import creep_words, long_run

NOT_DAMP: Final = "there is no creep factor for this board in damp air: it is not for damp places"


def sags_of(case: DetailedCase, details: Details, carrying: Carrying, thresholds: Thresholds) -> tuple[Sag, ...]:
    """Return the sag of every shelf, top, base, rail and drawer bottom."""
    sags = [_of_plank(p, carrying, details, thresholds) for p in carrying.planks]
    sags += _drawer_bottoms(case, details, thresholds)
    return tuple(s for s in sags if s is not None)


def _of_plank(plank_: Plank, carrying: Carrying, details: Details, thresholds: Thresholds) -> Sag | None:
    if plank_.firm is Rest.FLOOR or plank_.section is None:
        return _without_figure(plank_, thresholds) if plank_.section is None and plank_.firm is None else None
    if plank_.firm is Rest.EDGES:
        return _on_four_edges(plank_, details, thresholds)
    bent = carrying.bent.get(plank_.panel.id)
    return None if bent is None else _bent_sag(plank_, bent, details, thresholds)


def _without_figure(plank_: Plank, thresholds: Thresholds) -> Sag:
    low, high = plank_.panel.box.span(Axis.X)
    return _sag(
        plank_, thresholds, span=high - low, start=low, stiffness=None, notes=("Its board's stiffness is not known.",)
    )


def _sag(
    plank_: Plank,
    thresholds: Thresholds,
    *,
    span: float,
    start: float,
    stiffness: float | None,
    notes: tuple[str, ...] = (),
) -> Sag:
    """A sag with what is known before anything is bent."""
    return Sag(
        panel=plank_.panel.id,
        name=plank_.panel.name,
        span=span,
        span_from=start,
        at=start + span / 2,
        at_once=None,
        lasting=None,
        limit=span / thresholds.sag_limit,
        limit_share=thresholds.sag_limit,
        own_kg=plank_.own_kg,
        carried=plank_.carried,
        rests=(),
        greatest_span=None,
        bending_share=1.0,
        stress_n_mm2=None,
        strength_n_mm2=strength_of(plank_.panel, plank_.board),
        stiffness_n_mm2=stiffness,
        stiffness_from=plank_.stiffness.source,
        creep_from=creep_words(plank_.board.kind),
        edges=plank_.edges,
        notes=notes,
    )


def long_run_factor(
    own_kg: float, load_kg: float, kind: BoardKind, details: Details, thresholds: Thresholds
) -> float | None:
    """Return sag in the long run over sag at once: its own weight lies there for good, the load by a lasting share."""
    whole = own_kg + load_kg
    lasting = (own_kg + thresholds.lasting_share * load_kg) / whole if whole > 0 else 1.0
    return long_run(kind, details.job.use.climate, lasting)


def _bent_sag(plank_: Plank, bent: Bent, details: Details, thresholds: Thresholds) -> Sag:
    load = sum(c.kg for c in plank_.carried)
    factor = long_run_factor(plank_.own_kg, load, plank_.board.kind, details, thresholds)
    start, end, at, at_once = _worst_stretch(bent)
    told = _sag(plank_, thresholds, span=end - start, start=start, stiffness=plank_.stiffness.along)
    section = plank_.section
    if section is None:  # Bent planks have one; the type says it again.
        return told
    unsheared = below(replace(alone(bent), shear_n=float("inf")), start, end)
    even = bent.total_n / (bent.line.end - bent.line.start)
    found = replace(
        told,
        at=at,
        at_once=at_once,
        lasting=None if factor is None else at_once * factor,
        rests=_rests(plank_, bent),
        greatest_span=greatest_span(
            even * (factor or 1.0), section.rigidity_n_mm2, thresholds.sag_limit, section.shear_n
        ),
        bending_share=unsheared / at_once if at_once > 1e-12 else 1.0,
        stress_n_mm2=bent.greatest_moment() * section.stress_per_moment,
        curve=bent.curve(),
        notes=_notes(plank_, factor),
    )
    if found.within_limit is False and factor is not None:
        found = replace(found, remedies=tuple(remedies_for(plank_, bent, found, factor, thresholds.lengths)))
    return found


def _notes(plank_: Plank, factor: float | None) -> tuple[str, ...]:
    notes = []
    if plank_.edges:
        notes.append("The lipping is taken to bend with the board. It twists as well, so it gains less than this.")
    if factor is None:
        notes.append(f"In the long run: not known, {NOT_DAMP}.")
    return tuple(notes)


def _rests(plank_: Plank, bent: Bent) -> tuple[Resting, ...]:
    return tuple(
        Resting(x=h.support.x, by=h.by, panel=h.panel, force_n=force, joint=h.joint)
        for h, force in zip(plank_.held, bent.reactions_n, strict=True)
    )


def _worst_stretch(bent: Bent) -> tuple[float, float, float, float]:
    """Return start, end, place and sag of the stretch that sags most for its length.

    Stretches run from support to neighbouring support, and between supports that stand firm over those that do not.
    """
    xs = [s.x for s in bent.supports]
    firm = [s.x for s in bent.supports if s.level == FIRM]
    stretches = set(pairwise(xs)) | set(pairwise(firm))
    found = []
    for start, end in sorted(stretches):
        at, down = bent.lowest(start, end)
        found.append((down / (end - start), start, end, at, max(0.0, down)))
    _, start, end, at, down = max(found, key=lambda f: (f[0], f[2] - f[1]))
    return start, end, at, down


def _on_four_edges(plank_: Plank, details: Details, thresholds: Thresholds) -> Sag:
    panel = plank_.panel
    load = sum(c.kg for c in plank_.carried)
    held = [h.support.x for h in plank_.held] or list(panel.box.span(Axis.X))
    length, depth = max(held) - min(held), panel.box.size(Axis.Y)
    factor = long_run_factor(plank_.own_kg, load, plank_.board.kind, details, thresholds)
    along, across = plank_.stiffness.along, plank_.stiffness.across
    shorter = min(length, depth)
    told = _sag(plank_, thresholds, span=shorter, start=min(held), stiffness=along)
    if along is None:
        return told
    at_once = plate_sag(
        length, depth, panel.thickness, (plank_.own_kg + load) * GRAVITY / (length * depth), along, across or along / 20
    )
    return replace(
        told,
        at=(min(held) + max(held)) / 2,
        at_once=at_once,
        lasting=None if factor is None else at_once * factor,
        rests=(Resting(x=min(held), by=Rest.EDGES, panel=None, force_n=(plank_.own_kg + load) * GRAVITY),),
        notes=("It rests on all four edges: sides, plinth and whatever is behind it.", *_notes(plank_, factor)),
    )


def _drawer_bottoms(case: DetailedCase, details: Details, thresholds: Thresholds) -> Iterator[Sag]:
    boards = {b.code: b for b in details.job.boards}
    for drawer in case.built.drawers:
        bottom = next((case.panel(p) for p in drawer.panels if case.panel(p).role is Role.DRAWER_BOTTOM), None)
        if bottom is None:
            continue
        board = boards[bottom.board]
        width, depth = drawer.inside.size(Axis.X), drawer.inside.size(Axis.Y)
        own = panel_mass_kg(bottom, board, case.on(bottom.id))
        why = f"{drawer.load_kg:.1f} kg in the drawer"
        low, high = drawer.inside.span(Axis.X)
        made = Plank(
            panel=bottom,
            board=board,
            stiffness=stiffness_of(bottom, board),
            section=None,
            edges=(),
            own_kg=own,
            carried=(Carried(start=low, end=high, kg=drawer.load_kg, why=why),),
            held=(),
        )
        yield _bottom_sag(made, width, depth, details, thresholds)


def _bottom_sag(made: Plank, width: float, depth: float, details: Details, thresholds: Thresholds) -> Sag:
    low = made.carried[0].start
    e: Stiffness = made.stiffness
    told = _sag(made, thresholds, span=min(width, depth), start=low, stiffness=e.along)
    if e.along is None:
        return replace(told, notes=("Its board's stiffness is not known.",))
    load = made.carried[0].kg
    pressure = (made.own_kg + load) * GRAVITY / (width * depth)
    across = e.across or e.along / 20
    at_once = plate_sag(width, depth, made.panel.thickness, pressure, e.along, across)
    factor = long_run_factor(made.own_kg, load, made.board.kind, details, thresholds)
    found = replace(
        told,
        at=low + width / 2,
        at_once=at_once,
        lasting=None if factor is None else at_once * factor,
        rests=(Resting(x=low, by=Rest.EDGES, panel=None, force_n=(made.own_kg + load) * GRAVITY),),
    )
    if found.within_limit is False and factor is not None:
        remedies = []
        for thickness in (t for t in THICKER if t > made.panel.thickness):
            sag = plate_sag(width, depth, thickness, pressure, e.along, across) * factor
            name = f"a bottom {thresholds.lengths.bought(thickness)} thick"
            remedies.append(remedy(RemedyKind.THICKER, name, sag, found.limit))
            if remedies[-1].enough:
                break
        found = replace(found, remedies=tuple(remedies[-1:]))
    return found


# --- Cautions ---------------------------------------------------------------------------------------------------------


def sag_cautions(case_name: str, sags: tuple[Sag, ...], thresholds: Thresholds) -> Iterator[Caution]:
    """Return what must be said of sags: beyond the limit, near breaking, or not to be reckoned."""
    for sag in sags:
        about = f"{case_name}, {sag.name}"
        ids = (str(sag.panel),)
        if sag.stiffness_n_mm2 is None:
            yield Caution(
                code="sag-not-known",
                about=about,
                text="Its sag is not known: the bending stiffness of its board is not set.",
                do="Write `stiffness_n_mm2` of the board, from its data sheet.",
                ids=ids,
            )
        elif sag.lasting is None:
            yield Caution(
                code="sag-damp",
                about=about,
                text=f"Its sag in the long run is not known: {NOT_DAMP}.",
                do="Use another board there, or set `climate` to suit the room.",
                ids=ids,
            )
        elif sag.within_limit is False:
            yield _over(about, sag, thresholds.lengths.about, ids)
        if sag.stress_n_mm2 is not None and sag.strength_n_mm2 is not None:
            used = sag.stress_n_mm2 / sag.strength_n_mm2
            if used > thresholds.stress_share:
                yield _stressed(about, sag, used, thresholds, ids)


def _over(about: str, sag: Sag, size: Callable[[float], str], ids: tuple[str, ...]) -> Caution:
    enough = [r.what for r in sag.remedies if r.enough]
    rail = next((r for r in sag.remedies if r.kind is RemedyKind.RAIL), None)
    way = f"Within the limit: {'; or '.join(enough)}." if enough else "Shorten the span or load it less."
    if rail is not None and not enough:
        way = f"First {rail.what}: that leaves {size(rail.sag)}. Then load it less, or use a thicker board."
    text = (
        f"Under {sag.under_words} it sags {size(sag.at_once or 0.0)} over {size(sag.span)}, "
        f"and about {size(sag.lasting or 0.0)} in the long run; span / {sag.limit_share:g} allows {size(sag.limit)}. "
        "An estimate."
    )
    return Caution(code="sag-over-limit", about=about, text=text, do=way, ids=ids)


def _stressed(about: str, sag: Sag, used: float, thresholds: Thresholds, ids: tuple[str, ...]) -> Caution:
    text = (
        f"Under {sag.under_words} it is bent to {used:.0%} of the least that breaks boards of its kind "
        f"({sag.strength_n_mm2:g} N/mm2); stay under {thresholds.stress_share:.0%}. An estimate."
    )
    rail = next((r.what for r in sag.remedies if r.kind is RemedyKind.RAIL), "")
    others = f"put {rail}" if rail else "shorten the span"
    do = f"Load it less, {others}, or use a thicker board: it may break."
    return Caution(code="load-near-breaking", about=about, text=text, do=do, ids=ids)
