"""What a hostile or broken client sends is refused quickly, in one sentence; nothing of it is stored."""

import json
import random
import time
import tracemalloc
import zlib
from collections.abc import Iterator
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient

from easelside.app import create_app
from easelside.clock import FakeClock
from easelside.logbook.book import Logbook
from easelside.settings import Settings
from easelside.web.client import assets_of, serve_client

HOME = {"Host": "127.0.0.1:8765"}
MIB = 1024 * 1024
EXCHANGE, SOAKS = "/api/exchange", "/api/soaks"
SECONDS = 10.0  # of work: what grows by its square takes minutes, and a busy machine does not count
SEED = 20261125
GENERATED = 600  # 5,000 by hand


@pytest.fixture(scope="module")
def logbook(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Logbook]:
    book = Logbook.open(tmp_path_factory.mktemp("workshop"), FakeClock(), durable=False)
    yield book
    book.close()


@pytest.fixture(scope="module")
def browser(logbook: Logbook) -> FlaskClient:
    return create_app(Settings(":unused:"), FakeClock(), logbook).test_client()


HOSTILE = {
    "nothing at all": b"",
    "a blank": b"  \n ",
    "half an object": b'{"soak_s": 18',
    "two values": b"{} {}",
    "a trailing comma": b'{"soak_s": 1,}',
    "a comment": b'{"soak_s": 1 /* warm */}',
    "single quotes": b"{'soak_s': 1}",
    "a list": b"[]",
    "a word": b'"soak"',
    "a null": b"null",
    "a number": b"7",
    "not a number": b'{"soak_s": NaN}',
    "endless": b'{"soak_s": -Infinity}',
    "a number beyond all doubles": b'{"soak_s": 1e999}',
    "a whole number of 5,000 digits": b'{"pieces": ' + b"9" * 5000 + b"}",
    "a name that stands twice": b'{"soak_s": 1, "soak_s": 2}',
    "half a surrogate pair": b'{"note": "\\ud83d"}',
    "a control character in a text": b'{"note": "a\x01b"}',
    "UTF-16": '{"note": "é"}'.encode("utf-16"),
    "Latin-1": '{"note": "é"}'.encode("latin-1"),
    "a byte order mark": b"\xef\xbb\xbf{}",
    "100,000 lists in each other": b"[" * 100_000,
    "100,000 objects in each other": b'{"a":' * 100_000 + b"1" + b"}" * 100_000,
    "lists and objects in each other": b'[{"a":' * 50_000,
    "brackets behind an open string": b'{"note": "' + b'\\"[' * 100_000,
    "100,000 unknown names": json.dumps({f"n{i}": i for i in range(75_000)}).encode(),
    "100,000 wrong items": b'{"batches": [' + b"1," * 99_999 + b"1]}",
    "a kilometre of text": json.dumps({"note": "x" * 900_000}).encode(),
    "wrong types throughout": b'{"soak_s": "1800", "pieces": [], "put_in": 7, "water": {}, "note": true}',
    "truths as numbers": b'{"pieces": true}',
}


def check_refused(answer, took: float) -> None:  # type: ignore[no-untyped-def]
    assert 400 <= answer.status_code < 500, answer.get_data(as_text=True)[:300]
    assert answer.content_type == "application/problem+json"
    assert len(answer.data) < 8_000
    said = answer.json
    assert said["status"] == answer.status_code
    assert 10 < len(said["detail"]) < 500
    assert "Traceback" not in answer.text
    assert took < SECONDS


@pytest.mark.parametrize("where", [SOAKS, EXCHANGE])
@pytest.mark.parametrize("what", HOSTILE)
def test_a_broken_body_is_refused_and_nothing_stored(
    browser: FlaskClient, logbook: Logbook, what: str, where: str
) -> None:
    before, began = logbook.end(), time.process_time()
    answer = browser.post(where, headers=HOME, data=HOSTILE[what], content_type="application/json")
    check_refused(answer, time.process_time() - began)
    assert logbook.end() == before


@pytest.mark.parametrize("where", [SOAKS, EXCHANGE])
def test_a_body_above_one_mib_is_refused_by_its_length(browser: FlaskClient, where: str) -> None:
    answer = browser.post(where, headers=HOME, data=b" " * (MIB + 1), content_type="application/json")
    assert (answer.status_code, answer.json["code"]) == (413, "too_large")


