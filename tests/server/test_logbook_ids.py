"""Ids: RFC 9562's own example, order in time, the same piece on two phones."""

import os
import uuid

from easelside.logbook.ids import IdMaker, piece_id, time_ordered_id


def test_version_7_is_the_example_of_rfc_9562() -> None:
    # RFC 9562, appendix A.6: unix_ts_ms 0x017F22E279B0, rand_a 0xCC3, rand_b 0b01, 0x8C4DC0C0C07398F
    chance = (0xCC3 << 64 | 0x18C4DC0C0C07398F).to_bytes(10, "big")
    assert time_ordered_id(0x017F22E279B0, chance) == "017f22e2-79b0-7cc3-98c4-dc0c0c07398f"


def test_version_and_variant_are_those_of_the_rfc() -> None:
    made = uuid.UUID(time_ordered_id(1_700_000_000_000, os.urandom(10)))
    piece = uuid.UUID(piece_id(str(made), 12))
    assert (made.version, made.variant) == (7, uuid.RFC_4122)
    assert (piece.version, piece.variant) == (8, uuid.RFC_4122)


def test_ids_never_step_back_though_the_clock_does() -> None:
    ids = IdMaker(os.urandom)
    made = [ids.make(ms) for ms in (5_000, 5_000, 1_000, 6_000, 2_000)]
    assert made == sorted(made)
    assert len(set(made)) == 5


def test_two_phones_mean_the_same_piece() -> None:
    session = "0190a5b0-1111-7111-8111-111111111111"
    assert piece_id(session, 3) == piece_id(session, 3)
    assert piece_id(session, 3) != piece_id(session, 4)
