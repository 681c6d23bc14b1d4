"""What law do the lives of this workshop's edges follow, those that still cut among them?"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.optimize import brentq
from scipy.special import ndtri

from easelside.arguments import chance
from easelside.blades.grinding import blades_needed as blades_needed
from easelside.blades.life import LifeFit, Node, checked
from easelside.blades.life import PiecesLeft as PiecesLeft
from easelside.blades.life import Survival as Survival
from easelside.blades.life import chance_of_lasting as chance_of_lasting
from easelside.blades.life import log_rank as log_rank
from easelside.blades.life import pieces_left as pieces_left
from easelside.blades.life import survival as survival
from easelside.errors import NotPossible

Real = npt.NDArray[np.float64]
LEVEL = 0.95  # of the intervals, as published tables have them; a screen asks for its own
STEEPEST = 500.0
LIGHTEST_NODE = 2e-3
WIDEST_ERROR = 20.0  # of a logarithm: nothing is known of what may be 400 million times as long


@dataclass(frozen=True)
class LifePrior:
    """What is known before the first edge has ended: means and standard deviations of the logarithms.

    Common practice, no source: soft steel wants a look after 200 to 300 pieces, other steels last far longer;
    edges wear, so a law that forgets how much was cut (a shape of 1) is unlikely. Some six edges overrule it.
    """

    log_shape: float = math.log(3.0)
    log_shape_sd: float = 0.5
    log_scale: float = math.log(280.0)
    log_scale_sd: float = 0.6


PRACTICE = LifePrior()


def fit_life(pieces: Sequence[float], ended: Sequence[bool], level: float = LEVEL) -> LifeFit:
    """The Weibull law of edges' lives by maximum likelihood; `ended` False: it still cuts (right-censored).

    Pieces above 0. Intervals at `level` from the observed information, on the scale of logarithms. Two edges
    have to have ended at different counts (or one, with one that lasted longer); else NotPossible.
    """
    level = chance(level, "the level")
    times, over = _columns(pieces, ended)
    if not over.any() or times[over].min() == times.max():
        raise NotPossible(detail="too few edges have ended at different counts of pieces")
    logs = np.log(times / times.max())  # of the longest: no power overflows
    mean_of_ended = float(logs[over].mean())

    def slope(log_shape: float) -> float:
        shape = math.exp(log_shape)
        powers = np.exp(shape * logs)
        return float((powers * logs).sum() / powers.sum()) - 1 / shape - mean_of_ended

    high = math.log(STEEPEST)
    if slope(high) < 0:
        raise NotPossible(detail="the edges all ended at the same count of pieces")
    shape = math.exp(brentq(slope, math.log(1e-3), high, xtol=1e-13, rtol=1e-13))
    scale = float(times.max() * np.exp(np.log(np.exp(shape * logs).sum() / over.sum()) / shape))
    shape_error, scale_error = _errors(times, over, shape, scale)
    if not max(shape_error, scale_error) < WIDEST_ERROR:
        raise NotPossible(detail="the edges ended at counts so far apart that they follow no law")
    z = float(ndtri((1 + level) / 2))
    return LifeFit(
        shape,
        scale,
        _around(shape, z * shape_error),
        _around(scale, z * scale_error),
        level,
        ended=int(over.sum()),
        observations=len(times),
        log_likelihood=_log_likelihood(times, over, shape, scale),
        nodes=(Node(shape, scale, 1.0),),
    )


def life_of(
    pieces: Sequence[float], ended: Sequence[bool], level: float = 0.9, prior: LifePrior = PRACTICE
) -> LifeFit:
    """The same law for few edges, or none: a weak prior enters, and what is not known stays in `nodes`.

    Shape and scale are the posterior's medians, the intervals its own at `level`. The posterior is laid out
    on a grid over the two logarithms.
    """
    level = chance(level, "the level")
    times, over = _columns(pieces, ended)
    log_shape, log_scale, weight = _posterior(times, over, prior)
    z = (1 - level) / 2
    shape = [math.exp(_quantile(log_shape, weight.sum(axis=1), q)) for q in (0.5, z, 1 - z)]
    scale = [math.exp(_quantile(log_scale, weight.sum(axis=0), q)) for q in (0.5, z, 1 - z)]
    return LifeFit(
        shape[0],
        scale[0],
        (shape[1], shape[2]),
        (scale[1], scale[2]),
        level,
        ended=int(over.sum()),
        observations=len(times),
        log_likelihood=math.nan,
        nodes=_nodes(log_shape, log_scale, weight),
    )


def _columns(pieces: Sequence[float], ended: Sequence[bool]) -> tuple[Real, npt.NDArray[np.bool_]]:
    edges = [(count, over) for count, over in checked(pieces, ended) if count > 0]
    return np.array([count for count, _ in edges]), np.array([over for _, over in edges], np.bool_)


def _around(value: float, error: float) -> tuple[float, float]:
    return value * math.exp(-error), value * math.exp(error)


def _log_likelihood(times: Real, over: npt.NDArray[np.bool_], shape: float, scale: float) -> float:
    z = shape * np.log(times / scale)
    return float((math.log(shape) + z - np.log(times))[over].sum() - np.exp(z).sum())


def _errors(times: Real, over: npt.NDArray[np.bool_], shape: float, scale: float) -> tuple[float, float]:
    """Standard errors of the logarithms of shape and scale, by the observed information at the maximum."""
    z = shape * np.log(times / scale)
    hazard = np.exp(z)
    of_scale = shape**2 * hazard.sum()
    of_shape = (hazard * (z**2 + z)).sum() - z[over].sum()
    between = -shape * (hazard * z).sum()
    determinant = float(of_scale * of_shape - between**2)
    if not determinant > 0:
        raise NotPossible(detail="the edges all ended at nearly the same count of pieces")
    return math.sqrt(float(of_scale) / determinant), math.sqrt(float(of_shape) / determinant)


GRID = 41
WIDEST = 4.0


def _posterior(times: Real, over: npt.NDArray[np.bool_], prior: LifePrior) -> tuple[Real, Real, Real]:
    """Weights over a grid of log shape by log scale: first over the prior, then where the weight is."""
    spans = [(prior.log_shape, prior.log_shape_sd), (prior.log_scale, prior.log_scale_sd)]
    if len(times):
        # A workshop whose edges last ten times as long lies outside of the prior's span: reach to its data.
        longest = float(np.log(times).max())
        reach = max(prior.log_scale_sd, abs(longest - prior.log_scale) / 2)
        spans[1] = (prior.log_scale, reach)
    axes = [np.linspace(mean - WIDEST * sd, mean + WIDEST * sd, GRID) for mean, sd in spans]
    for _ in range(3):
        weight = _weights(times, over, prior, axes[0], axes[1])
        axes = [_narrowed(axis, weight.sum(axis=1 - i)) for i, axis in enumerate(axes)]
    return axes[0], axes[1], _weights(times, over, prior, axes[0], axes[1])


def _weights(
    times: Real, over: npt.NDArray[np.bool_], prior: LifePrior, log_shape: Real, log_scale: Real
) -> Real:
    logs = np.log(times)
    shape = np.exp(log_shape)[:, None]
    z = shape[:, :, None] * (logs[None, None, :] - log_scale[None, :, None])
    ends = int(over.sum())
    with np.errstate(over="ignore"):
        log = ends * log_shape[:, None] + z[:, :, over].sum(axis=2) - np.exp(z).sum(axis=2)
    log = log - 0.5 * ((log_shape[:, None] - prior.log_shape) / prior.log_shape_sd) ** 2
    log = log - 0.5 * ((log_scale[None, :] - prior.log_scale) / prior.log_scale_sd) ** 2
    weight = np.exp(log - log.max())
    return np.asarray(weight / weight.sum(), np.float64)


def _narrowed(axis: Real, weight: Real) -> Real:
    mean = float((axis * weight).sum() / weight.sum())
    spread = math.sqrt(float(((axis - mean) ** 2 * weight).sum() / weight.sum()))
    step = float(axis[1] - axis[0])
    half = WIDEST * max(spread, step)
    return np.linspace(mean - half, mean + half, GRID)


def _quantile(axis: Real, weight: Real, chance: float) -> float:
    so_far = np.cumsum(weight) - weight / 2
    return float(np.interp(chance, so_far / weight.sum(), axis))


NODES = 9


def _nodes(log_shape: Real, log_scale: Real, weight: Real) -> tuple[Node, ...]:
    """A few laws that stand for the whole grid: each for the weight round it, at that weight's own middle."""
    cells = np.minimum(np.arange(GRID) * NODES // GRID, NODES - 1)
    shape_grid, scale_grid = np.meshgrid(log_shape, log_scale, indexing="ij")
    cell = (cells[:, None] * NODES + cells[None, :]).ravel()
    flat = weight.ravel()
    mass = np.bincount(cell, flat, NODES * NODES)
    kept = np.flatnonzero(mass > LIGHTEST_NODE)
    shapes = np.exp(np.bincount(cell, flat * shape_grid.ravel(), NODES * NODES)[kept] / mass[kept])
    scales = np.exp(np.bincount(cell, flat * scale_grid.ravel(), NODES * NODES)[kept] / mass[kept])
    total = float(mass[kept].sum())
    return tuple(
        Node(float(a), float(b), float(m) / total) for a, b, m in zip(shapes, scales, mass[kept], strict=True)
    )
