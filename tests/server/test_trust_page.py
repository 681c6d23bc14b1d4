"""The plain page that walks a phone through trusting: what it gives out, and that it does nothing else."""

import json
import re
from datetime import UTC, datetime
from pathlib import Path

import pytest
from flask.testing import FlaskClient

from easelside.trust.authority import make_authority
from easelside.trust.model import Facts
from easelside.web.trusting import PAGE, trust_app

ROOT = Path(__file__).parents[2]
AUTHORITY = make_authority(datetime(2026, 11, 25, tzinfo=UTC), "workshop-pc")
FACTS = Facts(
    name="bench-7f3a.local",
    port=8443,
    addresses=["192.168.1.20"],
    trust_port=8766,
    authority=AUTHORITY.name,
    fingerprint=AUTHORITY.fingerprint,
    certificate=AUTHORITY.der,
    ends=AUTHORITY.ends,
)


@pytest.fixture
def phone() -> FlaskClient:
    return trust_app(lambda: FACTS).test_client()


def test_the_certificate_is_given_as_one_that_phones_offer_to_install(phone: FlaskClient) -> None:
    """Any other type, and an iPhone shows it as text."""
    answer = phone.get("/ca.crt")
    assert answer.content_type == "application/x-x509-ca-cert"
    assert answer.data == AUTHORITY.der


def test_an_iphone_gets_it_opened_and_all_others_as_a_file(phone: FlaskClient) -> None:
    safari = {
        "User-Agent": "Mozilla/5.0 (iPhone; CPU iPhone OS 18_0 like Mac OS X) Version/18.0 Safari/604.1"
    }
    assert "Content-Disposition" not in phone.get("/ca.crt", headers=safari).headers
    assert 'filename="workshop-ca.crt"' in phone.get("/ca.crt").headers["Content-Disposition"]


def test_nothing_that_is_given_out_holds_a_key(phone: FlaskClient) -> None:
    for where in ("/trust", "/trust/facts.json", "/ca.crt", "/probe", "/trust/page.js", "/trust/words.js"):
        answer = phone.get(where)
        assert answer.status_code == 200, where
        assert b"PRIVATE" not in answer.data
        assert AUTHORITY.key.private_numbers().private_value.to_bytes(32, "big") not in answer.data
        assert "Set-Cookie" not in answer.headers


def test_the_page_may_ask_the_workshops_own_addresses_and_nobody_else(phone: FlaskClient) -> None:
    policy = phone.get("/trust").headers["Content-Security-Policy"]
    rules = dict(rule.strip().partition(" ")[::2] for rule in policy.split(";"))
    assert rules["connect-src"].split() == [
        "'self'",
        "https://bench-7f3a.local:8443",
        "https://192.168.1.20:8443",
    ]
    assert rules["default-src"] == "'none'"
    assert rules["script-src"] == rules["style-src"] == "'self'"
    assert "unsafe" not in policy


def test_every_other_address_leads_to_the_page_and_nothing_is_taken_in(phone: FlaskClient) -> None:
    for where in ("/", "/api/health", "/api/exchange", "/index.html", "/hotspot-detect.html"):
        answer = phone.get(where)
        assert (answer.status_code, answer.headers["Location"]) == (307, "/trust")
    assert phone.post("/api/exchange", json={}).status_code == 405
    assert phone.get("/trust/../../settings.py").status_code in (307, 404)
    assert phone.get("/trust/other.pem").status_code == 404


def test_the_facts_name_the_announced_name_before_the_numbers(phone: FlaskClient) -> None:
    told = json.loads(phone.get("/trust/facts.json").data)
    assert told["places"] == ["https://bench-7f3a.local:8443", "https://192.168.1.20:8443"]
    assert told["fingerprint"] == AUTHORITY.fingerprint
    assert told["authority"] == AUTHORITY.name


@pytest.mark.parametrize(
    "page",
    ["http://192.168.1.20:8766", "http://bench-7f3a.local:8766", "https://[fd00::20]:8443", "http://desk"],
)
def test_a_page_of_the_workshop_may_ask_which_one_answers_without_a_cookie(
    phone: FlaskClient, page: str
) -> None:
    answer = phone.get("/probe", headers={"Origin": page})
    assert answer.headers["Access-Control-Allow-Origin"] == page
    assert answer.headers["Vary"] == "Origin"
    assert "Access-Control-Allow-Credentials" not in answer.headers
    assert answer.headers["Cross-Origin-Resource-Policy"] == "cross-origin"
    assert json.loads(answer.data) == {"workshop": AUTHORITY.fingerprint}


@pytest.mark.parametrize(
    "page",
    ["https://shop.example", "https://8.8.8.8", "https://[2001:db8::1]", "null", "https://local.example"],
)
def test_a_public_site_does_not_learn_whose_workshop_it_is(phone: FlaskClient, page: str) -> None:
    """The fingerprint is one of a kind: a site could know its visitors by it."""
    answer = phone.get("/probe", headers={"Origin": page})
    assert "Access-Control-Allow-Origin" not in answer.headers
    assert answer.headers["Cross-Origin-Resource-Policy"] == "same-origin"


def test_without_an_authority_there_is_no_page() -> None:
    closed = trust_app(lambda: None).test_client()
    assert [closed.get(where).status_code for where in ("/trust", "/ca.crt", "/trust/facts.json")] == [
        404
    ] * 3


def test_the_page_has_the_colours_of_the_client_by_day_and_by_night() -> None:
    ours = (PAGE / "page.css").read_text()
    theirs = (ROOT / "webclient/src/look/tokens.css").read_text()
    night = theirs.split("@media (prefers-color-scheme: dark)")[1]
    for sheet, of in ((ours.split("@media")[0], theirs), (ours.split("@media")[1], night)):
        named = re.findall(r"(--[\w-]+): (#\w+);", sheet.split("*,")[0])
        assert len(named) >= 10
        for name, value in named:
            assert f"{name}: {value};" in of, (name, value)


def test_the_page_reads_all_its_words_from_one_file() -> None:
    page = (PAGE / "index.html").read_text()
    body = re.sub(r"<noscript>.*?</noscript>", "", page.split("<body>")[1], flags=re.S)
    assert re.findall(r">\s*([A-Za-z][^<]*)<", body) == []
