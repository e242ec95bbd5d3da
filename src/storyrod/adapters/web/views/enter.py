"""Opening the page to the workshop's network, and the page that asks for the access code there."""

from __future__ import annotations

import asyncio
from typing import Any
from urllib.parse import quote

from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.web._desk import desk_of
from storyrod.adapters.web._guard import code_cookie
from storyrod.adapters.web._network import MARK, TOKEN_S, Network
from storyrod.adapters.web._render import body_of, page
from storyrod.faults import JobError


def came_over_network(request: Request) -> bool:
    """Return whether a request came in over the network, and not from this machine."""
    return bool(request.scope.get(MARK))


def network_shown(request: Request, job: str) -> dict[str, Any]:
    """Return what the bench shows of the way in: closed, or its addresses, code and the picture to scan."""
    network = desk_of(request).network
    over = came_over_network(request)
    shown: dict[str, Any] = {
        "open": network.is_open,
        "secure": network.certificate is not None,
        "trouble": request.query_params.get("trouble", "")[:300],
    }
    if network.is_open and not over:
        to = f"/job/{job}/bench" if job else "/"
        link = f"{network.addresses[0]}/enter#code={network.code}&to={quote(to, safe='')}"
        shown |= {"addresses": network.addresses, "code_words": code_words(network.code), "qr": picture(link)}
    return {"network": shown, "came_over_network": over}


def code_words(code: str) -> str:
    """Return a code as it is read out: in two halves."""
    return f"{code[: len(code) // 2]} {code[len(code) // 2 :]}"


def picture(link: str) -> Markup:
    """Return a link as a picture to scan: black on white in every theme, or no camera would read it."""
    import segno

    rows = [list(row) for row in segno.make(link, error="m", micro=False).matrix]
    side, rim = len(rows), 4
    path = "".join(
        f"M{x + rim} {y + rim}h1v1h-1z" for y, row in enumerate(rows) for x, module in enumerate(row) if module
    )
    whole = side + 2 * rim
    return Markup(  # noqa: S704  # figures only
        f'<svg viewBox="0 0 {whole} {whole}" role="img" shape-rendering="crispEdges">'
        f"<title>Picture to scan with a tablet: it leads to the bench of this job</title>"
        f'<rect width="{whole}" height="{whole}" fill="#fff"/><path d="{path}" fill="#000"/></svg>'
    )


async def change(request: Request) -> Response:
    """Open or close the way in; only on this machine itself."""
    if came_over_network(request):
        return PlainTextResponse("This is done on the computer that serves the page.", 403)
    body = await body_of(request)
    back = _local(str(body.get("back", "/")))
    network: Network = desk_of(request).network
    if body.get("do") == "close":
        await network.close()
    elif body.get("do") == "open":
        try:
            await network.open()
        except JobError as error:
            words = quote(" ".join(f"{f.found}. {f.do}" for f in error.faults))
            return RedirectResponse(f"{back}?trouble={words}#network", 303)
    else:
        return PlainTextResponse("Open or close: nothing else can be done here.", 422)
    return RedirectResponse(f"{back}#network", 303)


async def enter(request: Request) -> Response:
    """Ask for the code, and take it: typed into the form, or put there by the page from the link of the picture.

    That link has it behind its `#`, which no browser sends, and the page takes it out of the address at once.
    """
    network: Network = desk_of(request).network
    to = _local(request.query_params.get("to", "/"))
    if not came_over_network(request):
        return RedirectResponse("/", 303)
    typed = ""
    if request.method == "POST":
        body = await body_of(request)
        typed, to = str(body.get("code", "")), _local(str(body.get("to", "/")))
    if not typed:
        return _asking(request, to)
    caller = request.client.host if request.client else ""
    wait = network.lock_out.wait_s(caller)
    if wait > 0:
        words = f"Too many wrong codes from this device: try again in {_told(wait)}."
        answer = _asking(request, to, words, status=429)
        answer.headers["Retry-After"] = str(int(wait) + 1)
        return answer
    token = network.enter(typed[:100], caller)
    if token is None:
        await asyncio.sleep(0.3)
        return _asking(request, to, "That is not the code. It is on the screen of the computer.", status=401)
    answer = page(request, "enter.html", inside=True, to=to, wrong="")
    answer.headers["Refresh"] = f"0; url={to}"
    name = code_cookie(request.headers["host"])
    answer.set_cookie(
        name,
        token,
        max_age=int(TOKEN_S),
        httponly=True,
        samesite="strict",
        path="/",
        secure=request.url.scheme == "https",
    )
    return answer


def _asking(request: Request, to: str, wrong: str = "", *, status: int = 200) -> Response:
    return page(request, "enter.html", status=status, inside=False, to=to, wrong=wrong)


def _local(to: str) -> str:
    """Return an address of this page, and nothing that leads elsewhere."""
    plain = to.startswith("/") and not to.startswith("//") and to.isprintable() and "\\" not in to
    return quote(to, safe="/%?=&") if plain and len(to) < 300 else "/"


def _told(seconds: float) -> str:
    if seconds < 90:
        return f"{int(seconds) + 1} seconds"
    return f"{int(seconds / 60) + 1} minutes"


routes: tuple[BaseRoute, ...] = (
    Route("/enter", enter, methods=["GET", "POST"]),
    Route("/network", change, methods=["POST"]),
)
