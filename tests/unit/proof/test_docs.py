"""Every claim has its paragraph in the docs, and none is told there that is not checked."""

from __future__ import annotations

import re

from storyrod.model.proof import Claim
from tests.places import ROOT


def test_every_claim_has_its_paragraph() -> None:
    text = (ROOT / "docs" / "proof.md").read_text(encoding="utf-8")

    assert re.findall(r"^### (.+)$", text, re.MULTILINE) == [c.value for c in Claim]
