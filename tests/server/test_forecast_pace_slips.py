"""The slips of pace and watch: what they say with few pieces and many, and the maker's own choices."""

import json
from datetime import UTC, datetime, timedelta
from typing import Any

import numpy as np
import pytest

from easelside.forecast import pace_slips, watch_slips
from easelside.forecast.counting import Fact
from easelside.forecast.past import Past
from easelside.forecast.slip import Slip
from easelside.forecast.watching import DECISION, KEENER, once_in
from easelside.units import write_instant

NOW = datetime(2026, 11, 25, 14, 0, tzinfo=UTC)
BEGAN = datetime(2026, 3, 1, 9, 0, tzinfo=UTC)


def workshop(
    pieces: dict[str, int], machine: dict[str, Any] | None = None, more: tuple[Fact, ...] = (), turns: int = 0
) -> Past:
    """One machine and blade; so many pieces of each lot, one after the other, 24 a day, about 3 minutes."""
    chance = np.random.default_rng(5)
    facts = [
        Fact("machine", "m", {"name": "One", "does": "profile", **(machine or {})}),
        Fact("blade", "b", {"label": "3"}),
        Fact(
            "blade_move",
            "v",
            {"blade": "b", "machine": "m", "what": "fitted", "at": write_instant(BEGAN - timedelta(days=1))},
        ),
        *more,
    ]
    rows: list[tuple[Any, ...]] = []
    of_all = [lot for lot, n in pieces.items() for _ in range(n)]
    for lot in pieces:
        facts += [
            Fact("lot", lot, {"label": lot}),
            Fact("batch", f"batch {lot}", {"lot": lot, "label": f"{lot}1"}),
        ]
    for i, lot in enumerate(of_all):
        day, n = divmod(i, 24)
        session, at = f"s{day:03}", BEGAN + timedelta(days=day, minutes=3 * n)
        if n == 0:
            facts.append(Fact("session", session, {"machine": "m", "began": write_instant(at)}))
        minutes = float(np.exp(1.1 + (0.25 if lot == "hard" else 0) + chance.normal(0, 0.1)))
        count = int(chance.poisson(9)) if turns else 0
        rows.append((session, n + 1, f"batch {lot}", "m", "good", write_instant(at), minutes, count, True))
    return Past(facts, rows, NOW)


def said(past: Past) -> dict[tuple[str, str], Slip]:
    found = {(s.kind, s.subject): s for module in (pace_slips, watch_slips) for s in module.slips(past)}
    json.dumps([slip.body for slip in found.values()], allow_nan=False)
    return found


def test_without_pieces_the_slip_says_how_many_are_wanting() -> None:
    found = said(workshop({}))
    assert found["minutes", "all"].body == {"wanting": 24}
    assert ("watch", "m") not in found


def test_with_fifteen_pieces_of_a_lot_nine_more_are_wanting() -> None:
    found = said(workshop({"A": 60, "B": 15}))
    assert found["minutes", "B"].body["wanting"] == 9
    assert found["minutes", "B"].observations == 15
    assert "wanting" not in found["minutes", "A"].body
    assert found["minutes", "all"].body["last"] == "B"


def test_a_hard_lot_stands_beside_the_others() -> None:
    body = said(workshop({"A": 96, "hard": 96, "B": 96}))["minutes", "hard"].body
    beside = body["beside"]
    assert isinstance(beside, dict)
    assert beside["slower"] == pytest.approx(0.25, abs=3 * float(str(beside["error"])))
    assert beside["lots"] == 2


def test_turns_are_foreseen_only_where_they_were_counted() -> None:
    assert ("turns", "all") not in said(workshop({"A": 60}))
    body = said(workshop({"A": 60}, turns=1))["turns", "A"].body
    assert np.exp(float(str(body["centre"]))) == pytest.approx(9, rel=0.25)


def test_few_pieces_on_a_machine_are_not_watched_yet() -> None:
    assert said(workshop({"A": 14}))["watch", "m"].body["wanting"] == 10


def test_an_edge_that_is_well_is_not_named() -> None:
    body = said(workshop({"A": 96, "B": 96}))["watch", "m"].body
    assert "named" not in body
    assert (body["decision"], body["once_in"]) == (DECISION, once_in(DECISION))
    assert body["choices"] == {"usual": once_in(DECISION), "keener": once_in(KEENER)}
    assert body["edge"] == {"blade": "b", "life": 1}
    lots = body["lots"]
    assert isinstance(lots, dict) and set(lots) == {"A", "B"}


def test_the_maker_can_have_it_keener_and_choose_run_rules_and_the_good_stretch() -> None:
    own = {"watch_keener": True, "watch_rules": ["western electric 1", "no rule"], "good_pieces": 48}
    body = said(workshop({"A": 96}, own))["watch", "m"].body
    assert body["decision"] == KEENER
    assert body["rules"] == ["western electric 1"]
    assert body["once_in"] == once_in(KEENER, ["western electric 1"]) < 400
    assert body["good"] == 48


def test_readings_that_creep_after_the_setting_are_told() -> None:
    at = BEGAN + timedelta(hours=1)
    setting = Fact("setting", "t", {"machine": "m", "at": write_instant(at)})
    readings = [
        Fact(
            "reading",
            f"r{i:02}",
            {"machine": "m", "point": "middle", "value_mm": 0.45 + max(0, i - 8) * 0.01, "wet": True,
             "at": write_instant(at + timedelta(minutes=4 * i))},
        )
        for i in range(30)
    ]  # fmt: skip
    body = said(workshop({"A": 96}, more=(setting, *readings)))["watch", "m"].body
    told = body["readings"]
    assert isinstance(told, list) and isinstance(told[0], dict)
    assert (told[0]["point"], told[0]["wet"]) == ("middle", True)
    assert isinstance(told[0]["drifted_at"], int) and 8 < told[0]["drifted_at"] < 25
