"""Two phones with no network say different things: nothing is lost, each counts once, the maker is asked."""

import re
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.bench_day.day import Day, all_sent, go, standing
from tests.bench_day.phone import Phone

pytestmark = pytest.mark.browser

Days = Callable[..., Day]
NewPhone = Callable[..., Phone]


class Two:
    """Two phones in one workshop; A cut the first of D1, B has heard of it. Then the network is cut."""

    def __init__(self, day: Day, second: Phone, *, begun: bool = True) -> None:
        self.day, self.a, self.b = day, day.phone, second
        self.server = day.server
        self.since = day.clock.now().isoformat()[:19]
        self.known = {
            (kind, it[name]): id_
            for kind, name in (("batch", "label"), ("blade", "label"), ("machine", "name"))
            for id_, it in self.server.records(kind).items()
        }
        self.tap(day.phone, "Take out six")  # else they ring in the middle of it
        if begun:
            go(day.page, "bench")
            self.tap(day.phone, "Good")
        day.sent()
        day.opened_on(second)
        all_sent(second.page)
        day.cut()

    def at_bench(self, phone: Phone) -> None:
        go(phone.page, "bench")
        expect(phone.page.get_by_role("button", name="Good", exact=False).first).to_be_visible()

    def tap(self, phone: Phone, name: str) -> None:
        """A minute passes, and one touch."""
        self.day.clock.pass_by(self.a.page, minutes=1)
        if self.b.context:
            self.day.clock.pass_by(self.b.page)
        phone.touch(button(phone.page, name), phone.page)
        phone.page.wait_for_timeout(250)

    def lost(self, phone: Phone) -> None:
        self.tap(phone, "Lost")
        phone.touch(button(phone.page, "Not sure"), phone.page)
        expect(button(phone.page, "Good")).to_be_visible()

    def meet(self) -> None:
        """The network is back: each phone hears of all that the other did."""
        self.server.start()
        for phone in (self.a, self.b, self.a):
            go(phone.page, "today")
            all_sent(phone.page)

    def tell(self, phone: Phone) -> None:
        """What one phone answered reaches the other."""
        other = self.b if phone is self.a else self.a
        for each in (phone, other):
            go(each.page, "today")
            all_sent(each.page)

    def session(self) -> str:
        """The session under way."""
        return max(self.server.records("session"))

    def pieces(self, *sessions: str) -> list[dict[str, Any]]:
        found = [
            {"id": id_, **it} for id_, it in self.server.records("piece").items() if it["session"] in sessions
        ]
        return sorted(found, key=lambda piece: (piece["session"], piece["number"]))

    def batch(self) -> dict[str, int]:
        """What came off the machine of D1, as the server counts it."""
        return dict(self.server.get(f"/api/batches/{self.known['batch', 'D1']}")["stands"]["profiled"])

    def on_edge(self, label: str) -> int:
        return int(self.server.get(f"/api/blades/{self.known['blade', label]}")["edge"]["pieces"])

    def blade_in(self, machine: str) -> str:
        """The label of the blade that stands in a machine, as the server has it."""
        for (kind, label), id_ in self.known.items():
            if kind == "blade":
                place = self.server.get(f"/api/blades/{id_}")["place"]
                if place and place["where"] == "on_machine" and place["machine"] == machine:
                    return label
        return "none"

    def fitted_since(self) -> list[str]:
        """Labels of the blades that were fitted since the day began, in order."""
        moves = [it for it in self.server.records("blade_move").values() if it["at"] >= self.since]
        label = {id_: label for (kind, label), id_ in self.known.items() if kind == "blade"}
        return [
            label[move["blade"]]
            for move in sorted(moves, key=lambda move: move["at"])
            if move["what"] == "fitted"
        ]


def button(page: Page, name: str) -> Locator:
    """The one whose name begins so."""
    return page.get_by_role("button", name=re.compile(f"^{re.escape(name)}")).first


def ask(page: Page, title: str) -> Locator:
    return page.get_by_role("region", name="Questions").get_by_role("button", name=title)


@pytest.fixture
def two(days: Days, new_phone: NewPhone) -> Two:
    return Two(days(), new_phone())


@pytest.fixture
def two_fresh(days: Days, new_phone: NewPhone) -> Two:
    """The same, and nothing was cut yet."""
    return Two(days(), new_phone(), begun=False)


