"""What stands in the cookies that a browser sends."""

from __future__ import annotations

from http.cookies import CookieError, SimpleCookie


def cookie_of(cookies: str, name: str) -> str:
    """Return the value of one cookie; nothing where there is none, or no sense in them."""
    try:
        held = SimpleCookie(cookies).get(name)
    except CookieError:
        return ""
    return held.value if held is not None else ""
