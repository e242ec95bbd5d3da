"""What the fields of a workshop file say together."""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Sequence
from typing import Final

from storyrod.adapters.files._fields import nearest
from storyrod.adapters.files._lines import path_text
from storyrod.adapters.files._read import Table
from storyrod.faults import Fault
from storyrod.measure.writing import LengthWriter
from storyrod.model.job import JointClass
from storyrod.model.workshop import Workshop


def check_workshop(workshop: Workshop, table: Table, below: Workshop, lengths: LengthWriter) -> tuple[Fault, ...]:
    """Return the faults of what a file says, seen together with the workshop that it is laid over, `below`.

    `lengths` writes in the unit of the file.
    """
    return (
        *_check_methods(workshop, table),
        *_check_fittings(workshop, table),
        *_check_times(table),
        *_check_acts(workshop, table, below),
        *_check_hinges(table),
        *_check_bushes(table, lengths),
        *_check_ways(table),
        *_check_jigs(table, lengths),
    )


MAKES = (
    *("hole", "slot", "keyhole", "segment pocket", "undercut slot", "groove", "housing", "rebate"),
    *("cut-out", "angled pocket", "countersink"),
)
"""What a way may make: the kinds of feature, and the countersink of a hole that is drilled before."""


def _check_ways(table: Table) -> Iterator[Fault]:
    for code, way in table["ways"].items():
        field = path_text(("ways", code))
        for kind in way["makes"]:
            if kind not in MAKES:
                near = nearest(kind, MAKES)
                yield Fault(
                    code="way-makes",
                    field=f"{field}.makes",
                    found=f'"{kind}"',
                    allowed=", ".join(MAKES),
                    do=f'Did you mean "{near}"?' if near else "Choose one of these.",
                )
        if not way["on_edges"] and not way["on_faces"]:
            yield Fault(
                code="way-nowhere",
                field=f"{field}.on_faces",
                found="a way that works neither on edges nor on faces",
                allowed="`on_edges = true`, `on_faces = true`, or both",
                do="Say where it works.",
            )


def _check_jigs(table: Table, lengths: LengthWriter) -> Iterator[Fault]:
    for code, jig in table["jigs"].items():
        last = jig["stations"][-1] + jig["opening_length"] / 2
        if last > jig["length"]:
            yield Fault(
                code="jig-too-short",
                field=path_text(("jigs", code, "length")),
                found=f"{lengths.told(jig['length'])}, with an opening that ends {lengths.told(last)} from the stop",
                allowed=f"{lengths.told(last)} or more",
                do="Measure the jig and its stations again, all from the stop.",
            )


def _check_methods(workshop: Workshop, table: Table) -> Iterator[Fault]:
    for joint_class in JointClass:
        name = joint_class.name.lower()
        code = table["defaults"][name]
        if code is None:
            continue
        fitting = [m.code for m in workshop.methods if joint_class in m.classes]
        if code not in fitting:
            near = nearest(code, fitting)
            known = workshop.method(code) is not None
            yield Fault(
                code="method-class" if known else "missing-method",
                field=f"defaults.{name}",
                found=f'"{code}"' + (f", which is not for {joint_class.value} joints" if known else ""),
                allowed=f"a method for {joint_class.value} joints: {', '.join(fitting)}",
                do=f'Did you mean "{near}"?' if near and not known else "Choose one of these.",
            )


def _check_fittings(workshop: Workshop, table: Table) -> Iterator[Fault]:
    for name, code, known in (
        ("runner", table["defaults"]["runner"], [r.code for r in workshop.runners]),
        ("hinge", table["defaults"]["hinge"], [h.code for h in workshop.hinges]),
        ("clothes rail", table["defaults"]["clothes_rail"], [r.code for r in workshop.clothes_rails]),
        ("foot", table["defaults"]["foot"], [f.code for f in workshop.feet]),
    ):
        if code is not None and code not in known:
            yield _missing(name, f"defaults.{name.replace(' ', '_')}", code, known)
    screws = [s.code for s in workshop.screws]
    for field, code in _screws_named(table):
        if code not in screws:
            yield _missing("screw", field, code, screws)


