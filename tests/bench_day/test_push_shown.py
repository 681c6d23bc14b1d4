"""A message by push shows on the phone, once; the browser's own delivery stands in for the internet."""

import json
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import CDPSession, Page

from easelside.alarms.postman import shown
from tests.bench_day.phone import Phone
from tests.bench_day.running_server import Server

pytestmark = pytest.mark.browser

ACTIVATED = """async () => {
  const { active } = await navigator.serviceWorker.ready;
  while (active.state !== "activated") await new Promise((done) => setTimeout(done, 20));
}"""
CLEARED = """async () => {
  const registration = await navigator.serviceWorker.ready;
  for (const one of await registration.getNotifications()) one.close();
  const later = () => new Promise((done) => setTimeout(done, 20));
  while ((await registration.getNotifications()).length > 0) await later();
}"""
SHOWN = """async () => {
  const registration = await navigator.serviceWorker.ready;
  return (await registration.getNotifications()).map(({ title, body, tag }) => ({ title, body, tag }));
}"""


class Pushed:
    """A page whose service worker gets pushes through the browser's own tools."""

    def __init__(self, phone: Phone, url: str) -> None:
        self.page: Page = phone.open(url)
        self.origin = url.rstrip("/")
        assert phone.context is not None
        self.tools: CDPSession = phone.context.new_cdp_session(self.page)
        self.tools.send("Browser.grantPermissions", {"origin": self.origin, "permissions": ["notifications"]})
        self._registrations: list[str] = []
        self.tools.on("ServiceWorker.workerRegistrationUpdated", self._note)
        self.tools.send("ServiceWorker.enable")
        self.page.evaluate(ACTIVATED)
        for _ in range(100):
            if self._registrations:
                break
            self.page.wait_for_timeout(50)
        self.arrives(shown("first", "First", ""), 1)
        self.page.evaluate(CLEARED)

    def _note(self, told: dict[str, Any]) -> None:
        self._registrations += [one["registrationId"] for one in told["registrations"]]

    def push(self, data: str) -> None:
        at = {"origin": self.origin, "registrationId": self._registrations[0], "data": data}
        self.tools.send("ServiceWorker.deliverPushMessage", at)

    def arrives(self, data: str, how_many: int) -> list[dict[str, str]]:
        """Pushed again until so many are shown: the browser's tools lose a push now and then, in silence, and
        more often before it has written the worker down. What is shown under the same tag is one."""
        for _ in range(20):
            self.push(data)
            found = self.shown(how_many, tries=10)
            if len(found) >= how_many:
                return found
        return self.shown(how_many)

    def shown(self, how_many: int, tries: int = 100) -> list[dict[str, str]]:
        found: list[dict[str, str]] = []
        for _ in range(tries):
            found = self.page.evaluate(SHOWN)
            if len(found) >= how_many:
                break
            self.page.wait_for_timeout(50)
        return found


@pytest.fixture
def pushed(server: Server, new_phone: Callable[..., Phone]) -> Pushed:
    return Pushed(new_phone(), server.url)


def test_a_message_shows_what_the_server_wrote_and_only_once_where_it_came_twice(pushed: Pushed) -> None:
    one = shown("soak/a/1", "Batch D1, 24 pieces: ready", "Its time in water was over at 14:30.")
    said = json.loads(one)["notification"]
    expected = {name: said[name] for name in ("title", "body", "tag")}
    assert pushed.arrives(one, 1) == [expected]
    pushed.push(one)
    pushed.page.wait_for_timeout(500)
    assert pushed.shown(1) == [expected]
    both = pushed.arrives(shown("care/b/2", "Oil the pivot", "This care is due."), 2)
    assert sorted(one["title"] for one in both) == ["Batch D1, 24 pieces: ready", "Oil the pivot"]


@pytest.mark.parametrize("data", ["", "no JSON", "[]", '{"notification": null}'])
def test_a_message_that_cannot_be_read_still_shows_something(pushed: Pushed, data: str) -> None:
    assert [one["title"] for one in pushed.arrives(data, 1)] == ["Easelside"]
