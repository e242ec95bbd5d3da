"""The reference of all files, and their JSON Schemas for editors, made from the fields of the model.

    python -m storyrod.adapters.files.reference

writes `docs/job-file.md`, `docs/workshop-file.md`, `docs/as-built-file.md`, `docs/study-file.md`, `docs/batch-file.md`,
`docs/wish-file.md`, `docs/things.md`, the schemas in `src/storyrod/data/schemas/`, and `docs/glossary.md` from the
words that the page shows as help. A test fails as long as they are not up to date.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any, Final

from storyrod.adapters.files._open import data_text
from storyrod.adapters.files._read import allowed_in
from storyrod.adapters.files._reference_words import (
    AS_BUILT_WORDS,
    BATCH_WORDS,
    JOB_WORDS,
    STUDY_WORDS,
    THINGS_WORDS,
    WISH_WORDS,
    WORKSHOP_WORDS,
)
from storyrod.adapters.files._schema import (
    as_built_schema,
    batch_schema,
    job_schema,
    study_schema,
    wish_schema,
    workshop_schema,
)
from storyrod.adapters.files._tables import Section, about, sections
from storyrod.model.as_built import AsBuilt
from storyrod.model.batch import BatchFile
from storyrod.model.job import Job
from storyrod.model.study import Study
from storyrod.model.wish import Way, Wish
from storyrod.model.workshop import Workshop
from storyrod.model.written import Field, Length, Lengths, Number

_GLOSSARY_NOTE: Final = (
    "<!-- Made by `python -m storyrod.adapters.files.reference`: change `src/storyrod/data/glossary.md`. -->\n\n"
)


def files() -> dict[str, str]:
    """Return what each generated file must hold, by its path from the project's root."""
    return {
        "docs/glossary.md": _GLOSSARY_NOTE + data_text("glossary.md"),
        "docs/as-built-file.md": as_built_reference(),
        "docs/batch-file.md": batch_reference(),
        "docs/job-file.md": job_reference(),
        "docs/study-file.md": study_reference(),
        "docs/things.md": things_reference(),
        "docs/wish-file.md": wish_reference(),
        "docs/workshop-file.md": workshop_reference(),
        "src/storyrod/data/schemas/as-built.schema.json": _json(as_built_schema()),
        "src/storyrod/data/schemas/batch.schema.json": _json(batch_schema()),
        "src/storyrod/data/schemas/job.schema.json": _json(job_schema()),
        "src/storyrod/data/schemas/study.schema.json": _json(study_schema()),
        "src/storyrod/data/schemas/wish.schema.json": _json(wish_schema()),
        "src/storyrod/data/schemas/workshop.schema.json": _json(workshop_schema()),
    }


def _json(schema: dict[str, Any]) -> str:
    return json.dumps(schema, indent=2, ensure_ascii=False) + "\n"


# --- The pages --------------------------------------------------------------------------------------------------------


def job_reference() -> str:
    """Return the page that tells every field of a job file."""
    return _page(JOB_WORDS, Job)


def as_built_reference() -> str:
    """Return the page that tells every field of an as-built file."""
    return _page(AS_BUILT_WORDS, AsBuilt)


def workshop_reference() -> str:
    """Return the page that tells every field of a workshop file; methods have a page of their own."""
    return _page(WORKSHOP_WORDS, Workshop)


def study_reference() -> str:
    """Return the page that tells every field of a study file."""
    return _page(STUDY_WORDS, Study)


def batch_reference() -> str:
    """Return the page that tells every field of a batch file."""
    return _page(BATCH_WORDS, BatchFile)


def wish_reference() -> str:
    """Return the page that tells every field of a wish file."""
    return _page(WISH_WORDS, Wish)


def things_reference() -> str:
    """Return the page that lists the things that a wish may name, with the source of each."""
    from storyrod.adapters.files.wishing import catalogue, groups_of

    note = "<!-- Made by `python -m storyrod.adapters.files.reference`: change `src/storyrod/data/things.toml`. -->"
    parts = [note, THINGS_WORDS.strip()]
    for group, things in groups_of(list(catalogue().values())).items():
        rows = [
            f"| `{t.code}` | {t.name} | {t.width:g} | {t.height:g} | {t.depth:g} | {_kept(t.way, t.stack)} | {t.kg:g} "
            f"| {_cell(t.source)} |"
            for t in things
        ]
        head = ["| code | things | width | height | depth | kept | kg | source |", "|" + " --- |" * 8]
        parts.append("\n".join([f"## {group[0].upper()}{group[1:]}", "", *head, *rows]))
    return "\n\n".join(parts) + "\n"


def _kept(way: Way, stack: int) -> str:
    return way.value if stack == 1 else f"{way.value}, up to {stack}"


def _page(words: str, root: type) -> str:
    note = "<!-- Made by `python -m storyrod.adapters.files.reference`: change the model's fields, not this page. -->"
    told = "\n\n".join(_section(s) for s in sections(root))
    return f"{note}\n\n{words.strip()}\n\n{told}\n"


def _section(section: Section) -> str:
    rows = [
        f"| `{of.name}` | {_cell(of.told.words)} | {_cell(allowed_in(of))} | {_cell(_usual(of))} |"
        for of in section.fields.values()
    ]
    head = ["| field | meaning | allowed | usual |", "| --- | --- | --- | --- |"]
    return "\n".join([f"## {section.head}", "", about(section.table), "", *head, *rows])


def _cell(text: str) -> str:
    return text.replace("|", "\\|")


def _usual(of: Field) -> str:
    if of.needed:
        return "**needed**"
    value, rule = of.usual, of.rule
    if rule is None or value in (None, "", ()):
        return ""
    if isinstance(value, bool):
        return "`true`" if value else "`false`"
    if isinstance(value, str):
        return f'`"{value}"`'
    unit = "mm" if isinstance(rule, Length | Lengths) else rule.unit if isinstance(rule, Number) else ""
    if isinstance(value, tuple) and isinstance(value[0], str):
        return f"`[{', '.join(json.dumps(v) for v in value)}]`"
    if isinstance(value, tuple):
        return f"`[{', '.join(f'{v:g}' for v in value)}]` {unit}"
    return f"{value:g} {unit}".rstrip()


def main(root: Path) -> None:
    """Write the generated files below the project's root."""
    for name, text in files().items():
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")
        sys.stdout.write(f"{name}\n")


if __name__ == "__main__":
    main(Path(__file__).resolve().parents[4])
