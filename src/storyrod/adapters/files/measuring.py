"""Measuring a connector: the questions of a guided form, and the method that their answers write.

The answers are plain words by key: `r0.depth` is the depth of the first cut in the receiving board, `e0.` stands for
the entering one, `rules.`, `work.`, `class.` and `price.` for the rest. Every kind begins with the figures of an
ordinary one, to be written over; an existing method begins with its own.
"""

from __future__ import annotations

import copy
import tomllib
from collections.abc import Mapping
from typing import Any, Final

from storyrod.adapters.files._edit import Act, Change, edit_job
from storyrod.adapters.files._lines import path_of, path_text
from storyrod.adapters.files._open import data_text, parse_toml
from storyrod.adapters.files._tables import in_mm
from storyrod.adapters.files._told import unit_in
from storyrod.adapters.files._values import Value
from storyrod.adapters.files.measuring_steps import CLASSES, CUT, METHOD, PRICE, RULES, SIZES, WORK, Answers, cuts_in
from storyrod.adapters.files.measuring_words import KINDS, Kind
from storyrod.adapters.files.workshop_editing import group_of, packaged, set_item, spaced
from storyrod.adapters.files.workshop_words import Asked, FieldAsked, value_of, words_of
from storyrod.faults import Fault, JobError
from storyrod.measure.length import Unit
from storyrod.model.job import JointClass
from storyrod.model.method import CutPlace, Method

type Written = dict[str, Any]

USUAL_BOARD: Final = 18.0
"""The board for which a new method's first figures are taken."""

_FLAGS: Final = ("whole_line", "glue", "clamps", "undone", "held_by_screws")
_TEXTS: Final = ("name", "motion", "slide_travel", "shows", "step_mm", "along_mm", "needs", "note")
_SIZE: Final = ("low", "high", "connector_length", "enters", "width_slack", "stop_short")
_SIDES: Final = (("r", "receiving"), ("e", "entering"))


# Where the answers begin ----------------------------------------------------------------------------------------------


def known_methods(text: str) -> dict[str, Written]:
    """Return every method, the packaged and the file's own, as written and without `like`.

    Raises:
        JobError: the text is not TOML.
    """
    tables = parse_toml(text, name="the workshop file", what="workshop")
    below = _packaged_methods(unit_in(tables))
    own = {c: dict(t) for c, t in _table(tables.get("methods")).items() if isinstance(t, Mapping)}
    return {
        **{c: copy.deepcopy(t) for c, t in below.items()},
        **{c: _resolved(c, t, own, below) for c, t in own.items()},
    }


def own_methods(text: str) -> frozenset[str]:
    """Return the codes of the methods that are written in the file itself."""
    tables = parse_toml(text, name="the workshop file", what="workshop")
    return frozenset(_table(tables.get("methods")))


def _packaged_methods(unit: Unit) -> dict[str, Written]:
    raw: dict[str, Written] = tomllib.loads(data_text("methods.toml"))["methods"]
    return raw if unit is Unit.MM else {code: in_mm(Method, table) for code, table in raw.items()}


def _table(value: object) -> dict[str, Any]:
    return {str(k): v for k, v in value.items()} if isinstance(value, Mapping) else {}


def _resolved(
    code: str, written: Written, own: Mapping[str, Written], below: Mapping[str, Written], depth: int = 0
) -> Written:
    """Return a method with all that it takes over from the one it is like."""
    like = written.get("like")
    known = {**below, **{c: t for c, t in own.items() if c != code}}
    if not isinstance(like, str) or like not in known or depth > 10:
        return copy.deepcopy(written)
    base = _resolved(like, dict(known[like]), own, below, depth + 1)
    parts: Written = {
        part: {**_table(base.get(part)), **_table(written.get(part))}
        for part in ("rules", "work")
        if part in base or part in written
    }
    return {**base, **copy.deepcopy(written), **parts}


