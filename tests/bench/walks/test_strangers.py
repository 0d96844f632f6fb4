"""Who is nobody, or works here without owning the house, is refused at every address that an owner's page leads to."""

import re
from urllib.parse import urlsplit

from playwright.sync_api import APIResponse

from tests.bench.walks import house as houses
from tests.bench.walks.conftest import Come
from tests.bench.walks.hand import Hand

LINK = re.compile(r'(?:href|action)="(/[^"#?]*)')
# Addresses that differ by whose page it is are alike.
WHOSE = re.compile(r"(?<=/)(?:\d+(?:-\d+)*|[a-z]*\d[\w.]*)(?=/)")
FOR_ALL = ("/static/", "/sign-", "/boat/", "/favicon", "/route/", "/clock/")
BEGIN = ("/week/", "/start/steps/", "/start/sky/", "/ahead/again/new/")


def addresses(owner: Hand) -> list[str]:
    """Return an address of each sort that the owner's pages lead to, by links and by forms."""
    found: dict[str, str] = {}
    waiting = list(BEGIN)
    while waiting:
        address = waiting.pop()
        sort = WHOSE.sub("*", address)
        if sort in found or address == "/" or address.startswith(FOR_ALL):
            continue
        found[sort] = address
        answer = owner.page.context.request.get(address)
        if "html" in answer.headers.get("content-type", ""):
            waiting += LINK.findall(answer.text())
    return sorted(found.values())


def asked(hand: Hand, address: str, how: str) -> APIResponse:
    """Ask as a page of the house would, so that it is not the lack of a token that is refused."""
    cookies = {one["name"]: one["value"] for one in hand.page.context.cookies()}
    headers = {"X-CSRFToken": cookies["csrftoken"], "Referer": hand.page.url}
    return hand.page.context.request.fetch(
        address, method=how, headers=headers, max_redirects=0
    )


def refused(hand: Hand, address: str, how: str) -> None:
    """See that a hand that is signed in nowhere is sent to sign in, and any other is told no."""
    answer = asked(hand, address, how)
    if answer.status == 302:
        assert urlsplit(answer.headers["location"]).path == "/sign-in/", address
    assert answer.status in (302, 403, 405), f"{address} {answer.status}"
    assert "CSRF" not in answer.text(), address


def test_strangers_and_crew_are_refused_at_each_address(
    come: Come, visitor: Come, house: houses.House
) -> None:
    pages = addresses(come("orla"))
    assert len(pages) > 60
    nobody, crew = visitor(house), come("rook")
    nobody.open("/sign-in/")
    for hand in (nobody, crew):
        for address in pages:
            refused(hand, address, "GET")
            refused(hand, address, "POST")
    crew.open("/money/")
    crew.see("owner")
    nobody.open("/money/")
    nobody.see("Sign in")
