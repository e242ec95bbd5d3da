"""What stands in the cookies that a browser sends."""

from __future__ import annotations


def cookie_of(cookies: str, name: str) -> str:
    """Return the value of one cookie; nothing where there is none.

    A browser sends what every server of this machine gave it, whatever its port, and some of it may be written as no
    standard has it: a cookie that makes no sense takes no other away.
    """
    for part in cookies.split(";"):
        own, _, value = part.partition("=")
        if own.strip() == name:
            return value.strip()
    return ""
