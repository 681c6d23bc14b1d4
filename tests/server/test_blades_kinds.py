"""Which blades last otherwise than the others?"""

import random

from easelside.blades.kinds import last_otherwise

SOFT, HARD = [198, 219, 231, 244, 258, 268], [900, 980, 1010, 1100]


def kinds_of(*groups: tuple[str | None, list[int], bool]) -> frozenset[str]:
    rows = [(n, over, kind) for kind, lives, over in groups for n in lives]
    pieces, ended, kind = zip(*rows, strict=True)
    return last_otherwise(pieces, ended, kind)


def test_a_blade_whose_edges_last_four_times_as_long_stands_apart() -> None:
    found = kinds_of(("soft", SOFT[::2], True), ("other", SOFT[1::2], True), ("hard", HARD, True))
    assert found == {"hard"}


def test_two_edges_prove_nothing() -> None:
    assert kinds_of(("soft", SOFT, True), ("hard", HARD[:2], True)) == frozenset()


def test_edges_that_still_cut_do_not_count_as_ended() -> None:
    assert kinds_of(("soft", SOFT, True), ("hard", HARD, False)) == frozenset()


def test_what_no_kind_is_known_of_belongs_to_the_rest() -> None:
    assert kinds_of((None, SOFT, True), ("hard", HARD, True)) == {"hard"}


def test_blades_alike_seldom_stand_apart() -> None:
    """However edges of one law fall on four blades, more than one looks otherwise once in twenty at most."""
    chance, many = random.Random(20261125), 0
    for _ in range(200):
        lives = chance.sample(mixed := [*SOFT, *SOFT, 210, 225, 236, 249], len(mixed))
        many += len(kinds_of(*((name, lives[k::4], True) for k, name in enumerate("abcd")))) > 1
    assert many <= 10
