"""Whatever the network, the clocks and the backups do: all end equal, and nothing is lost."""

import pytest

from tests.server.schedules import run_one

FIRST, COUNT, AT_ONCE = 7_000, 320, 20


@pytest.mark.parametrize("seed", range(FIRST, FIRST + COUNT, AT_ONCE))
def test_phones_and_server_end_equal_with_nothing_lost(seed: int) -> None:
    for one in range(seed, seed + AT_ONCE):
        run_one(one, steps=50, deep=one % 40 == 0)


@pytest.mark.parametrize("seed", [1_000_206, 1_003_339, 5_000_250])
def test_what_once_went_wrong_stays_right(seed: int) -> None:
    run_one(seed)
