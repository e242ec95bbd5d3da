"""What a sheet for parts of one kind says of each part: what its letters come to, and what stands on its lines."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace

from storyrod_blind._chapter import Chapter
from storyrod_blind._paper import Paper
from storyrod_blind._sums import sum_in
from storyrod_blind._table import Row, Table

AXES = {"u": "datum end", "v": "face edge", "w": "face side"}
"""The heads of the columns of places."""
_LETTER = re.compile(r"\b[a-z]\b")
_DRAWER = re.compile(r"^drawer \d+")
_ITS = re.compile(r"\bits drawer\b")
_STANDS = re.compile(r"^(J\d+): (\S+) ((?:datum|far|face) (?:end|edge|side|face))$")


@dataclass(slots=True)
class Kind:
    """What the tables of a sheet for parts of one kind say of each part.

    Attributes:
        letters: what each letter comes to on a part.
        mates: by part and the name of a line, the joint, the panel that stands there, and by which of its surfaces.
        sums: how length and width of a part come about.
    """

    letters: dict[str, dict[str, str]] = field(default_factory=dict)
    mates: dict[tuple[str, str], tuple[str, str, str]] = field(default_factory=dict)
    sums: dict[str, tuple[str, str]] = field(default_factory=dict)

    @property
    def is_told(self) -> bool:
        """Whether the sheet is one for parts of one kind."""
        return bool(self.letters)

    def spelled(self, paper: Paper, panel: str, row: Row) -> Row:
        """Return a row of marks as it is on one part: letters as figures, and its own drawer named."""
        drawer = _DRAWER.match(paper.panels[panel].name) if panel in paper.panels else None
        cells = [
            self.figures(panel, cell) if head in AXES.values() else _ITS.sub(drawer[0] if drawer else "", cell)
            for head, cell in zip(row.heads, row.cells, strict=True)
        ]
        return replace(row, cells=tuple(cells))

    def with_joint(self, panel: str, cell: str) -> str:
        """Return mates with their joint: where none is told, that of the line on which their panel stands."""
        mate = cell.rpartition(".")[0]
        found = [joint for (part, _), (joint, other, _) in self.mates.items() if (part, other) == (panel, mate)]
        return cell if ": " in cell or not found else f"{found[0]}: {cell}"

    def figures(self, panel: str, words: str) -> str:
        """Return places with each letter as the part's figure."""
        own = self.letters.get(panel, {})
        return _LETTER.sub(lambda found: own.get(found[0], found[0]), words)


def read_kind(chapter: Chapter) -> Kind:
    """Return what a sheet says of each part by letters; nothing where it has none."""
    kind = Kind()
    for table in chapter.tables:
        if table.has("part") and not is_mates_of_kind(table):
            for row in table.rows:
                for panel in row["part"].split(", "):
                    own = {h: c for h, c in zip(row.heads, row.cells, strict=True) if _LETTER.fullmatch(h)}
                    kind.letters.setdefault(panel, {}).update(own)
                    told = [
                        row[f"{name.lower()} comes of"] or sum_in(chapter.text, name) for name in ("Length", "Width")
                    ]
                    kind.sums.setdefault(panel, (told[0], told[1]))
        elif is_mates_of_kind(table):
            for row in table.rows:
                for name, cell in zip(row.heads[1:], row.cells[1:], strict=True):
                    told_of = _STANDS.match(cell)
                    if told_of:
                        kind.mates[row["part"], name] = (told_of[1], told_of[2], told_of[3])
    return kind


def is_mates_of_kind(table: Table) -> bool:
    """Whether a table says, part by part, what stands on its lines and the mates of its marks."""
    return table.has("part") and table.title.startswith("What stands")
