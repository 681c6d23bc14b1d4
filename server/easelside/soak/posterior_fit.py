"""Which ready times go with what was found, and how sure is each?

Each soak has a threshold of its own, log-normal about the lot's usual one: below it the piece is still hard;
beyond it, by a window that the maker's eye sets, too soft. A mark says on which side of the two it lay
(ordered probit, censored on both sides). What is known beforehand is common practice, wide; the posterior is
summed on a grid, so its ranges need no approximation. One mark in fifty is taken to be a slip of the thumb.
"""

from collections.abc import Callable

import numpy as np
import numpy.typing as npt
from scipy.special import ndtr

from easelside.soak.marks import SoakMark

Real = npt.NDArray[np.float64]

# priors: starting values without a source, wide enough that eight marks overrule them
READY_SD = 0.6  # of ln(ready time) about practice: 9 times in 10 between 0.4 and 2.7 times of it
SPREAD, SPREAD_SD = 0.15, 0.5  # of one lot's soaks about their usual time, and how sure of that in ln
WINDOW, WINDOW_SD = 0.9, 0.6  # ln(too soft / ready): too soft at two and a half times ready
SLIP_OF_THUMB = 0.02

LEVEL = 0.9
CLEARLY_BETTER = 0.05  # chance of good
COARSE, FINE = (7, 19, 5, 5), (7, 49, 5, 5)  # energies, middles, spreads, windows