def first_answers(text: str, kind: Kind) -> dict[str, str]:
    """Return the answers with which a new connector of a kind begins: an ordinary one for the usual board."""
    base = _packaged_methods(unit_in(parse_toml(text, name="the workshop file", what="workshop")))[kind.like]
    sizes = [s for s in base["sizes"] if _mm(s["low"]) <= USUAL_BOARD < _mm(s["high"])]
    table = {**copy.deepcopy(base), "sizes": copy.deepcopy(sizes), "name": "", "note": ""}
    for used in table["sizes"][0].get("consumes", [])[:1]:
        used["item"] = ""
    return {"kind": kind.key, **_answers(table, 0)}


def answers_of(text: str, code: str, size: int = 0) -> dict[str, str]:
    """Return the answers that describe a method that there is, for one of its sizes.

    Raises:
        JobError: there is no such method or size.
    """
    table = known_methods(text).get(code)
    sizes = table.get("sizes") if table is not None else None
    if table is None or not isinstance(sizes, list) or not 0 <= size < len(sizes):
        raise JobError(_fault("code", f'no method "{code[:60]}" with such a size', "a method of this workshop"))
    found = {"kind": kind_of(table), "edit": code, "size": str(size), **_answers(table, size)}
    item = found.get("c0.item", "")
    price = _table(parse_toml(text, name="the workshop file", what="workshop").get("prices")).get(item)
    price = price if price is not None else packaged(Unit.MM)["prices"].get(item)
    for field in PRICE:
        found[f"price.{field.name}"] = words_of(field, _table(price).get(field.name))
    return found


def _mm(value: object) -> float:
    return float(str(value).removesuffix(" mm"))


def kind_of(table: Written) -> str:
    """Return the kind of connector that a method is, by what it cuts."""
    size = next(iter(table.get("sizes") or [{}]))
    first = next((c.get("kind") for c in [*size.get("receiving", []), *size.get("entering", [])]), "")
    if table.get("whole_line"):
        return "housing"
    if len(size.get("entering", [])) > 1:
        return "cam"
    outside = any(c.get("place") == CutPlace.OUTSIDE for c in size.get("receiving", []))
    return next((k.key for k in KINDS if k.cut == first and k.outside == outside), "dowel")


def _answers(table: Written, number: int) -> dict[str, str]:
    size = table["sizes"][number]
    found = {n: words_of(METHOD[n], table.get(n)) for n in (*_TEXTS, *_FLAGS)}
    for joint_class in JointClass:
        found[f"class.{joint_class.name.lower()}"] = "yes" if joint_class.value in table.get("classes", []) else ""
    found |= {f"rules.{n}": words_of(q, _table(table.get("rules")).get(n)) for n, q in RULES.items()}
    found |= {f"work.{n}": words_of(q, _table(table.get("work")).get(n)) for n, q in WORK.items()}
    found |= {n: words_of(SIZES[n], size.get(n)) for n in _SIZE}
    for letter, side in _SIDES:
        for i, cut in enumerate(size.get(side, [])):
            found |= {f"{letter}{i}.{n}": words_of(q, cut.get(n)) for n, q in CUT.items()}
    for i, used in enumerate(size.get("consumes", [])):
        found |= {f"c{i}.item": str(used.get("item", "")), f"c{i}.each": str(used.get("each", 1))}
    if not size.get("consumes"):
        found |= {"c0.item": "", "c0.each": "1"}
    return {k: v for k, v in found.items() if v} | {"c0.item": found["c0.item"]}


# What is written ------------------------------------------------------------------------------------------------------


def code_of(answers: Answers) -> str:
    """Return the code under which the method is kept: the one it has, else its name."""
    return answers.get("edit") or " ".join(answers.get("name", "").split())


def table_of(text: str, answers: Answers) -> Written:
    """Return the method that the answers describe, in full."""
    edit = answers.get("edit", "")
    if edit:
        table = known_methods(text).get(edit)
        if table is None:
            raise JobError(_fault("code", f'no method "{edit[:60]}"', "a method of this workshop"))
    else:
        unit = unit_in(parse_toml(text, name="the workshop file", what="workshop"))
        kind = next((k for k in KINDS if k.key == answers.get("kind")), KINDS[0])
        table = {"sizes": [{}], "name": "", "work": {}, **_start(_packaged_methods(unit)[kind.like])}
    number = int(answers["size"]) if answers.get("size", "").isdigit() else 0
    sizes = table.get("sizes")
    if not isinstance(sizes, list) or number >= len(sizes):
        raise JobError(_fault("sizes", "no such size", "a size of the method"))
    _fill_method(table, answers)
    sizes[number] = _size(_table(sizes[number]), answers)
    return table