def test_one_piece_finished_good_and_lost_is_one_piece_with_both_outcomes_until_the_maker_says(
    two: Two,
) -> None:
    for phone in (two.a, two.b):
        two.at_bench(phone)
    two.tap(two.a, "Good")  # piece 2
    two.lost(two.a)  # piece 3
    two.lost(two.b)  # piece 2, on the other phone
    two.tap(two.b, "Good")  # piece 3
    two.meet()

    session = two.session()
    pieces = two.pieces(session)
    assert [piece["number"] for piece in pieces] == [1, 2, 3]
    assert [sorted(map(str, standing(piece))) for piece in pieces] == [
        ["good"],
        ["good", "lost"],
        ["good", "lost"],
    ]
    counted = two.batch()
    assert sum(counted[what] for what in ("good", "second", "lost")) == 3
    assert two.on_edge("4") == 3
    for phone in (two.a, two.b):
        for number in (2, 3):
            expect(ask(phone.page, re.compile(f"Piece {number} of D1: .* or .*\\?"))).to_be_visible()  # type: ignore[arg-type]
    # at the bench each piece counts once too
    go(two.a.page, "bench")
    expect(two.a.page.locator(".bench-figure")).to_have_text("4")
    go(two.a.page, "today")

    two.a.touch(ask(two.a.page, "Piece 2 of D1"), two.a.page)
    expect(two.a.page.get_by_role("heading", name="Piece 2 of D1: ")).to_be_visible()
    two.a.touch(button(two.a.page, "These were two pieces"), two.a.page)
    two.tell(two.a)
    pieces = two.pieces(session)
    assert [piece["number"] for piece in pieces] == [1, 2, 3, 4]
    assert sorted([*standing(pieces[1]), *standing(pieces[3])], key=str) == ["good", "lost"]
    assert pieces[3]["parted_from"] == pieces[1]["id"]
    assert sum(two.batch()[what] for what in ("good", "second", "lost")) == 4
    assert two.on_edge("4") == 4

    two.b.touch(ask(two.b.page, "Piece 3 of D1"), two.b.page)
    expect(two.b.page.get_by_role("heading", name="Piece 3 of D1: ")).to_be_visible()
    two.b.touch(button(two.b.page, "Good"), two.b.page)
    expect(two.b.page).to_have_url(re.compile("/today$"))
    two.tell(two.b)
    assert standing(two.pieces(session)[2]) == ["good"]
    assert {what: two.batch()[what] for what in ("good", "second", "lost")} == {
        "good": 3,
        "second": 0,
        "lost": 1,
    }
    for phone in (two.a, two.b):
        expect(phone.page.get_by_role("region", name="Questions")).to_have_count(0)


def test_a_blade_changed_on_both_phones_is_two_moves_and_the_later_one_stands_until_the_maker_says(
    two: Two,
) -> None:
    window = two.known["machine", "Window machine"]
    for phone, label in ((two.a, "2"), (two.b, "6")):
        blade = two.known["blade", label]
        go(phone.page, f"blade-change/{window}?blade={blade}")
        expect(phone.page.get_by_role("heading", name=f"Blade 4 out, blade {label} in")).to_be_visible()
        two.tap(phone, "Change it now")
    two.meet()

    assert two.fitted_since() == ["2", "6"]
    assert two.blade_in(window) == "6"
    for phone in (two.a, two.b):
        expect(ask(phone.page, "Two blades in one machine?")).to_be_visible()
    two.a.touch(ask(two.a.page, "Two blades in one machine?"), two.a.page)
    expect(two.a.page.get_by_role("heading", name="Two blades in one machine?")).to_be_visible()
    two.a.touch(button(two.a.page, "blade 2"), two.a.page)
    expect(two.a.page).to_have_url(re.compile("/today$"))
    two.tell(two.a)
    assert two.blade_in(window) == "2"
    assert two.fitted_since()[:2] == ["2", "6"], "both moves stay in the records"
    for phone in (two.a, two.b):
        expect(phone.page.get_by_role("region", name="Questions")).to_have_count(0)


def test_two_sessions_begun_on_one_machine_are_kept_counted_once_and_joined_when_the_maker_says_so(
    two_fresh: Two,
) -> None:
    two = two_fresh
    for phone, pieces in ((two.a, 2), (two.b, 3)):
        two.at_bench(phone)
        for _ in range(pieces):
            two.tap(phone, "Good")
    two.meet()

    begun = sorted(
        id_ for id_, session in two.server.records("session").items() if session["began"] >= two.since
    )
    assert len(begun) == 2
    assert len(two.pieces(*begun)) == 5
    assert two.batch()["good"] == 5
    assert two.on_edge("4") == 5
    for phone in (two.a, two.b):
        expect(ask(phone.page, "One session, or two?")).to_be_visible()
    two.b.touch(ask(two.b.page, "One session, or two?"), two.b.page)
    expect(two.b.page.get_by_role("heading", name="One session, or two?")).to_be_visible()
    two.b.touch(button(two.b.page, "One session the pieces"), two.b.page)
    expect(two.b.page).to_have_url(re.compile("/today$"))
    two.tell(two.b)
    first, second = (two.server.records("session")[id_] for id_ in begun)
    assert second["joined_to"] == begun[0] and "joined_to" not in first
    assert len(two.pieces(*begun)) == 5
    assert two.batch()["good"] == 5
    assert two.on_edge("4") == 5
    for phone in (two.a, two.b):
        expect(phone.page.get_by_role("region", name="Questions")).to_have_count(0)
        go(phone.page, "bench")
        expect(phone.page.locator(".bench-figure")).to_have_text("6")
