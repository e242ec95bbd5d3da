"""Every field that the job file's reference documents can be set in the page, or the page's docs say where."""

from __future__ import annotations

import json
import re
from html import unescape
from typing import Final

from tests.places import ROOT
from tests.unit.web.conftest import Asked

COLUMN: Final = "cases[0].inside.columns"

LOOKS: Final[tuple[tuple[dict[str, object], str], ...]] = (
    ({"units": "in"}, ""),
    ({"units": "mm", "cases[0].top": "rails"}, ""),
    ({"cases[0].back.kind": "grooved"}, ""),
    ({"cases[0].fronts.kind": "inset"}, "cases[0].inside"),
    ({"cases[0].fronts.kind": "overlay"}, f"{COLUMN}[0]"),
    ({f"{COLUMN}[1].holds": "door", f"{COLUMN}[1].hand_hold.kind": "scoop"}, f"{COLUMN}[1]"),
    ({f"{COLUMN}[1].hand_hold.kind": "slot", "cases[0].fronts.hand_hold.kind": "slot"}, f"{COLUMN}[1]"),
    ({f"{COLUMN}[1].loose_shelves": "", f"{COLUMN}[1].clothes_rail.kind": "rail 25"}, f"{COLUMN}[1]"),
    ({f"{COLUMN}[0].graduated.by": "step"}, f"{COLUMN}[0]"),
    ({f"{COLUMN}[0].graduated.by": "ratio"}, f"{COLUMN}[0]"),
    ({f"{COLUMN}[0].graduated.by": ""}, f"{COLUMN}[0].rows[0]"),
    ({}, f"{COLUMN}[0]"),
    ({"cases[0].worktop.front": 30}, ""),
    ({"cases[0].plinth.height": "", "cases[0].feet.height": 100}, ""),
    ({"cases[0].feet.height": ""}, ""),
    ({"cases[0].skirting.height": 95, "cases[0].skirting.depth": 18}, ""),
    ({"cases[0].skirting.height": "", "cases[0].fillers.left": 40}, ""),
    ({"cases[0].fillers": ""}, ""),
    ({"cases[0].hung.top_at": 2400, "cases[0].hung.wall": "timber studs"}, ""),
)
"""What is set, one after the other, and where the brief is looked at then: so that every field is asked for."""


def documented() -> set[str]:
    """Return every field of `docs/job-file.md` that is no table, such as `cases.plinth.height`."""
    found, table = set(), ""
    for line in (ROOT / "docs" / "job-file.md").read_text(encoding="utf-8").splitlines():
        head = re.match(r"## (?:`\[+([^\]]+)\]+`|At the top of the file)", line)
        if head:
            table = head[1] or ""
        row = re.match(r"\| `(\w+)` \| .* \| (.*) \| .*\|$", line)
        if row and "table" not in row[2]:
            found.add(plain(f"{table}.{row[1]}"))
    return found


def plain(path: str) -> str:
    """Return a path without its numbers and codes; all openings, and the hand holds of all fronts, are alike."""
    words = re.sub(r"\[\d+\]", "", path).replace("CODE", "*")
    words = re.sub(r"^(boards|edgings)\.[^.]+", r"\1.*", words)
    words = re.sub(r"\.(rows|columns)\b", "", words).replace("cases.fronts.hand_hold", "cases.inside.hand_hold")
    return words.strip(".")


def listed() -> dict[str, str]:
    """Return the fields of which `docs/page.md` says that they are not in the page, and where they are set."""
    text = (ROOT / "docs" / "page.md").read_text(encoding="utf-8").split("## Which fields are not in the page")[1]
    rows = re.findall(r"^\| `([^`]+)` \| (.+?) \|$", text.split("\n## ")[0], re.MULTILINE)
    return {plain(field): where for field, where in rows}


def offered(asked: Asked) -> set[str]:
    """Return every field that the brief and the joints stage offer."""
    job = asked.take("rehearsal-room")
    of_methods = of_joints(asked, job)
    asked.client.post(
        f"/job/{job}/change",
        json={"base": asked.version(job), "act": {"do": "add-edging", "code": "tape"}},
        headers={"accept": "application/json"},
    )
    found: set[str] = set()
    for settings, at in LOOKS:
        if settings:
            told = asked.change(job, *({"path": p, "value": v} for p, v in settings.items()))
            assert told.status_code == 200, told.text
        page = asked.client.get(f"/job/{job}/brief", params={"at": at}).text
        found |= {unescape(name) for name in re.findall(r'data-field="([^"]+)"', page)}
    return {plain(path) for path in found} | of_methods


def of_joints(asked: Asked, job: str) -> set[str]:
    page = asked.client.get(f"/job/{job}/joints").text
    words = {unescape(w) for w in re.findall(r"[?&](?:amp;)?of=([\w@-]+)", page)}
    joint = next(iter(re.findall(r"[?&](?:amp;)?joint=([^&#\"]+)", page)))
    found: set[str] = set()
    for of in [*words, *(f"{w}@A" for w in words if "@" not in w), joint]:
        told = asked.client.get(f"/job/{job}/joints?of={of}").text
        for sent in re.findall(r'data-choose="([^"]+)"', told):
            for change in json.loads(unescape(sent)):
                value = change["value"]
                tables = value if isinstance(value, list) else []
                found |= {plain(f"{change['path']}.{k}") for t in tables for k in t} or {plain(change["path"])}
    return found


def test_every_field_of_the_job_file_can_be_set_or_is_told_of(asked: Asked) -> None:
    fields, told, elsewhere = documented(), offered(asked), listed()

    assert len(fields) > 100
    assert not fields - told - set(elsewhere), "neither offered by the page nor told of in docs/page.md"
    assert not set(elsewhere) - fields, "told of in docs/page.md, and in no job file"
    assert not set(elsewhere) & told, "offered by the page, and told of as not offered"
    assert all(where.startswith(("in the file only", "*")) for where in elsewhere.values())