def _start(base: Written) -> Written:
    return {"whole_line": True} if base.get("whole_line") else {"rules": {}}


def _fill_method(table: Written, answers: Answers) -> None:
    for name in _TEXTS:
        value = value_of(METHOD[name], answers.get(name, ""))
        table[name] = value if value is not None else [] if name == "needs" else ""
    for name in _FLAGS:
        table[name] = value_of(METHOD[name], answers.get(name, ""))
    travel = answers.get("r0.travel", "") if answers.get("r0.kind") == "keyhole" else answers.get("slide_travel", "")
    table["slide_travel"] = value_of(METHOD["slide_travel"], travel) or 0
    table["classes"] = [c.value for c, key in CLASSES.items() if answers.get(key)]
    for part, asked in (("rules", RULES), ("work", WORK)):
        if part == "rules" and answers.get("whole_line"):
            table.pop("rules", None)
            continue
        given = {n: value_of(q, answers.get(f"{part}.{n}", "")) for n, q in asked.items()}
        table[part] = {n: v for n, v in given.items() if v is not None and v is not False}
    for name in ("step_mm", "along_mm"):
        if table[name] == "":
            del table[name]


def _size(old: Written, answers: Answers) -> Written:
    size: Written = {}
    for name in _SIZE:
        value = value_of(SIZES[name], answers.get(name, ""))
        if value is not None:
            size[name] = value
    for letter, side in _SIDES:
        cuts = []
        for i, _, _ in cuts_in(answers, letter):
            given = {n: value_of(q, answers.get(f"{letter}{i}.{n}", "")) for n, q in CUT.items()}
            cuts.append({n: v for n, v in given.items() if v is not None and v is not False})
        if cuts:
            size[side] = cuts
    used = _used(old, answers)
    return {**size, "consumes": used} if used else size


def _used(old: Written, answers: Answers) -> list[Written]:
    if answers.get("whole_line"):
        return list(old.get("consumes", []))
    each = FieldAsked(name="each", title="", about="", allowed="", kind=Asked.NUMBER)
    found: list[Written] = []
    for i in range(8):
        item = answers.get(f"c{i}.item", "") or (code_of(answers) if i == 0 else "")
        if not item:
            continue
        more = [dict(u) for u in old.get("consumes", []) if isinstance(u, Mapping) and u.get("item") == item]
        count = value_of(each, answers.get(f"c{i}.each", ""))
        told = {**(more[0] if more else {}), "item": item}
        found.append(
            {**told, "each": count} if count not in {None, 1} else {k: v for k, v in told.items() if k != "each"}
        )
    return found


def written_text(text: str, answers: Answers) -> str:
    """Return the workshop file's text with the method of the answers in it, and the price of what it uses.

    Raises:
        JobError: it has no name, or another method has it.
    """
    code = code_of(answers)
    _check_code(text, code, answers)
    tables = parse_toml(text, name="the workshop file", what="workshop")
    own = _table(tables.get("methods"))
    wanted = _shortest(code, table_of(text, answers), own, _packaged_methods(unit_in(tables)))
    here = own.get(code)
    path = ("methods", code)
    if wanted == {"like": code}:  # as packaged
        return _with_price(without_method(text, code) if here is not None else text, answers)
    if isinstance(here, Mapping):
        changes = [Change(path=path_text((*path, n)), act=Act.DELETE) for n in here if n not in wanted]
        changes += [Change(path=path_text((*path, n)), value=v) for n, v in wanted.items() if here.get(n) != v]
    else:
        changes = [Change(path=path_text(path), value=wanted)]
    after = edit_job(text, changes) if changes else text
    return _with_price(spaced(text, after), answers)