@pytest.mark.parametrize("item", ["1", "{}", '{"id":"x"}'])
@pytest.mark.parametrize("kind", ["changes", "offers"])
def test_a_hundred_thousand_wrong_changes_are_refused_as_one(
    browser: FlaskClient, logbook: Logbook, kind: str, item: str
) -> None:
    device = "019aba0f-f7c0-7000-8000-000000000001"
    outside = {"device": device, "device_now": "2026-11-25T14:00:00.000Z", "logbook": logbook.id}
    many = ",".join([item] * min(100_000, 900_000 // (len(item) + 1)))
    body = json.dumps(outside)[:-1] + f', "{kind}": [{many}]}}'
    before, began = logbook.end(), time.process_time()
    answer = browser.post(EXCHANGE, headers=HOME, data=body, content_type="application/json")
    check_refused(answer, time.process_time() - began)
    assert answer.json["code"] == "too_large"
    assert logbook.end() == before


@pytest.mark.parametrize("where", [SOAKS, EXCHANGE])
@pytest.mark.parametrize(
    "headers",
    [
        {"Content-Type": "text/plain"},
        {"Content-Type": "application/x-www-form-urlencoded"},
        {"Content-Type": "multipart/form-data; boundary=x"},
        {"Content-Type": "text/xml"},
        {"Content-Type": ""},
        {"Content-Type": "application/json; charset=utf-16"},
        {"Content-Type": "application/json", "Content-Encoding": "gzip"},
    ],
    ids=str,
)
def test_only_plain_json_is_taken_so_no_form_can_write(
    browser: FlaskClient, where: str, headers: dict[str, str]
) -> None:
    body = zlib.compress(b" " * 10 * MIB) if "Content-Encoding" in headers else b"{}"
    answer = browser.post(where, headers=HOME | headers, data=body)
    assert (answer.status_code, answer.json["code"]) == (415, "not_json")


def test_generated_nonsense_never_fails_and_is_never_half_stored(
    browser: FlaskClient, logbook: Logbook
) -> None:
    chance = random.Random(SEED)
    began = [
        b'{"soak_s": 1800, "pieces": 24, "note": "\xc3\xa9 \\u00e9", "batch": null}',
        b'{"device": "d", "device_now": "2026-11-25T14:00:00.000Z", "logbook": null, "changes": []}',
    ]
    tracemalloc.start()
    for number in range(GENERATED):
        body = bytearray(began[number % 2])
        for _ in range(chance.randint(1, 6)):
            at = chance.randrange(len(body))
            body[at : at + chance.choice((0, 1, 1, 8))] = chance.choice(
                (b"{", b"]", b'"', b"\\", b"\xff", b"\\ud800", b"1e400", b"[[", b",", b"\x00", b"null")
            )
        where = (SOAKS, EXCHANGE)[number % 2]
        before = logbook.end()["seq"]
        answer = browser.post(where, headers=HOME, data=bytes(body), content_type="application/json")
        assert answer.status_code < 500, (SEED, number, bytes(body))
        assert logbook.end()["seq"] == before + (answer.status_code == 201), (SEED, number, bytes(body))
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 50 * MIB


@pytest.fixture
def files(tmp_path: Path) -> FlaskClient:
    """A server whose client has one page, beside a file that nobody may have."""
    (tmp_path / "client" / "assets").mkdir(parents=True)
    (tmp_path / "client" / "index.html").write_text("<!doctype html><title>the client</title>")
    (tmp_path / "client" / "assets" / "main-abc.js").write_text("export {}")
    (tmp_path / "canary.txt").write_text("canary")
    (tmp_path / "client" / ".stamp").write_text("canary")
    app = Flask("files", static_folder=None)
    serve_client(app, tmp_path / "client")
    assert set(assets_of(tmp_path / "client")) == {"index.html", "assets/main-abc.js"}
    return app.test_client()


STEPS = ("..", "%2e%2e", "%252e%252e", "..%00", "....", "..;", ".", "%c0%ae%c0%ae", "..%5c..", "..\\..")
ENDS = ("canary.txt", "/canary.txt", "etc/passwd", "canary.txt%00.js", ".stamp", "%2estamp")


@pytest.mark.parametrize("step", STEPS)
def test_no_path_leads_out_of_the_client(files: FlaskClient, step: str) -> None:
    for depth in range(5):
        for end in ENDS:
            for slash in ("/", "%2f", "//", "%5c"):
                answer = files.get("/assets/" + (step + slash) * depth + end)
                assert answer.status_code in (404, 308, 400), (step, depth, end, slash)
                assert b"canary" not in answer.data.replace(b"canary.txt", b"")
                assert b"root:" not in answer.data


@pytest.mark.parametrize(
    "id", ["..%2f..%2fetc", "%00", "1", "%27%20or%201=1", "{id}", "0" * 5000, "ffffffff-ffff-ffff-ffff-ffff"]
)
def test_an_id_that_is_none_is_not_found(browser: FlaskClient, id: str) -> None:
    for path in ("soaks", "care-tasks", "pieces"):
        answer = browser.get(f"/api/{path}/{id}", headers=HOME)
        assert (answer.status_code, answer.content_type) == (404, "application/problem+json")


@pytest.mark.parametrize("path", ["/", "/api/health", "/api/soaks", "/api/docs", "/nothing"])
@pytest.mark.parametrize(
    "host",
    ["rebound.example", "127.0.0.1.example:8765", "localhost.example", "", "0.0.0.0:80", "[::2]", "[", "a@b"],
)
def test_another_hosts_name_is_refused_everywhere(browser: FlaskClient, host: str, path: str) -> None:
    answer = browser.get(path, headers={"Host": host})
    assert (answer.status_code, answer.json["code"]) == (421, "foreign_host")


@pytest.mark.parametrize("host", ["127.0.0.1:8765", "localhost:8765", "LOCALHOST", "[::1]:8765"])
def test_the_configured_names_are_answered(browser: FlaskClient, host: str) -> None:
    assert browser.get("/api/health", headers={"Host": host}).status_code == 200


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "http://elsewhere.example"},
        {"Origin": "null"},
        {"Origin": "http://127.0.0.1:9999"},
        {"Origin": "http://127.0.0.1:8765.elsewhere.example"},
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "same-site"},
    ],
    ids=str,
)
def test_another_sites_page_cannot_write(
    browser: FlaskClient, logbook: Logbook, headers: dict[str, str]
) -> None:
    before = logbook.end()
    for where in (SOAKS, EXCHANGE):
        answer = browser.post(where, headers=HOME | headers, json={})
        assert (answer.status_code, answer.json["code"]) == (403, "foreign_origin")
        assert "Access-Control-Allow-Origin" not in answer.headers
    assert logbook.end() == before