def _screws_named(table: Table) -> Iterator[tuple[str, str]]:
    """Yield where a kind of screw is named in the file, and which."""
    if table["defaults"]["front_screw"] is not None:
        yield "defaults.front_screw", table["defaults"]["front_screw"]
    for code, runner in table["runners"].items():
        yield path_text(("runners", code, "fixed_with")), runner["fixed_with"]
    for code, hinge in table["hinges"].items():
        yield path_text(("hinges", code, "cup_fixed_with")), hinge["cup_fixed_with"]
        yield path_text(("hinges", code, "plate_fixed_with")), hinge["plate_fixed_with"]
    for code, rail in table["clothes_rails"].items():
        yield path_text(("clothes_rails", code, "fixed_with")), rail["fixed_with"]
    for code, foot in table["feet"].items():
        yield path_text(("feet", code, "fixed_with")), foot["fixed_with"]


def _missing(name: str, field: str, code: str, known: Sequence[str]) -> Fault:
    near = nearest(code, known)
    return Fault(
        code=f"missing-{name.replace(' ', '-')}",
        field=field,
        found=f'"{code}"',
        allowed=f"the code of a {name}: {', '.join(known)}",
        do=f'Did you mean "{near}"?' if near else "Choose one of these, or describe yours.",
    )


def _check_times(table: Table) -> Iterator[Fault]:
    for act, time in table["times"].items():
        if not time["low"] <= time["usual"] <= time["high"]:
            yield Fault(
                code="range",
                field=path_text(("times", act, "usual")),
                found=f"low {time['low']:g}, usual {time['usual']:g}, high {time['high']:g}",
                allowed="low, usual and high in rising order",
                do="Put the three figures in order.",
            )


MISSPELT: Final = 0.9
"""How like another name (`difflib`'s ratio) one with a wrong letter is; "band saw" is less like "table saw"."""


def _check_acts(workshop: Workshop, table: Table, below: Workshop) -> Iterator[Fault]:
    """What a way takes must be among the times: it would count no minutes. And minutes that nothing takes would be lost
    without a word, where a name is misspelt.
    """
    known = [t.act for t in workshop.times]
    taken = {act for way in table["ways"].values() for act in (way["place_act"], way["cut_act"]) if act}
    for code, way in table["ways"].items():
        for key, act in (("place_act", way["place_act"]), ("cut_act", way["cut_act"])):
            if act and act not in known:
                near = nearest(act, known)
                yield Fault(
                    code="way-act",
                    field=path_text(("ways", code, key)),
                    found=f'"{act}"',
                    allowed="an act that `times` has",
                    do=(f'Did you mean "{near}"? If not, write' if near else "Write")
                    + f' low, usual and high minutes for it under [times."{act}"].',
                )
    packaged = [t.act for t in below.times]
    for act in table["times"]:
        meant = difflib.get_close_matches(act, packaged, n=1, cutoff=MISSPELT)
        if act not in packaged and act not in taken and meant:
            yield Fault(
                code="near-act",
                field=path_text(("times", act)),
                found=f'"{act}", which nothing takes',
                allowed=f'the name of an act as it stands, here "{meant[0]}", or one that is less like it',
                do=f'Write "{meant[0]}", where that is meant.',
            )


def _check_hinges(table: Table) -> Iterator[Fault]:
    for code, hinge in table["hinges"].items():
        heights = [s["up_to"] for s in hinge["per_door"]]
        if not heights or heights != sorted(set(heights)):
            yield Fault(
                code="range",
                field=path_text(("hinges", code, "per_door")),
                found="heights out of order" if heights else "no height",
                allowed="door heights from the lowest up, each once",
                do="Put them in order.",
            )


def _check_bushes(table: Table, lengths: LengthWriter) -> Iterator[Fault]:
    for number, bush in enumerate(table["bushes"]):
        if bush["bore"] is not None and bush["bore"] >= bush["diameter"]:
            yield Fault(
                code="range",
                field=f"bushes[{number}].bore",
                found=f"{lengths.bought(bush['bore'])} in a bush of {lengths.bought(bush['diameter'])}",
                allowed="less than its outside diameter",
                do="Measure both again.",
            )
