"""The drawings of a page, by the tags that a PDF carries: what is tagged as a figure is not read as words or rules.

A drawing has words and strokes of its own at any place and size, so where they lie cannot tell them from the page's.
The tags can: a tagged PDF (ISO 32000-1, 14.7 and 14.8) names each piece of a page's marked content by a number, and its
structure tree says which of these make up a `Figure`.
"""

from __future__ import annotations

import ctypes
from collections.abc import Iterator

import pypdfium2
import pypdfium2.raw as pdfium

_FIGURE = "Figure"
_NONE = -1  # the number of content that has none, as heads and feet of pages
_LONGEST_TAG = 64  # letters of a tag's name that are read; the standard's own have 10 at the most


def figure_content(page: pypdfium2.PdfPage) -> frozenset[int]:
    """Return the numbers of a page's marked content that are drawings; none where the PDF has no tags."""
    tree = pdfium.FPDF_StructTree_GetForPage(page.raw)
    if not tree:
        return frozenset()
    try:
        tops = [
            pdfium.FPDF_StructTree_GetChildAtIndex(tree, n) for n in range(pdfium.FPDF_StructTree_CountChildren(tree))
        ]
        found = {number for top in tops for number in _figures_at(top)}
    finally:
        pdfium.FPDF_StructTree_Close(tree)
    return frozenset(found - {_NONE})


def _figures_at(element: object, *, within: bool = False) -> Iterator[int]:
    """Yield the content of each figure at or below an element; what lies deeper within a figure is part of it."""
    if not element:  # it is not on this page
        return
    within = within or _tag(element) == _FIGURE
    if within:
        for n in range(pdfium.FPDF_StructElement_GetMarkedContentIdCount(element)):
            yield pdfium.FPDF_StructElement_GetMarkedContentIdAtIndex(element, n)
    for n in range(pdfium.FPDF_StructElement_CountChildren(element)):
        yield from _figures_at(pdfium.FPDF_StructElement_GetChildAtIndex(element, n), within=within)


def _tag(element: object) -> str:
    words = (ctypes.c_ushort * _LONGEST_TAG)()
    length = pdfium.FPDF_StructElement_GetType(element, words, ctypes.sizeof(words))
    return bytes(words)[:length].decode("utf-16-le").rstrip("\0")
