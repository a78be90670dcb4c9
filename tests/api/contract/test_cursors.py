"""Lists in pages: every row once, and a cursor fits its own list, filter and token only."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from api.contract.cursors import cursor_to, place_of
from api.contract.errors import CursorFaulty

KEY = b"k" * 64
PLACE = ["2026-03-02T12:00:00.000000Z", 7]


def pages(service, query):
    """Return the ids of a list, page by page."""
    found, cursor = [], None
    while True:
        more = f"&cursor={cursor}" if cursor else ""
        told = service.get(f"/v1/tokens?{query}{more}").json
        found.append([one["id"] for one in told["tokens"]])
        cursor = told["next"]
        if cursor is None:
            return found


def joined(found):
    return [one for page in found for one in page]


def test_pages_hold_every_row_once_in_the_order_of_the_whole(service):
    for _ in range(8):
        service.issue()
    whole = pages(service, "limit=200")
    assert len(whole) == 1
    assert len(whole[0]) == 12
    for limit in (1, 3, 10, 12):
        found = pages(service, f"limit={limit}")
        assert [len(page) for page in found[:-1]] == [limit] * (len(found) - 1)
        assert joined(found) == whole[0]


def test_a_filter_holds_on_every_page(service):
    for _ in range(4):
        service.issue()
    assert len(joined(pages(service, "limit=2&role=lender"))) == 5
    assert len(joined(pages(service, "limit=2&role=owner"))) == 1


def first_cursor(service, query="limit=1", **options):
    return service.get(f"/v1/tokens?{query}", **options).json["next"]


def test_a_cursor_of_another_filter_or_token_is_refused(service):
    _, strangers = service.account("Stranger")
    cursor = first_cursor(service)
    for query, token in (
        (f"limit=1&role=owner&cursor={cursor}", None),
        (f"limit=1&cursor={first_cursor(service, token=strangers['owner'])}", None),
        (f"limit=1&cursor={cursor}", strangers["owner"]),
        (f"limit=1&cursor={cursor[:-1]}", None),
        (f"limit=1&cursor={'B' if cursor[0] == 'A' else 'A'}{cursor[1:]}", None),
        ("limit=1&cursor=x", None),
    ):
        answer = service.get(f"/v1/tokens?{query}", token=token)
        assert (query, answer.status_code) == (query, 400)
        assert answer.json["errors"][0]["parameter"] == "cursor"
    assert service.get(f"/v1/tokens?limit=200&cursor={cursor}").status_code == 200


@pytest.mark.parametrize(
    "query",
    ["limit=0", "limit=201", "limit=x", "role=king", "cursor=", "x=1", "limit=1&limit=2"],
)
def test_a_parameter_that_is_wrong_is_named(embedded, query):
    answer = embedded.get(f"/v1/tokens?{query}")
    assert answer.status_code == 422
    assert answer.json["errors"][0]["parameter"] == query.partition("=")[0]


@given(st.lists(st.text(max_size=40) | st.integers(-(10**9), 10**9), max_size=4))
def test_a_cursor_leads_back_to_its_place(place):
    assert place_of(cursor_to(place, "/v1/tokens", {}, KEY), "/v1/tokens", {}, KEY) == place


@given(st.integers(0), st.integers(1, 255))
def test_a_cursor_with_any_one_letter_changed_is_refused(position, change):
    cursor = cursor_to(PLACE, "/v1/tokens", {"role": None}, KEY)
    letters = list(cursor)
    at = position % len(letters)
    letters[at] = chr((ord(letters[at]) + change) % 256)
    altered = "".join(letters)
    if altered != cursor:
        with pytest.raises(CursorFaulty):
            place_of(altered, "/v1/tokens", {"role": None}, KEY)


@pytest.mark.parametrize(
    ("path", "filters", "key"),
    [("/v1/other", {}, KEY), ("/v1/tokens", {"role": "owner"}, KEY), ("/v1/tokens", {}, b"other")],
)
def test_a_cursor_belongs_to_path_filter_and_key(path, filters, key):
    with pytest.raises(CursorFaulty):
        place_of(cursor_to(PLACE, "/v1/tokens", {}, KEY), path, filters, key)
