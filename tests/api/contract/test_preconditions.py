"""Promise 2: no lost update; a change says of which version, and only one of two wins."""

from __future__ import annotations

from threading import Barrier, Thread

import pytest

ROUNDS = 20


@pytest.fixture
def token(service):
    """The path of a token to change."""
    return service.issue().headers["Location"]


def renamed(service, path, holder, version):
    headers = {} if version is None else {"If-Match": version}
    return service.send("PATCH", path, {"holder": holder}, headers=headers)


@pytest.mark.parametrize("version", [None, "", "*", " * "])
def test_a_change_that_names_no_version_is_refused(service, token, version):
    answer = renamed(service, token, "other", version)
    assert (answer.status_code, answer.json["code"]) == (428, "precondition-missing")
    assert answer.json["errors"][0]["header"] == "If-Match"
    assert service.get(token).json["holder"] == "bank"


@pytest.mark.parametrize("version", ['"2"', 'W/"1"', "1", '"01"', '"x"', '"0"', '"99999999999"'])
def test_a_change_of_another_version_is_refused(service, token, version):
    answer = renamed(service, token, "other", version)
    assert (answer.status_code, answer.json["code"]) == (412, "version-stale")
    assert service.get(token).json["holder"] == "bank"


def test_a_change_of_the_version_that_was_read_is_made_and_has_the_next_version(service, token):
    read = service.get(token)
    changed = renamed(service, token, "other", read.headers["ETag"])
    assert changed.status_code == 200
    assert (read.headers["ETag"], changed.headers["ETag"]) == ('"1"', '"2"')
    assert changed.json == service.get(token).json | {"holder": "other", "version": 2}
    assert renamed(service, token, "late", read.headers["ETag"]).status_code == 412


def test_one_of_several_versions_may_be_the_right_one(service, token):
    assert renamed(service, token, "other", '"7", "1"').status_code == 200


def test_who_has_the_version_already_is_not_sent_it_again(service, token):
    answer = service.get(token, headers={"If-None-Match": '"1"'})
    assert (answer.status_code, answer.data) == (304, b"")
    assert answer.headers["ETag"] == '"1"'
    assert service.get(token, headers={"If-None-Match": '"2"'}).status_code == 200


def compete(service, path, version):
    """Return what two changes of one version that start together are answered."""
    barrier, codes = Barrier(2), []

    def change(name):
        barrier.wait()
        codes.append(renamed(service, path, name, f'"{version}"').status_code)

    threads = [Thread(target=change, args=[f"{name} {version}"]) for name in ("one", "other")]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    return sorted(codes)


def test_of_two_competing_changes_exactly_one_wins_each_version(service, token):
    for version in range(1, ROUNDS + 1):
        assert compete(service, token, version) == [200, 412]
    assert service.get(token).json["version"] == ROUNDS + 1


def test_a_change_that_changes_nothing_keeps_the_version(service, token):
    assert renamed(service, token, "bank", '"1"').headers["ETag"] == '"1"'
