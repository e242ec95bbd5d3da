"""`docs/methods.md` tells every field and every packaged figure, and its example can be read."""

from __future__ import annotations

import re
import tomllib

from storyrod.adapters.files.methods import methods_from, packaged_methods
from storyrod.adapters.files.methods_page import PAGE, page
from storyrod.measure.length import Unit
from tests.places import ROOT


def text() -> str:
    return (ROOT / PAGE).read_text(encoding="utf-8")


def test_the_made_part_is_up_to_date() -> None:
    """Run `python -m storyrod.adapters.files.methods_page` when it is not."""
    assert text() == page(text())


def test_every_packaged_method_has_its_paragraph_and_its_sources() -> None:
    for method in packaged_methods():
        part = re.split(rf"^### {re.escape(method.code)}$", text(), flags=re.MULTILINE)
        assert len(part) == 2, method.code
        own = part[1].split("\n### ")[0]
        if method.rules is not None or any(s.enters for s in method.sizes):
            assert "common practice, no source" in own or "Invented" in own


def test_the_example_is_a_workshop_files_methods() -> None:
    (example,) = re.findall(r"```toml\n(.*?)```", text(), re.DOTALL)
    read = methods_from(tomllib.loads(example)["methods"], Unit.MM, "methods")

    assert [m.code for m in read] == ["dowels at 128", "peg"]
    assert read[0].rules is not None
    assert (read[0].rules.end, read[0].rules.pitch, read[0].rules.end_min) == (37.0, 128.0, 25.0)
