"""Whatever stands in a record, yields and screws are told: nothing falls over, and JSON knows the figures."""

import json
from datetime import UTC, datetime

from hypothesis import given, settings
from hypothesis import strategies as st

from easelside.forecast import screw_slips, yield_slips
from easelside.forecast.counting import Fact
from easelside.forecast.past import Past

NOW = datetime(2026, 11, 25, 14, 0, tzinfo=UTC)
AT = st.sampled_from(
    [
        "2026-11-20T09:00:00.000Z",
        "2026-11-21T09:00:00.000Z",
        "2026-11-22T09:00:00.000Z",
        "0001-01-01T00:00:00.000Z",
        "9999-12-31T23:59:59.999Z",
        "soon",
        None,
    ]
)
ID = st.sampled_from(["a", "b", "", None, 7])
NUMBER = st.one_of(
    st.integers(-2, 40), st.floats(-1, 25), st.sampled_from([1e300, -1e300, 10**15, float("nan"), "1", None])
)
STOP = st.one_of(
    st.none(),
    st.just("odd"),
    st.fixed_dictionaries({"way": st.sampled_from(["turns", "mm", "words", 3]), "value": NUMBER}),
)
LOST = st.one_of(st.none(), st.dictionaries(st.sampled_from(["torn", "split"]), NUMBER, max_size=2))


def fact(kind: str, **fields: st.SearchStrategy[object]) -> st.SearchStrategy[Fact]:
    whole = st.fixed_dictionaries({}, optional={"removed": st.sampled_from([True, False, 1]), **fields})
    return st.builds(Fact, st.just(kind), st.sampled_from(["a", "b", "c", "d"]), whole)


SETTING = fact("setting", machine=ID, blade=ID, at=AT, middle_stop=STOP, shoulder_stop=STOP)
READING = fact(
    "reading", machine=ID, point=st.sampled_from(["middle", "shoulder", "x"]), value_mm=NUMBER, wet=ID, at=AT
)
MACHINE = fact(
    "machine",
    middle_thread=st.sampled_from(["M4", "odd", None]),
    middle_lowers=st.sampled_from(["clockwise", "anticlockwise", "down", None]),
)
BATCH = fact("batch", lot=ID, label=ID)
TALLY = fact(
    "tally",
    batch=ID,
    stage=st.sampled_from(["profiled", "formed", "odd", None]),
    at=AT,
    started=NUMBER,
    good=NUMBER,
    second_count=NUMBER,
    lost_by=LOST,
    opening=ID,
)


def unique(facts: list[Fact]) -> list[Fact]:
    return list({(one.kind, one.id): one for one in facts}.values())


@settings(max_examples=200)
@given(st.lists(st.one_of(SETTING, READING, MACHINE), max_size=16))
def test_screws_take_any_values(facts: list[Fact]) -> None:
    for slip in screw_slips.slips(Past(unique(facts), [], NOW)):
        json.dumps(slip.body, allow_nan=False)
        assert slip.observations >= 0


@settings(max_examples=200)
@given(st.lists(st.one_of(BATCH, TALLY, fact("lot", label=ID)), max_size=12))
def test_yields_take_any_values(facts: list[Fact]) -> None:
    for slip in yield_slips.slips(Past(unique(facts), [], NOW)):
        json.dumps(slip.body, allow_nan=False)
        assert slip.observations >= 0
