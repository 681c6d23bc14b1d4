"""What does a turn of this screw really do? Learned from readings before and after it was moved."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from easelside.set_up.screw import ScrewEffect

# Before anything was measured: a stop does what its thread says, give or take a quarter; some hundredths are
# lost on turning back; a lock nut moves it by a hundredth. No source; a few measured moves overrule them.
PRIOR_MEAN = np.array([1.0, 0.02, 0.0])
PRIOR_SD = np.array([0.25, 0.02, 0.01])
REPEATS_MM = 0.006
PIECE_MM, PIECE_WEIGHS = 0.015, 4  # one piece from the next, as if seen on four


@dataclass(frozen=True)
class Measured:
    """One move: how far the stop went up by its thread, and the pieces measured before and after it."""

    raised_mm: float
    turned_back: bool
    before_mm: tuple[float, ...]
    after_mm: tuple[float, ...]


def fit_screw(moves: Sequence[Measured]) -> ScrewEffect:
    """
    A regression of the change of thickness on the height moved, through backlash and creep (normal, Bayesian
    by the weak prior above).

    Moves without a reading on both sides say nothing and are passed over; with none at all the prior is left.
    """
    told = [move for move in moves if move.before_mm and move.after_mm and move.raised_mm]
    piece = _piece_mm(told)
    precision = np.diag(1 / PRIOR_SD**2)
    pull = precision @ PRIOR_MEAN
    for move in told:
        sign = np.sign(move.raised_mm)
        says = np.array([move.raised_mm, -sign if move.turned_back else 0.0, 1.0])
        change = np.mean(move.after_mm) - np.mean(move.before_mm)
        error2 = piece**2 * (1 / len(move.before_mm) + 1 / len(move.after_mm)) + REPEATS_MM**2
        precision += np.outer(says, says) / error2
        pull += says * change / error2
    covariance = np.linalg.inv(precision)
    effect, backlash, creep = (covariance @ pull).tolist()
    (kk, _, _), (bk, bb, _), (ck, cb, cc) = covariance.tolist()
    # where a screw seems to do nothing or the contrary, the readings are wrong rather than the thread
    return ScrewEffect(
        max(0.2, effect), backlash, creep, (kk, bk, bb, ck, cb, cc), REPEATS_MM, piece, len(told)
    )


def _piece_mm(moves: Sequence[Measured]) -> float:
    """How one piece differs from the next at the same setting."""
    groups = [
        np.array(group) for move in moves for group in (move.before_mm, move.after_mm) if len(group) > 1
    ]
    squares = sum(float(((group - group.mean()) ** 2).sum()) for group in groups)
    free = sum(len(group) - 1 for group in groups)
    return float(np.sqrt((squares + PIECE_MM**2 * PIECE_WEIGHS) / (free + PIECE_WEIGHS)))
