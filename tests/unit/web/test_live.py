"""What open pages are told: a page that takes nothing is let go, and takes up no more than some words."""

from __future__ import annotations

import asyncio

from storyrod.adapters.web._live import MOST_WAITING, Live


def test_a_page_that_never_takes_a_word_is_let_go_and_the_others_hear_on() -> None:
    async def tried() -> tuple[int, int, list[int]]:
        live, heard = Live(), []
        async with live.listening("job") as deaf, live.listening("job") as well:
            for n in range(3 * MOST_WAITING):
                live.tell("job", {"kind": "tick", "n": n})
                word = await well.get()
                heard.append(word["n"] if word is not None else -1)
            last = [deaf.get_nowait() for _ in range(deaf.qsize())]
            return len(last), live.count("job"), heard if last[-1] is None else []

    waiting, listening, heard = asyncio.run(tried())

    assert waiting == MOST_WAITING + 1  # the last says that it was too slow
    assert listening == 1
    assert heard == list(range(3 * MOST_WAITING))
