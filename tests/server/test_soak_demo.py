"""What the invented workshop's soaks lead to, lot by lot."""

from datetime import UTC, datetime

import pytest

from easelside.forecast.counting import Fact
from easelside.forecast.past import Past
from easelside.forecast.slip import Slip
from easelside.forecast.soak_slips import slips
from easelside.soak.foreseen import Foreseen, foresee
from seed_demo.load import changes

NOW = datetime(2026, 11, 25, 14, 0, tzinfo=UTC)
MINUTE = 60


@pytest.fixture(scope="module")
def by_label() -> dict[str, Slip]:
    rows: dict[tuple[str, str], dict[str, object]] = {}
    for change in changes(NOW):
        if change["kind"] != "piece":
            rows.setdefault((change["kind"], change["record"]), {}).update(change["set"])
    past = Past([Fact(kind, id, fields) for (kind, id), fields in rows.items()], [], NOW)
    return {past.label("lot", slip.subject) or slip.subject: slip for slip in slips(past)}


def warm(slip: Slip) -> Foreseen:
    found = foresee(slip.body, 38, 20)
    assert found is not None
    return found


def test_the_hard_lot_wants_longer_than_the_lot_that_has_marks_enough(by_label: dict[str, Slip]) -> None:
    hard, usual = warm(by_label["A"]), warm(by_label["B"])
    assert hard.ready_s > usual.upper_s
    assert hard.best_s > 60 * MINUTE
    assert 30 * MINUTE <= usual.best_s <= 33 * MINUTE


def test_only_lot_b_speaks_for_itself_the_others_say_how_many_are_wanting(by_label: dict[str, Slip]) -> None:
    assert {label: slip.body["wanting"] for label, slip in by_label.items()} == {
        "A": 3,
        "B": 0,
        "C": 3,
        "Z": 3,
        "all": 0,
    }


def test_nobody_marked_anything_too_soft_so_nothing_is_said_of_it(by_label: dict[str, Slip]) -> None:
    assert all(warm(slip).too_soft_s is None for slip in by_label.values())
