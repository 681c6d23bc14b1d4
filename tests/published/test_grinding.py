"""Blades away at the grinder, held against published tables."""

import pytest

from easelside.blades.grinding import Away, blades_needed, chance_without, share_without
from tests.published.reference import reference


@pytest.mark.parametrize(
    "name",
    [
        "blades away at the sharpener, mean 1: P(away <= s), expected shortage, smallest s for 95 %",
        "blades away at the sharpener, mean 3: P(away <= s), expected shortage, smallest s for 95 %",
        "blades away at the sharpener, mean 4: P(away <= s), expected shortage, smallest s for 95 %",
    ],
)
def test_blades_away_at_the_grinder(name: str) -> None:
    """One blade more is needed than `s95`, which are spare: the one in use."""
    r = reference(name)
    away, spare = Away(r.inputs["mean_away"]), r.inputs["s"]
    days = 14
    per_day = r.inputs["mean_away"] * 250 / days
    assert r.agrees_with(
        {
            "P": [away.at_most(s) for s in spare],
            "shortage": [away.shortage(s) for s in spare],
            "s95": blades_needed(250, per_day, days, 0.05) - 1,
        }
    )
    assert chance_without(3, 250, per_day, days) == pytest.approx(1 - r.expected["P"][2], abs=1e-8)


def test_erlangs_loss_when_work_rests_without_a_blade() -> None:
    """Erlang B, offered load 3"""
    r = reference("Erlang B, offered load 3")
    assert r.agrees_with([share_without(n, r.inputs["a"]) for n in r.inputs["n"]])
