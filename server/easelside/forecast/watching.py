"""How keen is the watch, and what does that cost in false alarms? The figures that both sides go by."""

from collections.abc import Sequence

from easelside.errors import NotPossible
from easelside.forecast.charts import RULES, ewma
from easelside.forecast.run_lengths import ewma_run_length, run_rules_run_length

BLUNT_LOSES = 0.15  # of the pieces, for a rise of 1 in log minutes; common practice, no source
DECISION, KEENER = 8.0, 5.5
# Pieces from one false alarm to the next while all is well, rounded down. By its own model, where every third
# lot is not known yet (tests/server/test_forecast_watch.py): 54,000 and 3,900. Simulated workshops have fewer
# alarms (tests/benchmarks/edges_seen.py): one in 55,000 and in 7,000, more rarely where pieces vary little.
ONCE_IN = {DECISION: 30_000, KEENER: 3_000}
READINGS_WEIGHT, READINGS_WIDTH, READINGS_FIRST = 0.3, 3.7, 5
# Rules that look at steps have no run length from zones; simulated, 4,000 runs.
STEPS_ONCE_IN = {"nelson 3": 415.0, "nelson 4": 595.0}


def known_rules(said: Sequence[str]) -> tuple[str, ...]:
    """Of what a record says, the rules that there are."""
    return tuple(dict.fromkeys(name for name in said if name in RULES))


def once_in(decision: float, rules: Sequence[str] = (), readings: bool = False) -> int:
    """Pieces from one false alarm to the next, with all that is on together; a reading at every piece."""
    if decision not in ONCE_IN:
        raise NotPossible(detail="the watch is as usual or keener")
    rate = 1 / ONCE_IN[decision]
    zoned = [name for name in rules if name not in STEPS_ONCE_IN]
    if zoned:
        rate += 1 / run_rules_run_length(0.0, zoned)
    rate += sum(1 / STEPS_ONCE_IN[name] for name in rules if name in STEPS_ONCE_IN)
    if readings:
        rate += 1 / ewma_run_length(0.0, READINGS_WEIGHT, READINGS_WIDTH)
    return round(1 / rate)


def readings_drift(
    values_mm: Sequence[float], sigma_mm: float
) -> tuple[float, float, float, int | None] | None:
    """Of readings at one point since the setting, oldest first: centre, limits of their running mean, and the
    reading at which it drifted out of them, counted from 1. The first five say what is usual; None with
    fewer."""
    first = values_mm[:READINGS_FIRST]
    if len(values_mm) <= READINGS_FIRST or sigma_mm <= 0:
        return None
    centre = sum(first) / len(first)
    # the centre is a mean of five itself: limits as much wider as that is unsure
    wider = sigma_mm * (1 + (2 - READINGS_WEIGHT) / READINGS_WEIGHT / READINGS_FIRST) ** 0.5
    found = ewma(values_mm[READINGS_FIRST:], centre, wider, READINGS_WEIGHT, READINGS_WIDTH)
    signal = found.first_signal
    return centre, found.lower, found.upper, None if signal is None else signal + READINGS_FIRST
