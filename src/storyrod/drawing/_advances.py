"""Advance widths of B612 in thousandths of its em, read from the font files in `data/fonts`.

For each width the characters that have it; checked against the files by a test. Drawing measures its words
with them, so that it reads no file.
"""

from typing import Final

_BY_WIDTH: Final[dict[bool, dict[int, str]]] = {
    False: {
        0: "\xad",
        200: "'|¦",
        250: ",;·′",
        300: ".:Iij°²³¹ÌÍÎÏìíîï",
        350: " !l\xa0¡‘’‚",
        400: '"frtªº″',
        450: "()-J[sš",
        500: "=]cz¢§“”„↑↓≈≠",
        521: "ç",
        525: "a",
        550: "$*/?FLS\\_`ekvxy£¨©®¯´¸¿àáâãäåèéêë÷ýÿŠ–†−",
        600: "+CEKPTYZbdghnopqu}¤¥±ÈÉÊËÝñòóôõöøùúûüþŸ•",
        649: "{",
        650: "0123456789<>ABDGRVXµÀÁÂÃÄÅÇÐÞßð≤≥",
        700: "&HU«¶»ÙÚÛÜ€",
        750: "N^w~¼½¾Ñ…⅓⅔⅛⅜⅝⅞←→",
        800: "OQÒÓÔÕÖ×Ø",
        850: "#¬Ææ™",
        900: "%Mm↔",
        950: "Wœ",
        1000: "@Œ",
        1050: "—",
        1300: "‰",
    },
    True: {
        0: "\xad",
        200: "'|¦",
        250: ",;·′",
        300: ".:Iij°²³¹ÌÍÎÏìíîï",
        350: " !l\xa0¡‘’‚",
        400: '"frtªº″',
        450: "()-J[sš",
        500: "=]cz¢§“”„↑↓≈≠",
        521: "ç",
        525: "a",
        550: "$*/?FLS\\_`ekvxy£¨©®¯´¸¿àáâãäåèéêë÷ýÿŠ–†−",
        600: "+CEKPTYZbdghnopqu}¤¥±ÈÉÊËÝñòóôõöøùúûüþŸ•",
        649: "{",
        650: "0123456789<>ABDGRVXµÀÁÂÃÄÅÇÐÞßð≤≥",
        700: "&HU«¶»ÙÚÛÜ€",
        750: "N^w~¼½¾Ñ…⅓⅔⅛⅜⅝⅞←→",
        800: "OQÒÓÔÕÖ×Ø",
        850: "#¬Ææ™",
        900: "%Mm↔",
        950: "Wœ",
        1000: "@Œ",
        1050: "—",
        1300: "‰",
    },
}

ADVANCES: Final[dict[bool, dict[str, int]]] = {
    bold: {letter: width for width, letters in widths.items() for letter in letters}
    for bold, widths in _BY_WIDTH.items()
}
"""Thousandths of the em for each character, for the regular (False) and the bold (True) weight."""
