"""What a form of the workshop's page asks to be changed, as the file's next text."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Final

from storyrod.adapters.files.workshop_editing import Group, Sort, items_of, put_back, remove_item, set_item
from storyrod.adapters.files.workshop_words import Asked, value_of, words_of
from storyrod.adapters.web._workshops import OWN
from storyrod.faults import Fault, JobError

ACTS: Final = ("keep", "check", "add", "remove", "back")


@dataclass(frozen=True, slots=True, kw_only=True)
class Asking:
    """What was sent: which file, made on which version, what to do to which item, and the words of its fields.

    Attributes:
        one_field: the one field that is put back; the whole item, or the whole group, where it is empty.
    """

    file: str
    base: str
    act: str
    code: str
    one_field: str = ""
    words: Mapping[str, str] = field(default_factory=dict)


def asking_of(body: Mapping[str, Any]) -> Asking:
    """Return what a body asks for.

    Raises:
        JobError: it asks for something that is not known here.
    """
    back = str(body.get("back_field", ""))
    act = "back" if back else str(body.get("act", "keep"))
    if act not in ACTS:
        raise JobError(bad("act", f'"{act[:20]}"', ", ".join(ACTS)))
    return Asking(
        file=str(body.get("file") or OWN),
        base=str(body.get("base", "")),
        act=act,
        code=str(body.get("code", "")),
        one_field=back,
        words={k.removeprefix("f."): str(v) for k, v in body.items() if k.startswith("f.")},
    )


def text_after(text: str, group: Group, asked: Asking) -> str:
    """Return the file's text after what is asked.

    Raises:
        JobError: there is no such item, or its new name will not do.
    """
    if asked.act == "back":
        return put_back(text, group, asked.code or None, asked.one_field or None)
    if asked.act == "remove":
        return remove_item(text, group, asked.code)
    if asked.act == "add":
        return set_item(text, group, new_code(text, group, asked.code), _values(text, group, asked, is_new=True))
    single = group.sort in {Sort.FIGURES, Sort.TOP}
    if not single and all(i.code != asked.code for i in items_of(text, group)):
        raise JobError(bad("code", "an item that is not there", "an item of the list"))
    return set_item(text, group, asked.code, _values(text, group, asked))


def _values(text: str, group: Group, asked: Asking, *, is_new: bool = False) -> dict[str, Any]:
    """Return the fields whose words differ from what stands there, as they are written."""
    here = next((i.values for i in items_of(text, group) if i.code == asked.code), {}) if not is_new else {}
    found: dict[str, Any] = {}
    for one in group.fields:
        if one.name not in asked.words:
            continue
        typed = asked.words[one.name]
        value = value_of(one, typed)
        is_usual = one.kind is Asked.FLAG and one.name not in here and value is (one.usual == "yes")
        if not is_usual and typed != words_of(one, here.get(one.name)) and value != here.get(one.name):
            found[one.name] = value
    return found


def new_code(text: str, group: Group, code: str) -> str:
    """Return the code under which an item is added.

    Raises:
        JobError: it will not do as a key, or another item has it.
    """
    items = items_of(text, group)
    if group.sort is Sort.LISTED:
        return str(len(items))
    key = " ".join(code.split())
    if not key or len(key) > 60 or any(ord(c) < 32 for c in key):
        raise JobError(bad("code", f'"{key[:40]}"' if key else "nothing", "1 to 60 characters in one line"))
    if any(i.code == key for i in items):
        raise JobError(bad("code", f'"{key}", which is there already', "a name of its own"))
    return key


def bad(where: str, found: str, allowed: str) -> Fault:
    """Return a fault of what was sent."""
    return Fault(code="sent", field=where, found=found, allowed=allowed, do="Write it again.")