class Posterior:
    """Weights on a grid of energy, middle, spread, window; all but the middle counted in sd of their prior.

    `effective(step)`: ln of the effective time of each mark, and of practice, where warmth speeds a soak by
    so many sd more than is taken beforehand. `tells_energy`: whether the marks' waters differ enough.
    """

    def __init__(
        self,
        marks: list[SoakMark],
        effective: Callable[[float], tuple[Real, float]],
        tells_energy: bool,
        weighed: tuple[float, float] | None,
    ) -> None:
        self._told = np.array([m.mark is not None for m in marks], bool)
        self._kind = np.array([m.mark for m in marks if m.mark is not None], dtype="U10")
        self._times = np.array([m.times for m in marks if m.mark is not None], float)
        self._effective, self._weighed = effective, weighed
        axes = [
            np.linspace(low, high, count if high > low else 1)
            for (low, high), count in zip(self._box(tells_energy), FINE, strict=True)
        ]
        log = self._log(*axes)
        weights = np.exp(log - log.max())
        weights /= weights.sum()
        energies, self.middles, spreads, windows = axes[0], axes[1], _spreads(axes[2]), _windows(axes[3])
        of_energy = weights.sum(axis=(1, 2, 3))
        self.energy_step = float(of_energy @ energies)
        self.energy_sd = (
            float(np.sqrt(of_energy @ (energies - self.energy_step) ** 2)) if tells_energy else 1.0
        )
        self._weights: Real = weights.sum(axis=0)
        self.mean_spread = float(self._weights.sum(axis=(0, 2)) @ spreads)
        self.mean_window = float(self._weights.sum(axis=(0, 1)) @ windows)
        flat = self._weights.ravel()
        kept = np.flatnonzero(flat > 1e-4 * flat.max())
        m, s, w = np.unravel_index(kept, self._weights.shape)
        self._flat = flat[kept] / flat[kept].sum()
        self._m, self._s, self._w = self.middles[m], spreads[s], windows[w]
        side = 3 * float(self._s.max())
        self._v = np.linspace(float(self._m.min()) - side, float((self._m + self._w).max()) + side, 81)
        self._is_ready = self._chance(self._m)
        self._is_soft = self._chance(self._m + self._w)

    def _box(self, tells_energy: bool) -> list[tuple[float, float]]:
        """Where the posterior is not next to nothing, axis by axis, closed in on by ever finer grids."""
        x, prior = self._effective(0.0)
        reach = np.append(x, prior)
        box = [
            (-3.0, 3.0) if tells_energy else (0.0, 0.0),
            (min(reach.min(), prior - 3) - 1, max(reach.max(), prior + 3) + 1),
            (-2.5, 2.5),
            (-2.5, 2.5),
        ]
        for _ in range(8):
            axes = [
                np.linspace(low, high, count if high > low else 1)
                for (low, high), count in zip(box, COARSE, strict=True)
            ]
            log = self._log(*axes)
            closer = []
            for i, ((low, high), axis) in enumerate(zip(box, axes, strict=True)):
                best = log.max(axis=tuple(j for j in range(4) if j != i))
                near, step = axis[best > best.max() - 9], (high - low) / max(1, len(axis) - 1)
                closer.append((max(low, near[0] - step), min(high, near[-1] + step)))
            left = [(b[1] - b[0]) / (a[1] - a[0]) for a, b in zip(box, closer, strict=True) if a[1] > a[0]]
            box = closer
            if min(left) > 0.7:
                break
        return box

    def _log(self, energies: Real, middles: Real, spread_steps: Real, window_steps: Real) -> Real:
        """ln of the posterior, but for a constant: energy x middle x spread x window."""
        m, s, w = (
            middles[:, None, None],
            _spreads(spread_steps)[None, :, None],
            _windows(window_steps)[None, None, :],
        )
        beforehand = -(spread_steps[:, None] ** 2) / 2 - window_steps[None] ** 2 / 2
        parts = []
        for step in energies:
            x, prior = self._effective(float(step))
            known = -(((middles - prior) / READY_SD) ** 2) / 2 - step**2 / 2
            if self._weighed is not None:
                known -= ((middles - self._weighed[0]) / self._weighed[1]) ** 2 / 2
            total = known[:, None, None] + beforehand[None]
            for kind in ("still_hard", "good", "too_soft"):
                here = self._kind == kind
                if not here.any():
                    continue
                at, times = x[self._told][here], self._times[here]
                ready = 1.0 if kind == "too_soft" else ndtr((at - m[..., None]) / s[..., None])
                soft = 0.0 if kind == "still_hard" else ndtr((at - (m + w)[..., None]) / s[..., None])
                chance = 1 - ready if kind == "still_hard" else ready - soft if kind == "good" else soft
                seen = (1 - SLIP_OF_THUMB) * chance + SLIP_OF_THUMB / 3
                total = total + np.log(seen) @ times
            parts.append(total)
        return np.stack(parts)

    def _chance(self, thresholds: Real) -> Real:
        """Chance that a threshold of the next soak lies below each value of the grid."""
        return np.asarray(ndtr((self._v[:, None] - thresholds) / self._s) @ self._flat)

    def middle(self, q: float) -> float:
        """Quantile of ln(usual ready dose)."""
        weights = self._weights.sum(axis=(1, 2))
        below = np.cumsum(weights) - weights / 2
        return float(np.interp(q, below, self.middles))

    def next_ready(self) -> tuple[float, float]:
        lower, upper = np.interp([(1 - LEVEL) / 2, (1 + LEVEL) / 2], self._is_ready, self._v)
        return float(lower), float(upper)

    def too_soft(self) -> tuple[float, float, float]:
        """The usual too-soft dose, and where the next soak's lies 9 times in 10; ln."""
        found = np.interp([0.5, (1 - LEVEL) / 2, (1 + LEVEL) / 2], self._is_soft, self._v)
        return float(found[0]), float(found[1]), float(found[2])

    def best(self) -> float:
        """Where good is most likely; the middle of the maker's own good marks, unless clearly worse.

        Where nothing was marked: when it is ready, for nobody has said yet how long it stays good.
        """
        if not len(self._kind):
            return self.middle(0.5)
        good = self._is_ready - self._is_soft
        is_good, x = self._kind == "good", self._effective(self.energy_step)[0][self._told]
        own = np.repeat(x[is_good], self._times[is_good].astype(int))
        if len(own):
            usual = float(np.median(own))
            if float(np.interp(usual, self._v, good)) >= good.max() - CLEARLY_BETTER:
                return usual
        return float(self._v[good.argmax()])


def _spreads(steps: Real) -> Real:
    """Spreads so many standard deviations from what is taken beforehand."""
    return np.asarray(SPREAD * np.exp(SPREAD_SD * steps))


def _windows(steps: Real) -> Real:
    return np.asarray(WINDOW * np.exp(WINDOW_SD * steps))
