"""The tables of `docs/methods.md`, made from the packaged methods and from the classes that read them.

    python -m storyrod.adapters.files.methods_page

writes the page anew below its marker. A test fails as long as it is not up to date.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from pathlib import Path

from storyrod.adapters.files._open import data_text
from storyrod.adapters.files._tables import table_of
from storyrod.adapters.files.methods import packaged_methods
from storyrod.measure.length import show_mm
from storyrod.model.method import Consumed, Cut, Method, SizeForBoard, StationRules, Work

MARKER = (
    "<!-- From here on made by `python -m storyrod.adapters.files.methods_page`: change the data, not this page. -->"
)
PAGE = "docs/methods.md"

_TABLES: tuple[tuple[str, type], ...] = (
    ("`[methods.CODE]`", Method),
    ("`[methods.CODE.rules]`", StationRules),
    ("`[[methods.CODE.sizes]]`", SizeForBoard),
    ("`receiving` and `entering`, lists of cuts", Cut),
    ("`consumes`, a list", Consumed),
    ("`[methods.CODE.work]`", Work),
)


def made_part() -> str:
    """Return all of the page below its marker."""
    return "\n".join([MARKER, "", *_fields(), *_methods()]).rstrip() + "\n"


def page(before: str) -> str:
    """Return the page anew: what stood above its marker, and all below it made again."""
    return before.split(MARKER, maxsplit=1)[0] + made_part()


def _fields() -> Iterator[str]:
    yield from ("## The fields", "")
    for head, table in _TABLES:
        yield from (f"### {head}", "", "| field | meaning | allowed |", "| --- | --- | --- |")
        for name, of in table_of(table).items():
            allowed = of.rule.allowed if of.rule is not None else "see below"
            yield f"| `{name}` | {of.told.words} | {allowed.replace('|', chr(92) + '|')} |"
        yield ""


def _methods() -> Iterator[str]:
    sources = _sources()
    yield from ("## The packaged methods", "")
    for method in packaged_methods():
        yield from (f"### {method.code}", "")
        yield from _told(method)
        yield from (f"- {line}" for line in sources.get(method.code, ()))
        yield ""
        if any(s.receiving or s.entering or s.enters for s in method.sizes):
            yield from ("| board (mm) | receiving panel | entering panel | uses up |", "| --- | --- | --- | --- |")
            yield from (_row(size) for size in method.sizes)
            yield ""


def _told(method: Method) -> Iterator[str]:
    if method.note:
        yield from (method.note, "")
    yield f"- Holds: {', '.join(c.value for c in method.classes)} joints. Goes home: {method.motion.value}."
    ways = [word for word, true in (("glue", method.glue), ("clamps", method.clamps)) if true]
    undone = "can be undone" if method.undone else "cannot be undone"
    yield f"- Wants {' and '.join(ways) or 'neither glue nor clamps'}; {undone}. Shows: {method.shows or 'nothing'}."
    if method.rules is not None:
        r = method.rules
        single = ", or one in the middle" if r.single else ""
        yield (
            f"- Stations: `end` {show_mm(r.end)}, `end_min` {show_mm(r.end_min)}, `pitch` {show_mm(r.pitch)}, "
            f"`gap_min` {show_mm(r.gap_min)}, at least {r.least}{single}."
        )
    w = method.work
    stations = f"{w.per_station_receiving_min + w.per_station_entering_min + w.fit_min:g} min a connector, "
    yield (
        f"- Minutes: {w.setup_min:g} to set up, {stations if method.rules else ''}{w.per_joint_min:g} a joint, "
        f"{w.close_min:g} to close it. Usual error: {method.step_mm:g} mm across, {method.along_mm:g} mm along."
    )


def _row(size: SizeForBoard) -> str:
    receiving = [_cut(c) for c in size.receiving]
    if size.enters:
        short = f", stops {show_mm(size.stop_short)} short" if size.stop_short else ""
        receiving.insert(0, f"{show_mm(size.enters)} deep{short}")
    uses = ", ".join(c.item for c in size.consumes) or "nothing"
    entering = "; ".join(_cut(c) for c in size.entering) or "nothing cut"
    board = f"{show_mm(size.low)} to under {show_mm(size.high)}"
    return f"| {board} | {'; '.join(receiving) or 'nothing cut'} | {entering} | {uses} |"


def _cut(cut: Cut) -> str:
    figures = [
        f"{label} {show_mm(value)}".strip()
        for label, value in (
            ("", cut.diameter),
            ("disc", cut.disc),
            ("length", cut.length),
            ("width", cut.width),
            ("undercut", cut.undercut_width),
            ("lip", cut.lip),
            ("depth", cut.depth),
            ("countersink", cut.countersink),
            ("travel", cut.travel),
            ("inset", cut.inset),
            ("along", cut.along or None),
        )
        if value is not None
    ]
    figures += [f"at {cut.angle_deg:g} degrees"] if cut.angle_deg else []
    figures += ["through"] if cut.through else []
    where = "" if cut.place.value == "joint" else f" ({cut.place.value})"
    return f"{cut.name or cut.kind.value}{where} {', '.join(figures)}"


def _sources() -> dict[str, list[str]]:
    """Return the remarks on sources that stand beside the figures of each method in its file, each a whole sentence."""
    found: dict[str, list[str]] = {}
    code, lines = "", list[str]()
    for line in [*data_text("methods.toml").splitlines(), ""]:
        head = re.fullmatch(r'\[methods\.(?:"([^"]+)"|([\w-]+))\]', line)
        if head:
            code = head[1] or head[2]
        if code and line.startswith("# ") and not line.startswith("# ---"):
            lines.append(line[2:])
        elif lines:
            found.setdefault(code, []).append(" ".join(lines))
            lines = []
    return found


def main(root: Path) -> None:
    """Write the page anew below the project's root."""
    path = root / PAGE
    path.write_text(page(path.read_text(encoding="utf-8")), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main(Path(sys.argv[1] if len(sys.argv) > 1 else "."))