def without_method(text: str, code: str) -> str:
    """Return the text without a method of its own: it is as packaged again, or gone.

    Raises:
        JobError: there is no such method in the file.
    """
    after = edit_job(text, [Change(path=path_text(("methods", code)), act=Act.DELETE)])
    left = parse_toml(after, name="the workshop file", what="workshop")
    if left.get("methods") == {}:
        after = edit_job(after, [Change(path="methods", act=Act.DELETE)])
    return spaced(text, after)


def _check_code(text: str, code: str, answers: Answers) -> None:
    if not code or len(code) > 60 or any(ord(c) < 32 for c in code):
        raise JobError(
            _fault("name", f'"{code[:40]}"' if code else "nothing", "a name of 1 to 60 characters in one line")
        )
    if not answers.get("edit") and code in known_methods(text):
        raise JobError(_fault("name", f'"{code}", which another method has', "a name of its own"))


def _fault(key: str, found: str, allowed: str) -> Fault:
    return Fault(code="method", field=key, found=found, allowed=allowed, do="Write it again.")


def _shortest(code: str, table: Written, own: Mapping[str, Any], below: Mapping[str, Written]) -> Written:
    """Return what must be written of a method: all of it, or what differs from the one that it is like."""
    told: Written
    here = _table(own.get(code))
    like = here.get("like") if here else code if code in below else ""
    known = {**below, **{c: t for c, t in own.items() if c != code}}
    if not isinstance(like, str) or like not in known:
        told = {n: v for n, v in table.items() if v not in (False, "", [], {}, 0) and not (n == "name" and v == code)}
        return {n: told[n] for n in (*METHOD, *told) if n in told}
    base = _resolved(like, dict(known[like]), {c: _table(t) for c, t in own.items() if c != code}, below)
    told = {"like": like}
    for name, value in table.items():
        if name in {"rules", "work"}:
            under = _table(base.get(name))
            differing = {n: v for n, v in _table(value).items() if under.get(n) != v}
            differing |= {n: False for n, v in under.items() if v is True and n not in value}
            told |= {name: differing} if differing else {}
        elif name != "like" and value != base.get(name, _EMPTY.get(name, "")):
            told[name] = value
    return told


_EMPTY: Final[dict[str, Value]] = {**dict.fromkeys(_FLAGS, False), "needs": [], "slide_travel": 0, "sizes": []}


def _with_price(text: str, answers: Answers) -> str:
    prices = group_of("prices")
    given = {a.name: value_of(a, answers.get(f"price.{a.name}", "")) for a in PRICE}
    item = answers.get("c0.item", "") or code_of(answers)
    if prices is None or given["price"] is None or answers.get("whole_line"):
        return text
    return set_item(text, prices, item, {n: v for n, v in given.items() if v is not None})


def key_of(fault: Fault, answers: Answers) -> str:
    """Return the key of the answer that a fault of the written file is about; nothing where it is about none."""
    path = path_of(fault.field)
    code = code_of(answers)
    if path[:1] == ("prices",):
        return f"price.{path[2]}" if len(path) > 2 else "price.price"
    if path[:2] != ("methods", code):
        return str(path[0]) if len(path) == 1 else ""
    rest = path[2:]
    if rest[:1] == ("sizes",):
        number = int(answers["size"]) if answers.get("size", "").isdigit() else 0
        return _size_key(rest[2:]) if rest[1:2] == (number,) else ""
    if rest[:1] == ("classes",):
        return CLASSES[JointClass.CORNER]
    return ".".join(str(k) for k in rest[:2] if not isinstance(k, int))


def _size_key(rest: tuple[str | int, ...]) -> str:
    letters = {"receiving": "r", "entering": "e", "consumes": "c"}
    if len(rest) >= 2 and rest[0] in letters:
        field = rest[2] if len(rest) > 2 else "diameter"
        return f"{letters[str(rest[0])]}{rest[1]}.{field}"
    return str(rest[0]) if rest else "low"
