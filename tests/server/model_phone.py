"""A phone as the rules of merging see it: base, outbox, what it keeps, what it offers (rules 6 to 10)."""

import copy
import json
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

Json = dict[str, Any]
At = tuple[str, str]  # kind, record
Fields = dict[str, Json]


@dataclass
class Phone:
    device: str
    base: dict[At, Fields] = field(default_factory=dict)
    outbox: list[Json] = field(default_factory=list)
    kept: list[Json] = field(default_factory=list)  # {"change", "seq", "when", "won", "again"}
    offers: dict[At, Fields] = field(default_factory=dict)
    logbook: str | None = None
    end: Json | None = None
    cursor: int = 0
    safe: int = 0

    def twin(self) -> "Phone":
        """The same phone once more: a cloned profile, or a backup of it put on another phone."""
        return copy.deepcopy(self)

    # what is shown (6, 9)

    def shown(self, at: At) -> Fields:
        fields = dict(self.base.get(at, {}))
        for name, offered in self.offers.get(at, {}).items():
            if name not in fields or offered["when"] > fields[name]["when"]:
                fields[name] = offered
        for change in self.outbox:
            if (change["kind"], change["record"]) != at:
                continue
            for name, value in change["set"].items():
                saw = change["saw"].get(name)
                if change["back"] and name in fields and fields[name]["change"] != saw:
                    continue
                fields[name] = {"value": value, "change": change["id"], "when": change["made"], "seq": None}
                fields[name] |= {"back": change["back"], "saw": saw}
        return fields

    def edit(self, id: str, at: At, set: Json, made: str) -> Json:
        fields = self.shown(at)
        return self._put(id, at, set, {n: fields[n]["change"] if n in fields else None for n in set}, made)

    def take_back(self, id: str, change: Json, made: str) -> Json:
        """What the change set goes back to what it says stood before: here, to nothing said."""
        at = change["kind"], change["record"]
        return self._put(
            id, at, dict.fromkeys(change["set"]), dict.fromkeys(change["set"], change["id"]), made, True
        )

    def _put(self, id: str, at: At, set: Json, saw: Json, made: str, back: bool = False) -> Json:
        change = {"id": id, "v": 1, "kind": at[0], "record": at[1], "device": self.device, "made": made}
        change |= {"set": set, "saw": saw, "back": back}
        self.outbox.append(change)
        return change

    # the exchange (6 to 10)

    def request(self, device_now: str, most: int) -> Json:
        request: Json = {"device": self.device, "device_now": device_now, "logbook": self.logbook}
        request |= {"end": self.end, "after": self.cursor, "limit": 7, "offers": [], "changes": []}
        if self.logbook is None:
            return request
        again = [one for one in self.kept if one["again"]]
        if self.offers:
            every = [
                {"kind": kind, "record": record, "field": name}
                | {part: offer[part] for part in ("value", "change", "when", "back", "saw")}
                for (kind, record), fields in self.offers.items()
                for name, offer in fields.items()
            ]
            request["offers"] = every[:most]
        elif again:
            request["changes"] = [
                one["change"]
                | {
                    "given": {
                        "when": one["when"],
                        "lost": sorted(one["change"]["set"].keys() - set(one["won"])),
                    }
                }
                for one in again[:most]
            ]
        else:
            request["changes"] = self.outbox[:most]
        return json.loads(json.dumps(request))

    def hear(self, request: Json, answer: Json) -> None:
        if self.logbook != request["logbook"]:
            return
        assert not answer["refused"], answer["refused"]
        if answer["restored"]:
            self._turn_to_restored(answer)
            return
        for row in answer["changes"]:
            self._fold(row)
        for one in answer["accepted"]:
            self._acknowledged(one)
        for one in answer["offered"]:
            self._answered(one)
        if answer["safe"] > self.safe:
            self.kept = [one for one in self.kept if one["seq"] > answer["safe"] or one["again"]]
        self.logbook, self.end, self.safe = answer["logbook"], answer["end"], answer["safe"]
        self.cursor = max(self.cursor, answer["cursor"])

    def through(self, answer: Json) -> bool:
        left = self.outbox or self.offers or any(one["again"] for one in self.kept)
        return not (left or answer["more"] or answer["restored"])

    def _turn_to_restored(self, answer: Json) -> None:
        for at, fields in self.base.items():
            aside = self.offers.setdefault(at, {})
            for name, stood in fields.items():
                if name not in aside or stood["when"] >= aside[name]["when"]:
                    aside[name] = stood
        self.base = {}
        for one in self.kept:
            one["again"] = True
        self.logbook, self.end, self.cursor, self.safe = answer["logbook"], answer["end"], 0, 0

    def _into_base(self, at: At, name: str, stands: Json) -> None:
        fields = self.base.setdefault(at, {})
        if name not in fields or stands["seq"] > fields[name]["seq"]:
            fields[name] = stands

    def _fold(self, row: Json) -> None:
        for name in row["won"]:
            stands = {"value": row["set"][name], "change": row["id"], "seq": row["seq"], "when": row["when"]}
            stands |= {"back": row["back"], "saw": row["saw"].get(name)}
            self._into_base((row["kind"], row["record"]), name, stands)

    def _acknowledged(self, one: Json) -> None:
        waiting = [change for change in self.outbox if change["id"] == one["id"]]
        kept = [known["change"] for known in self.kept if known["change"]["id"] == one["id"]]
        if not waiting and not kept:
            return
        change = (waiting or kept)[0]
        self.outbox = [other for other in self.outbox if other["id"] != one["id"]]
        told = {"change": change, "seq": one["seq"], "when": one["when"], "won": one["won"], "again": False}
        if kept:
            self.kept = [told if known["change"]["id"] == one["id"] else known for known in self.kept]
        else:
            self.kept.append(told)
        self._fold({**change, **one})
        for name, winner in one["lost"].items():
            if winner is not None:
                self._into_base((change["kind"], change["record"]), name, winner)

    def _answered(self, one: Json) -> None:
        at = one["kind"], one["record"]
        aside = self.offers.get(at, {})
        if one["field"] in aside and aside[one["field"]]["change"] == one["change"]:
            del aside[one["field"]]
            if not aside:
                del self.offers[at]
        if one["winner"] is not None:
            self._into_base(at, one["field"], one["winner"])


Send = Callable[[Json], Json]


def exchange_until_through(phone: Phone, send: Send, device_now: Callable[[], str], rounds: int = 200) -> int:
    """As many exchanges as it takes; answers how many."""
    for n in range(1, rounds + 1):
        request = phone.request(device_now(), 5)
        answer = send(request)
        phone.hear(request, answer)
        if request["logbook"] is not None and phone.through(answer):
            return n
    raise AssertionError("the exchange does not come to an end")
