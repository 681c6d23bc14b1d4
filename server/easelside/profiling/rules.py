"""What became of a piece, and which sessions were really one?"""

from collections.abc import Iterable, Mapping

from easelside.profiling.model import Piece, Session
from easelside.profiling.pace import minutes_ahead as minutes_ahead
from easelside.profiling.pace import sharpness as sharpness


def outcome_of(piece: Piece) -> str | None:
    """What the piece counts as: the latest outcome that stands; None while it is not finished."""
    return piece.outcomes[-1][1] if piece.outcomes else None


def number_cut_at(piece: Piece, pieces: Mapping[str, Piece]) -> int | None:
    """The place of a piece in its session; one that was parted from another was cut beside that one."""
    seen = {piece.id}
    while (origin := pieces.get(piece.parted_from or "")) and origin.id not in seen:
        seen.add(origin.id)
        piece = origin
    return piece.number


def first_of(session: Session, sessions: Mapping[str, Session]) -> Session:
    """The session that this one was joined to in the end; itself where it was not."""
    met = [session.id]
    while other := sessions.get(session.joined_to or ""):
        if other.id in met:  # joined to each other: the first id of the ring stands for all
            return sessions[min(met[met.index(other.id) :])]
        met.append(other.id)
        session = other
    return session


def counted_once(sessions: Iterable[Session]) -> list[Session]:
    """Sessions as a person counts them: those that were joined are one."""
    known = {session.id: session for session in sessions}
    return [known[id] for id in sorted({first_of(session, known).id for session in known.values()})]
