"""Simulated workshops: are edges seen before they spoil a piece, and seldom in vain? The benchmark, small."""

import numpy as np

from easelside.forecast.watching import DECISION
from tests.benchmarks.edges_seen import Assumed, Edge, Year, _count, years


def test_most_edges_are_seen_before_they_spoil_a_piece_and_few_in_vain() -> None:
    """Eight workshops, a year each: some 34 edges. 93 % are seen in the long run, 0.02 a year in vain."""
    found = years(8, 11, DECISION, Assumed())
    off, seen = sum(y.spoiled for y in found), sum(y.seen_first for y in found)
    assert off >= 24
    assert seen / off >= 0.8
    assert sum(y.in_vain for y in found) <= 2


def test_an_edge_spoils_nothing_until_it_takes_a_quarter_longer() -> None:
    edge = Edge(100, 0.01, 0.0, None, 0.22, 0.15)
    edge.age = 122
    assert edge.spoils == 0
    edge.age = 132
    assert round(edge.spoils, 4) == 0.015
    assert edge.is_off and not edge.is_changed


def test_being_told_after_the_first_spoiled_piece_does_not_count_as_seen() -> None:
    for told_at, seen in ((150, 1), (160, 0), (None, 0)):
        year, edge = Year(), Edge(100, 0.01, 0.0, None, 0.22, 0.15, age=170, spoiled_at=155)
        _count(year, edge, told_at, np.random.default_rng(1))
        assert (year.spoiled, year.seen_first) == (1, seen)
