"""The date on what is printed."""

from __future__ import annotations


def today() -> str:
    """Return the date printed in the packet's head; the one the surroundings give for repeatable builds, if any."""
    import datetime as dt
    import os

    given = os.environ.get("SOURCE_DATE_EPOCH")
    zone = dt.UTC
    day = dt.datetime.fromtimestamp(int(given), zone) if given else dt.datetime.now(zone).astimezone()
    return f"{day.day} {day:%B %Y}"
