"""Prices that are not known: told in the headline, filled in beside it, written where they belong, at once."""

from __future__ import annotations

import re
from html import unescape

from storyrod.adapters.files.editing import parsed
from tests.unit.web.conftest import AS_SCRIPT, Asked


def seen(asked: Asked, address: str) -> str:
    return unescape(" ".join(re.sub(r"<[^>]+>", " ", asked.client.get(address).text).split()))


def filled(asked: Asked, job: str, back: str = "overview", **prices: str) -> object:
    return asked.client.post(f"/job/{job}/prices", data={"back": back, **prices}, follow_redirects=False)


def test_a_sum_says_what_it_leaves_out_and_asks_for_it_right_there(asked: Asked) -> None:
    job = asked.take("first-box")
    told = seen(asked, f"/job/{job}/overview?all=1")
    assert "To pay: at least 28.52; 1 sheet has no price." in told
    for stage in ("overview?all=1", "costs", "print"):
        page = asked.client.get(f"/job/{job}/{stage}").text
        assert re.findall(r'name="(price\.[^"]+)"', page) == [
            "price.boards.birch18.sheets",
            "price.money.rate_per_hour",
        ], stage
    assert "at least 3.13" in seen(asked, f"/job/{job}/costs")


def test_what_is_filled_in_is_written_where_it_belongs_and_counts_at_once(asked: Asked) -> None:
    """A sheet at 62.50 goes into the job; 30 an hour into a workshop file, which is made and named by the job."""
    job = asked.take("first-box")
    prices = {"price.boards.birch18.sheets": "62,50", "price.money.rate_per_hour": "30"}
    answer = filled(asked, job, "costs", **prices)

    assert answer.headers["location"] == f"/job/{job}/costs"  # type: ignore[attr-defined]
    written = parsed(asked.job_file(job).read_text(encoding="utf-8"))
    assert written["boards"]["birch18"]["sheets"] == [{"length": "2440 mm", "width": "1220 mm", "price": 62.5}]
    assert written["workshop"] == "workshop.toml"
    own = parsed((asked.settings.jobs / "workshop.toml").read_text(encoding="utf-8"))
    assert own["money"] == {"rate_per_hour": 30}
    costs = seen(asked, f"/job/{job}/costs")
    assert "at least" not in costs
    assert "have no price" not in seen(asked, f"/job/{job}/overview?all=1")
    assert "To pay: 91.02." in seen(asked, f"/job/{job}/overview?all=1"), "28.52 and the sheet"
    assert asked.client.get(f"/job/{job}/files/quotation.pdf").status_code == 200


def test_what_is_no_amount_is_refused_and_nothing_is_written(asked: Asked) -> None:
    job = asked.take("first-box")
    before = asked.job_file(job).read_text(encoding="utf-8")
    answer = filled(asked, job, **{"price.boards.birch18.sheets": "a lot", "price.money.rate_per_hour": "30"})

    assert answer.status_code == 422  # type: ignore[attr-defined]
    assert asked.job_file(job).read_text(encoding="utf-8") == before
    assert not (asked.settings.jobs / "workshop.toml").exists()


def test_a_job_that_plans_with_the_packaged_workshop_says_so_and_takes_mine_by_one_tap(asked: Asked) -> None:
    job = asked.take("first-box")
    words = "This job plans with the built-in workshop, not with yours"
    assert words not in seen(asked, f"/job/{job}/overview?all=1"), "there is none of mine"
    (asked.settings.jobs / "workshop.toml").write_text("format = 1\n[money]\nrate_per_hour = 30\n", encoding="utf-8")

    assert words in seen(asked, f"/job/{job}/overview?all=1")
    assert words in seen(asked, f"/job/{job}/costs")
    answer = asked.client.post("/workshop/use", data={"job": job, "back": "costs"}, follow_redirects=False)
    assert answer.headers["location"] == f"/job/{job}/costs"
    assert words not in seen(asked, f"/job/{job}/costs")
    assert "; 1 sheet has no price." in seen(asked, f"/job/{job}/overview?all=1")