def test_our_own_page_can_write(browser: FlaskClient) -> None:
    headers = HOME | {"Origin": "http://127.0.0.1:8765", "Sec-Fetch-Site": "same-origin"}
    assert browser.post(SOAKS, headers=headers, json={}).status_code == 201


SCRIPTS = [
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "javascript:alert(1)",
    "</title><svg onload=x>",
]


@pytest.mark.parametrize("words", SCRIPTS)
def test_words_that_are_scripts_come_back_as_words_in_json(browser: FlaskClient, words: str) -> None:
    made = browser.post(SOAKS, headers=HOME, json={"note": words, "jar": words})
    assert made.json["note"] == words
    assert made.content_type == "application/json"
    assert made.headers["X-Content-Type-Options"] == "nosniff"
    lost = browser.get("/" + words, headers=HOME)
    assert lost.content_type == "application/problem+json"


@pytest.mark.parametrize("path", ["/", "/api/health", "/api/docs", "/api/soaks", "/nothing"])
def test_no_answer_allows_scripts_inside_a_page(browser: FlaskClient, path: str) -> None:
    policy = dict(
        part.strip().split(" ", 1)
        for part in browser.get(path, headers=HOME).headers["Content-Security-Policy"].split(";")
    )
    assert policy["default-src"] == "'none'"
    assert policy["script-src"] == "'self'"
    assert policy["frame-ancestors"] == "'none'"
    assert ("'unsafe-inline'" in policy["style-src"]) == (path == "/api/docs")


def test_a_line_break_in_a_path_makes_no_line_of_its_own_in_the_log(
    browser: FlaskClient, logbook: Logbook, caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object, **__: object) -> None:
        raise RuntimeError("broken on purpose")

    monkeypatch.setattr(Logbook, "record", fail)
    answer = browser.get(f"/api/soaks/{'0' * 8}-0000-7000-8000-{'0' * 12}?%0a=forged%0aline", headers=HOME)
    assert (answer.status_code, answer.json["code"]) == (500, "went_wrong")
    assert "broken" not in answer.text
    assert all("\n" not in record.getMessage() for record in caplog.records)
