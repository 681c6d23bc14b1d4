"""A phone that trusts the workshop: the last steps of its way in, no network, and a new certificate."""

import json
import socket
import ssl
import urllib.request
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from cryptography import x509
from playwright.sync_api import Page, Playwright, expect

from tests.bench_day.running_server import Server, free_port
from tests.bench_day.trusting_phone import phone_of, trust

pytestmark = pytest.mark.browser
HOST = "127.0.0.1"


@dataclass
class Workshop:
    server: Server
    port: int
    plain: str
    name: str
    certificate: bytes

    @property
    def address(self) -> str:
        return f"https://{self.name}:{self.port}"

    def serial(self) -> int:
        """Of the certificate that the server shows now."""
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
        context.load_verify_locations(cadata=self.certificate)
        with (
            socket.create_connection((HOST, self.port), 10) as line,
            context.wrap_socket(line, server_hostname=self.name) as wrapped,
        ):
            return x509.load_der_x509_certificate(wrapped.getpeercert(binary_form=True) or b"").serial_number


@pytest.fixture
def workshop(package: Path, tmp_path: Path) -> Iterator[Workshop]:
    port, trust_port = free_port(), free_port()
    words = ["--phones", "--phones-host", HOST, "--phones-port", str(port), "--trust-port", str(trust_port)]
    server = Server(package, tmp_path / "workshop", *words)
    server.start()
    try:
        plain = f"http://{HOST}:{trust_port}"
        with urllib.request.urlopen(f"{plain}/trust/facts.json", timeout=10) as told:
            place = json.load(told)["places"][0]
        with urllib.request.urlopen(f"{plain}/ca.crt", timeout=10) as fetched:
            certificate = fetched.read()
        name = place.removeprefix("https://").partition(":")[0]
        yield Workshop(server, port, plain, name, certificate)
    finally:
        server.kill()


def station(page: Page, name: str, seen: bool) -> None:
    wanted = "true" if seen else "false"
    expect(page.locator(f"[data-station={name}]")).to_have_attribute("data-seen", wanted, timeout=25_000)


def pair(workshop: Workshop, page: Page) -> int:
    _, code = workshop.server.ask("/api/phones/codes", {"role": "maker"})
    status: int = page.evaluate(
        """async (code) => (await fetch("/api/pair", {method: "POST",
            headers: {"Content-Type": "application/json"},
            body: JSON.stringify({code, name: "phone", device: null})})).status""",
        code["figures"],
    )
    return status


def test_the_whole_way_in_then_no_network_then_a_new_certificate(
    workshop: Workshop, playwright: Playwright, tmp_path: Path
) -> None:
    home = tmp_path / "home"
    trust(home, workshop.certificate)
    with phone_of(playwright, home, {workshop.name: HOST}) as phone:
        page = phone.new_page()
        page.goto(f"{workshop.plain}/trust")
        station(page, "trust", True)
        station(page, "offline", False)
        page.locator("#next").click()
        page.wait_for_url(f"{workshop.address}/trust")
        for seen in ("reached", "trust", "offline"):
            station(page, seen, True)
        station(page, "paired", False)
        assert page.evaluate("[...document.fonts].map((font) => font.status)") == ["loaded", "loaded"]
        assert pair(workshop, page) == 201
        station(page, "paired", True)
        expect(page.locator("body")).to_have_attribute("data-head", "ready")
        page.reload()  # the worker that is there now must not answer for the page
        expect(page.locator("#stations")).to_be_visible()
        page.goto(workshop.address)
        page.wait_for_function("navigator.serviceWorker.controller !== null")

        serial = workshop.serial()
        workshop.server.stop()
        page.reload()
        expect(page.locator("#app, main").first).to_be_visible()
        assert page.evaluate("isSecureContext && navigator.serviceWorker.controller !== null")
        assert page.evaluate("fetch('/probe').then(() => 'came', () => 'cut')") == "cut"

    with phone_of(playwright, home, {workshop.name: HOST}) as phone:
        page = phone.new_page()
        page.goto(workshop.address)  # begun anew, with the server still away
        expect(page.locator("#app, main").first).to_be_visible()
        (workshop.server.data / "paper.pem").unlink()
        workshop.server.start()
        assert workshop.serial() != serial
        who = page.evaluate("fetch('/api/who').then((answer) => answer.json())")
        assert (who["comes_in"], who["role"]) == (True, "maker")
        assert page.evaluate("navigator.serviceWorker.controller !== null")


def test_a_warning_that_was_only_clicked_away_is_not_taken_for_trust(
    workshop: Workshop, playwright: Playwright, tmp_path: Path
) -> None:
    with phone_of(playwright, tmp_path / "home", {workshop.name: HOST}) as phone:
        page = phone.new_page()
        with pytest.raises(Exception, match="ERR_CERT_AUTHORITY_INVALID"):
            page.goto(f"{workshop.address}/trust")
        page.locator("#details-button").click()
        page.locator("#proceed-link").click()
        page.wait_for_url(f"{workshop.address}/trust")
        expect(page.locator("body")).to_have_attribute("data-head", "clicked", timeout=25_000)
        station(page, "reached", True)
        station(page, "trust", False)
        station(page, "offline", False)