def test_a_rate_changed_in_the_workshop_counts_in_the_open_job_at_once(asked: Asked) -> None:
    job = asked.take("first-box")
    (asked.settings.jobs / "workshop.toml").write_text("format = 1\n[money]\nrate_per_hour = 30\n", encoding="utf-8")
    asked.change(job, {"path": "workshop", "value": "workshop.toml"})
    before = seen(asked, f"/job/{job}/costs")
    version = asked.client.get("/workshop/version", headers=AS_SCRIPT).json()["version"]
    body = {"base": version, "act": "keep", "code": "", "f.rate_per_hour": "36"}
    assert asked.client.post("/workshop/money", json=body, headers=AS_SCRIPT).status_code == 200

    assert "30.00 an hour" in before
    assert "36.00 an hour" in seen(asked, f"/job/{job}/costs")


def test_percentages_are_typed_as_such(asked: Asked) -> None:
    """15 in the field of the margin means 15 %, is written so, and shown so."""
    version = asked.client.get("/workshop/version", headers=AS_SCRIPT).json()["version"]
    body = {"base": version, "act": "keep", "code": "", "f.margin_share": "15"}
    assert asked.client.post("/workshop/money", json=body, headers=AS_SCRIPT).status_code == 200
    own = parsed((asked.settings.jobs / "workshop.toml").read_text(encoding="utf-8"))
    assert own["money"] == {"margin_share": "15 %"}
    assert 'name="f.margin_share" value="15"' in asked.client.get("/workshop/money").text


def test_methods_are_compared_by_final_figures_with_a_picture_and_what_is_not_known_once(asked: Asked) -> None:
    job = asked.take("first-box")
    first = asked.client.get(f"/job/{job}/joints?of=together").text
    options = first.split('class="options-table"')[1].split("</table>")[0]
    assert options.count("being worked out") > 5
    assert "± " not in options.split("being worked out", 1)[1], "no step of a method before it is worked out"
    assert options.count('class="method-picture"') > 5
    assert first.count("What a joint carries is not known of ") == 1


def test_an_inch_job_is_asked_for_the_price_of_the_sheet_it_is_sold_as(asked: Asked) -> None:
    assert "One of 2440 × 1220 mm or 96 × 48 in; may wait." in asked.client.get("/new").text
    sent = {"holds": "open", "units": "in", "width": "24", "height": "30", "depth": "16", "thickness": "3/4"}
    sent |= {"title": "By inches", "price": "62.50"}
    answer = asked.client.post("/new", data=sent, follow_redirects=False)

    written = parsed(asked.job_file(answer.headers["location"].split("/")[2]).read_text(encoding="utf-8"))
    assert written["boards"]["board"]["sheets"] == [{"length": "96 in", "width": "48 in", "price": 62.5}]
    assert 'name="price" value="62.5"' in asked.client.get("/new").text, "the next job begins with it"


def test_currency_rate_and_the_price_of_a_sheet_are_asked_once_at_the_first_job(asked: Asked) -> None:
    page = asked.client.get("/new").text
    assert all(f'name="{name}"' in page for name in ("price", "rate", "currency", "measured"))
    wrong = asked.client.post("/new", data={"holds": "open", "rate": "a lot"})
    assert wrong.status_code == 422
    assert "Found a lot; allowed: an amount such as 62.50." in wrong.text
    sent = {"holds": "open", "title": "First", "measured": "17.8", "price": "62,50", "rate": "30", "currency": "EUR"}
    answer = asked.client.post("/new", data=sent, follow_redirects=False)
    job = answer.headers["location"].split("/")[2]

    written = parsed(asked.job_file(job).read_text(encoding="utf-8"))
    assert written["workshop"] == "workshop.toml"
    assert written["boards"]["board"]["sheets"] == [{"length": "2440 mm", "width": "1220 mm", "price": 62.5}]
    own = parsed((asked.settings.jobs / "workshop.toml").read_text(encoding="utf-8"))
    assert own["money"] == {"rate_per_hour": 30, "currency": "EUR"}
    assert 'name="rate"' not in asked.client.get("/new").text, "asked once"
    second = asked.client.post("/new", data={"holds": "open", "title": "Second"}, follow_redirects=False)
    told = parsed(asked.job_file(second.headers["location"].split("/")[2]).read_text(encoding="utf-8"))
    assert told["workshop"] == "workshop.toml"
