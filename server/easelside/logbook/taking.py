"""Changes and offers arrive: what becomes of each, in the order in which they came?"""

from collections import defaultdict
from collections.abc import Sequence
from typing import cast

from easelside.logbook.model import Accepted, Change, Field, Fields, Offer, Offered, Row
from easelside.logbook.page import OpenPage
from easelside.logbook.rules import LATEST, Clocks, judge, judge_offer, just_after, still_settled, when_of


def take(page: OpenPage, changes: Sequence[Change], clocks: Clocks) -> list[Accepted]:
    """Every change becomes a row, won or lost; a repeated id gets the result that is stored for it."""
    ids = [change["id"] for change in changes]
    stored = page.rows_of(ids)
    held: defaultdict[str, set[str]] = defaultdict(set)
    for row in page.held_of(ids):
        held[row["id"]].update(row["set"])
    taken_back = _Known(page, changes)
    wanted: defaultdict[str, set[str]] = defaultdict(set)
    for change in changes:
        wanted[change["kind"]].add(change["record"])
    for row in stored.values():
        wanted[row["kind"]].add(row["record"])
    page.load(wanted)

    answers = []
    for change in changes:
        known = stored.get(change["id"])
        if known is None:
            known = _enter(page, change, clocks, held.get(change["id"], set()), taken_back)
            stored[change["id"]] = known
            if taken_back.is_asked:
                taken_back.learn(known)
        answers.append(_answer(page, known))
    return answers


class _Known:
    """Does the logbook hold that field of that change? Asked only where something is taken back."""

    def __init__(self, page: OpenPage, changes: Sequence[Change]) -> None:
        self._fields: defaultdict[str, set[str]] = defaultdict(set)
        asked = {saw for change in changes if change["back"] for saw in change["saw"].values() if saw}
        self.is_asked = bool(asked)
        if asked:
            for row in (*page.rows_of(asked).values(), *page.held_of(asked)):
                self.learn(row)

    def learn(self, row: Row) -> None:
        self._fields[row["id"]].update(row["set"])

    def __call__(self, change: str, field: str) -> bool:
        return field in self._fields.get(change, ())


def _enter(page: OpenPage, change: Change, clocks: Clocks, held: set[str], known: _Known) -> Row:
    given = change.get("given")
    when = when_of(change["made"], clocks) if given is None else min(given["when"], LATEST)
    fields = page.fields(change["kind"], change["record"])
    once = held if given is None else held.union(given["lost"])
    settled = still_settled(change, once, fields) if once else once
    verdict = judge(change, when, fields, knows=known, settled=settled)
    # spread, not named one by one: this runs for every change, and a change has just these keys
    row = cast(Row, {"seq": 0, "when": verdict.when, "won": verdict.won, **change})
    if given is not None:
        del row["given"]  # type: ignore[typeddict-item]
    _enter_again(page, row, page.add(row))
    return row


def _enter_again(page: OpenPage, row: Row, replaced: Fields) -> None:
    """What had replaced a change before it came stands over it at once (10)."""
    for name, field in replaced.items():
        page.add(
            Row(
                seq=0,
                when=max(field["when"], just_after(row["when"])),
                won=[name],
                id=field["change"],
                v=1,
                kind=row["kind"],
                record=row["record"],
                device=row["device"],
                made=row["made"],
                set={name: field["value"]},
                saw={name: field["saw"]},
                back=field["back"],
                held=True,
                again=True,
            )
        )


def _answer(page: OpenPage, row: Row) -> Accepted:
    won = row["won"]
    lost: dict[str, Field | None] = {}
    if len(won) < len(row["set"]):
        fields = page.fields(row["kind"], row["record"])
        lost = {name: fields.get(name) for name in row["set"] if name not in won}
    return {"id": row["id"], "seq": row["seq"], "when": row["when"], "won": won, "lost": lost}


def take_offers(page: OpenPage, offers: Sequence[Offer], device: str, now: str) -> list[Offered]:
    """Fields that a phone held when the logbook was put back. What the logbook knows is passed over (10)."""
    ids = {offer["change"] for offer in offers}
    known: dict[tuple[str, str], int] = {}
    for row in (*page.rows_of(ids).values(), *page.held_of(ids)):
        known.update({(row["id"], name): row["seq"] for name in row["set"]})
    wanted: defaultdict[str, set[str]] = defaultdict(set)
    for offer in offers:
        wanted[offer["kind"]].add(offer["record"])
    page.load(wanted)

    answers = []
    for offer in offers:
        at = offer["change"], offer["field"]
        seq = None
        if at not in known:
            seq = known[at] = _hold(page, offer, device, now)
        winner = page.fields(offer["kind"], offer["record"]).get(offer["field"])
        answers.append(
            Offered(
                kind=offer["kind"],
                record=offer["record"],
                field=offer["field"],
                change=offer["change"],
                seq=seq,
                won=winner is not None and winner["change"] == offer["change"],
                winner=None if winner is None else Field(**winner),
            )
        )
    return answers


def _hold(page: OpenPage, offer: Offer, device: str, now: str) -> int:
    name = offer["field"]
    stands, when = judge_offer(offer, page.fields(offer["kind"], offer["record"]))
    row = Row(
        seq=0,
        when=when,
        won=[name] if stands else [],
        id=offer["change"],
        v=1,
        kind=offer["kind"],
        record=offer["record"],
        device=device,
        made=now,
        set={name: offer["value"]},
        saw={name: offer["saw"]},
        back=offer["back"],
        held=True,
    )
    replaced = page.add(row)
    seq = page.seq
    _enter_again(page, row, replaced)
    return seq
