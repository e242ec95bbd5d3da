"""What a spreadsheet takes for a formula in a cell of a CSV file, and would work out, or send somewhere."""

from __future__ import annotations

import re
from typing import Final

_BEGINS: Final = r"(?=[ '\x00-\x08\x0b\x0c]*[=+\-@\uff0b\uff0d\uff1d\uff20])"

FORMULA: Final = re.compile(r"(^|[;\t\r\n])" + _BEGINS)
"""Where a cell needs an apostrophe: it begins like a formula, also where some spreadsheets part cells."""

MARKED: Final = re.compile(r"(^|[;\t\r\n])'" + _BEGINS)
"""The apostrophes that were put there."""
