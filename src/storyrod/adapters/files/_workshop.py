"""From the tables of a workshop file to the workshop that travels between the stages."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from pydantic import BaseModel

from storyrod.adapters.files import _workshop_file as f
from storyrod.adapters.files._lines import path_text
from storyrod.model.job import JointClass
from storyrod.model.method import Method
from storyrod.model.workshop import (
    ActTime,
    Bush,
    Cutter,
    Handling,
    Hinge,
    Jig,
    Money,
    Price,
    RackOffcut,
    Runner,
    Saw,
    ScrewKind,
    Tool,
    Way,
    Workshop,
)

EMPTY = Workshop(name="", methods=(), runners=(), hinges=())
"""What the packaged workshop itself starts from."""


def workshop_from(
    table: f.WorkshopTable, *, name: str, methods: tuple[Method, ...], start: Workshop = EMPTY
) -> Workshop:
    """Return `start` with what the file says laid over it.

    Knowledge (methods, runners, hinges, screws, prices, times, defaults) adds or overrides by code. What is owned
    (cutters, bushes, packers, tools, jigs, rack) is the whole list once it is written at all.
    """
    return Workshop(
        name=table.name or name,
        methods=_over(start.methods, methods, "code"),
        runners=_over(start.runners, tuple(_runner(c, r) for c, r in table.runners.items()), "code"),
        hinges=_over(start.hinges, tuple(_hinge(c, h) for c, h in table.hinges.items()), "code"),
        screws=_over(start.screws, tuple(_screw(c, s) for c, s in table.screws.items()), "code"),
        prices=_over(start.prices, tuple(_price(c, p) for c, p in table.prices.items()), "item"),
        times=_over(start.times, tuple(_time(c, t) for c, t in table.times.items()), "act"),
        cutters=start.cutters if table.cutters is None else tuple(_cutter(c, x) for c, x in table.cutters.items()),
        bushes=start.bushes
        if table.bushes is None
        else tuple(_bush(b, f"bushes[{i}]") for i, b in enumerate(table.bushes)),
        packers=start.packers if table.packers is None else table.packers,
        tools=start.tools if table.tools is None else tuple(_tool(c, t) for c, t in table.tools.items()),
        jigs=start.jigs if table.jigs is None else tuple(_jig(c, j) for c, j in table.jigs.items()),
        ways=_over(start.ways, tuple(_way(c, w) for c, w in table.ways.items()), "code"),
        rack=start.rack if table.rack is None else tuple(_offcut(c, o) for c, o in table.rack.items()),
        template_thickness=table.template_thickness or start.template_thickness,
        deepest_pass=table.deepest_pass or start.deepest_pass,
        saw=_saw(table, start.saw),
        money=_money(table, start.money),
        handling=_handling(table, start.handling),
        default_methods=_default_methods(table.defaults, start),
        default_runner=table.defaults.runner or start.default_runner,
        default_hinge=table.defaults.hinge or start.default_hinge,
        front_screw=table.defaults.front_screw or start.front_screw,
    )


def _over[T](below: tuple[T, ...], above: tuple[T, ...], key: str) -> tuple[T, ...]:
    merged = {getattr(item, key): item for item in below}
    merged.update((getattr(item, key), item) for item in above)
    return tuple(merged.values())


def _default_methods(d: f.DefaultsTable, start: Workshop) -> tuple[tuple[str, str], ...]:
    chosen = dict(start.default_methods)
    for joint_class in JointClass:
        code = getattr(d, joint_class.name.lower())
        if code is not None:
            chosen[joint_class.value] = code
    return tuple((c.value, chosen[c.value]) for c in JointClass if c.value in chosen)


def _given(table: BaseModel) -> dict[str, Any]:
    """Return the fields that are written in the file."""
    return {name: getattr(table, name) for name in type(table).model_fields if name in table.model_fields_set}


def _saw(table: f.WorkshopTable, start: Saw) -> Saw:
    return start if table.saw is None else replace(start, **_given(table.saw))


def _money(table: f.WorkshopTable, start: Money) -> Money:
    if table.money is None:
        return start
    given = _given(table.money)
    if "rate_per_hour" in given:
        given["rate_cents_per_h"] = given.pop("rate_per_hour")
    return replace(start, **given)


def _handling(table: f.WorkshopTable, start: Handling) -> Handling:
    return start if table.handling is None else replace(start, **_given(table.handling))


def _runner(code: str, r: f.RunnerTable) -> Runner:
    return Runner(
        code=code,
        name=r.name or code,
        mount=r.mount,
        lengths=r.lengths,
        room_each_side=r.room_each_side,
        inside_less=r.inside_less,
        box_shorter=r.box_shorter,
        clear_behind=r.clear_behind,
        room_below=r.room_below,
        room_above=r.room_above,
        height=r.height,
        screw_up=r.screw_up,
        screw_diameter=r.screw_diameter,
        screw_depth=r.screw_depth,
        screws=r.screws,
        drawer_screws=r.drawer_screws,
        drawer_screw_up=r.drawer_screw_up,
        fixed_with=r.fixed_with,
        screw_length=r.screw_length,
        screw_seat=r.screw_seat,
        set_back=r.set_back,
        load_kg=r.load_kg,
        extension=r.extension,
        width_max=r.width_max,
        price_cents=r.price,
        field=path_text(("runners", code)),
    )


def _hinge(code: str, h: f.HingeTable) -> Hinge:
    return Hinge(
        code=code,
        name=h.name or code,
        cup=h.cup,
        cup_depth=h.cup_depth,
        cup_in=h.cup_in,
        cup_screws=h.cup_screws,
        cup_screw_in=h.cup_screw_in,
        cup_screw_diameter=h.cup_screw_diameter,
        plate_in=h.plate_in,
        plate_pitch=h.plate_pitch,
        plate_screw=h.plate_screw,
        plate_depth=h.plate_depth,
        cup_fixed_with=h.cup_fixed_with,
        cup_screw_length=h.cup_screw_length,
        cup_seat=h.cup_seat,
        plate_fixed_with=h.plate_fixed_with,
        plate_screw_length=h.plate_screw_length,
        plate_seat=h.plate_seat,
        from_end=h.from_end,
        per_door=tuple((s.up_to, s.hinges) for s in h.per_door),
        price_cents=h.price,
        field=path_text(("hinges", code)),
    )


def _screw(code: str, s: f.ScrewTable) -> ScrewKind:
    return ScrewKind(
        code=code, diameter=s.diameter, lengths=s.lengths, pilot=s.pilot, field=path_text(("screws", code))
    )


def _price(item: str, p: f.PriceTable) -> Price:
    return Price(item=item, pack=p.pack, price_cents=p.price, on_hand=p.on_hand, field=path_text(("prices", item)))


def _time(act: str, t: f.TimeTable) -> ActTime:
    return ActTime(act=act, low_min=t.low, usual_min=t.usual, high_min=t.high, field=path_text(("times", act)))


def _cutter(code: str, c: f.CutterTable) -> Cutter:
    return Cutter(
        code=code,
        kind=c.kind,
        diameter=c.diameter,
        reach=c.reach,
        width=c.width,
        neck=c.neck,
        max_rpm=c.max_rpm,
        field=path_text(("cutters", code)),
    )


def _bush(b: f.BushTable, path: str) -> Bush:
    return Bush(diameter=b.diameter, bore=b.bore, length=b.length, field=path)


def _tool(code: str, t: f.ToolTable) -> Tool:
    return Tool(
        code=code,
        kind=t.kind,
        name=t.name or t.kind.value,
        base_to_centre=t.base_to_centre,
        base_half=t.base_half,
        error=t.error,
        owned=t.owned,
        price_cents=t.price,
        field=path_text(("tools", code)),
    )


def _jig(code: str, j: f.JigTable) -> Jig:
    return Jig(
        code=code,
        name=j.name or code,
        stations=j.stations,
        opening_width=j.opening_width,
        opening_length=j.opening_length,
        length=j.length,
        thickness=j.thickness,
        for_mid_panel=j.for_mid_panel,
        field=path_text(("jigs", code)),
    )


def _way(code: str, w: f.WayTable) -> Way:
    return Way(
        code=code,
        name=w.name or code,
        tool=w.tool,
        cutter=w.cutter,
        makes=w.makes,
        on_edges=w.on_edges,
        on_faces=w.on_faces,
        registration=w.registration,
        along=w.along,
        bush=w.bush,
        jig_thickness=w.jig_thickness,
        stopped=w.stopped,
        from_edge=w.from_edge,
        error_across=w.error_across,
        error_along=w.error_along,
        place_act=w.place_act,
        cut_act=w.cut_act,
        per_metre=w.per_metre,
        field=path_text(("ways", code)),
    )


def _offcut(code: str, o: f.OffcutTable) -> RackOffcut:
    return RackOffcut(code=code, board=o.board, length=o.length, width=o.width, field=path_text(("rack", code)))
