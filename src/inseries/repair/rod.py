"""The first course of a coronary as an elastic rod: the curve that bends least between two ends.

The direction of the rod is written by two angles along its length, azimuth and elevation: a
straight run between their ends and a few sine waves. Bending is smooth in the waves' heights, so
a handful describes an elastica to many digits. Newton's method with exact second derivatives
finds the least bending whose ends meet; many rods are solved abreast.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from inseries.repair.frames import TURN, turned

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

# chosen: waves per angle, and points of the Gauss rule; the quarter circle and the post-buckled
# shape hold to five digits with these
WAVES = 8
POINTS = 20
# chosen: steps to close the ends, convex steps, and exact Newton steps
CLOSING, CONVEX, EXACT = 25, 6, 12
# chosen: longest step of a wave's height, radians
LONGEST_STEP = 0.5
# chosen: height of the second wave from which both sides of a buckled rod are tried
SEED = 0.35
# chosen: turns beyond which the other way round is tried too; short vessels make no loop
BOTH_WAYS_DEG = 120.0
# chosen: a step so short that the search is over, radians
SETTLED = 1e-5
# chosen: ends that meet to a hundredth of a millimetre
MEETS_MM = 0.01
# chosen: rows of one product, few enough that it stays on one core; more wait for other cores
ABREAST = 64
# chosen: small weight that keeps the first steps regular
SMALL = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Rods:
    """Solved rods abreast.

    Parameters
    ----------
    length_mm : array, shape (n,), length of the curve
    bending_per_mm : array, shape (n,), half the integral of curvature squared
    curvature_per_mm : array, shape (n,), greatest curvature
    path_mm : array, shape (n, points, 3), the curve from first to second end
    turn_deg : array, shape (n,), how far the curve turns a marked edge about its axis, against
        the same edge held upright at both ends
    met : array of bool, shape (n,), whether the ends meet
    """

    length_mm: Array
    bending_per_mm: Array
    curvature_per_mm: Array
    path_mm: Array
    turn_deg: Array
    met: NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class _Basis:
    at: Array  # points in [0, 1], shape (q,)
    weight: Array
    wave: Array  # shape (q, k)
    slope: Array
    products: Array  # weighted products of two columns: waves, slopes, slope and wave; (3q, k * k)


def _basis(at: Array, weight: Array) -> _Basis:
    phase: Array = np.pi * np.arange(1, WAVES + 1, dtype=np.float64)
    angle: Array = at[:, None] * phase
    slope: Array = np.asarray(phase * np.cos(angle), dtype=np.float64)
    wave: Array = np.asarray(np.sin(angle), dtype=np.float64)

    def products(one: Array, other: Array) -> Array:
        return (weight[:, None, None] * one[:, :, None] * other[:, None, :]).reshape(len(at), -1)

    pairs = ((wave, wave), (slope, slope), (slope, wave))
    return _Basis(at, weight, wave, slope, np.concatenate([products(*pair) for pair in pairs]))


@cache
def _gauss() -> _Basis:
    nodes, weights = np.polynomial.legendre.leggauss(POINTS)
    return _basis((nodes + 1.0) / 2.0, weights / 2.0)


@dataclass(slots=True)
class _State:
    ends: Array  # azimuth and elevation at both ends, shape (n, 4), radians
    span: Array  # from first to second end, shape (n, 3), mm
    free: Array  # unloaded length, shape (n,)
    axial: Array  # stretching over bending stiffness, shape (n,), 1/mm2; infinite: no stretch
    waves: Array  # shape (n, 2k)
    length: Array  # shape (n,)

    def angles(self, basis: _Basis) -> tuple[Array, Array, Array, Array]:
        """Azimuth, elevation and their slopes per whole length, each of shape (n, q)."""
        a, b = self.waves[:, :WAVES], self.waves[:, WAVES:]
        first, last, low, high = (self.ends[:, [i]] for i in range(4))
        return (
            first + (last - first) * basis.at + a @ basis.wave.T,
            low + (high - low) * basis.at + b @ basis.wave.T,
            last - first + a @ basis.slope.T,
            high - low + b @ basis.slope.T,
        )


def solve_rods(
    *,
    span_mm: Array,
    first: Array,
    last: Array,
    free_mm: Array,
    radius_mm: Array | None = None,
    both_sides: bool = True,
) -> Rods:
    """The curves of least bending between two ends with given directions.

    Parameters
    ----------
    span_mm : array, shape (n, 3), from the first to the second end, mm
    first, last : array, shape (n, 3), directions of the curve at its ends, not upright
    free_mm : array, shape (n,), length of the unloaded rod, mm
    radius_mm : array, shape (n,), middle radius of the tube. A thin tube of radius r resists
        stretch by 2/r² of its bending stiffness: its length then follows. None: no stretch
    both_sides : bool, whether both sides of a buckled rod and both ways round are tried and the
        least energy kept; half the work without, for rods that are neighbours of one another

    Returns
    -------
    Rods

    Holds when: curvature times radius is small; the wall is one elastic material; inner pressure,
    which stiffens a vessel, is left out, so that curvature is told on the high side.
    """
    axial = np.full(len(free_mm), np.inf) if radius_mm is None else 2.0 / radius_mm**2
    best: _State | None = None
    least = np.full(len(free_mm), np.inf)
    tries = ((0.0, 1.0), (0.0, -1.0), (1.0, 1.0)) if both_sides else ((0.0, 1.0),)
    for way, side in tries:
        rows = np.arange(len(free_mm)) if way == 0.0 else np.flatnonzero(_far(first, last))
        ends = (each[rows] for each in (span_mm, first, last, free_mm, axial))
        state = _start(*ends, way=way, side=side)
        _close(state)
        _relax(state)
        energy = _energy(state)
        better = energy < least[rows]
        least[rows[better]] = energy[better]
        best = state if best is None else _picked(best, state, rows, better)
    if best is None:  # pragma: no cover - the loop above is never empty
        raise AssertionError
    return _told(best)


def _turn(first: Array, last: Array) -> Array:
    """How far the azimuth turns from one end to the other, the shorter way, radians."""
    begin, end = np.arctan2(first[:, 0], first[:, 1]), np.arctan2(last[:, 0], last[:, 1])
    return np.deg2rad(turned(np.rad2deg(end - begin)))


def _far(first: Array, last: Array) -> NDArray[np.bool_]:
    """Rods that turn so far that the other way round may bend less."""
    return np.abs(_turn(first, last)) > np.deg2rad(BOTH_WAYS_DEG)


def _start(
    span: Array, first: Array, last: Array, free: Array, axial: Array, *, way: float, side: float
) -> _State:
    begin, turn = np.arctan2(first[:, 0], first[:, 1]), _turn(first, last)
    round_about = np.where(turn >= 0.0, -1.0, 1.0) * way * np.deg2rad(TURN)
    elevation = [np.arctan2(v[:, 2], np.hypot(v[:, 0], v[:, 1])) for v in (first, last)]
    waves = np.zeros((len(free), 2 * WAVES))
    waves[:, 1] = side * SEED
    chord = np.linalg.norm(span, axis=1)
    length = free.copy() if np.isinf(axial).all() else np.maximum(free, 1.05 * chord)
    ends = np.stack([begin, begin + turn + round_about, *elevation], axis=1)
    return _State(ends, span, free, axial, waves, length)


def _tangent(azimuth: Array, elevation: Array) -> Array:
    flat = np.cos(elevation)
    return np.stack([flat * np.sin(azimuth), flat * np.cos(azimuth), np.sin(elevation)], axis=-1)


def _slopes(azimuth: Array, elevation: Array) -> tuple[Array, Array, Array, Array, Array]:
    """First and second derivatives of the tangent by azimuth and elevation, shape (n, q, 3)."""
    sa, ca, se, ce = np.sin(azimuth), np.cos(azimuth), np.sin(elevation), np.cos(elevation)
    none = np.zeros_like(sa)
    by_a = np.stack([ce * ca, -ce * sa, none], axis=-1)
    by_e = np.stack([-se * sa, -se * ca, ce], axis=-1)
    by_aa = np.stack([-ce * sa, -ce * ca, none], axis=-1)
    by_ae = np.stack([-se * ca, se * sa, none], axis=-1)
    return by_a, by_e, by_aa, by_ae, -_tangent(azimuth, elevation)


def _first_slopes(azimuth: Array, elevation: Array) -> tuple[Array, Array]:
    """First derivatives of the tangent alone."""
    sa, ca, se, ce = np.sin(azimuth), np.cos(azimuth), np.sin(elevation), np.cos(elevation)
    by_a = np.stack([ce * ca, -ce * sa, np.zeros_like(sa)], axis=-1)
    return by_a, np.stack([-se * sa, -se * ca, ce], axis=-1)


def _reach(state: _State, basis: _Basis) -> tuple[Array, Array]:
    """Mean tangent, shape (n, 3), and its derivative by the waves, shape (n, 3, 2k)."""
    azimuth, elevation, *_ = state.angles(basis)
    by_a, by_e = _first_slopes(azimuth, elevation)
    mean = basis.weight @ _tangent(azimuth, elevation)
    weighted = basis.weight[:, None] * basis.wave
    jac = [by.transpose(0, 2, 1) @ weighted for by in (by_a, by_e)]
    return mean, np.concatenate(jac, axis=2)


def _close(state: _State) -> None:
    """Moves the waves least so that the ends meet, in short steps."""
    basis = _gauss()
    damp = 1e-6 * np.eye(3)
    for _ in range(CLOSING):
        mean, jac = _reach(state, basis)
        miss = state.span - state.length[:, None] * mean
        slope = state.length[:, None, None] * jac
        pull = np.linalg.solve(slope @ slope.transpose(0, 2, 1) + damp, miss[..., None])
        step = (slope.transpose(0, 2, 1) @ pull)[..., 0]
        state.waves += _short(step)
        if not step.size or np.abs(step).max() < SETTLED:
            return


def _short(step: Array) -> Array:
    size = np.abs(step).max(axis=1, keepdims=True)
    return step * np.minimum(1.0, LONGEST_STEP / np.maximum(size, LONGEST_STEP * SMALL))


def _relax(state: _State) -> None:
    """Newton's method on bending and stretch under the condition that the ends meet."""
    basis = _gauss()
    if not len(state.free):
        return
    force = np.zeros((len(state.free), 3))
    for number in range(CONVEX + EXACT):
        matrix, right = _newton(state, basis, force, exact=number >= CONVEX)
        answer = np.linalg.solve(matrix, right[..., None])[..., 0]
        answer = np.where(np.isfinite(answer), answer, 0.0)
        unknown = 2 * WAVES
        size = np.abs(answer[:, :unknown]).max(axis=1)
        share = np.minimum(1.0, LONGEST_STEP / np.maximum(size, LONGEST_STEP * SMALL))[:, None]
        state.waves += share * answer[:, :unknown]
        state.length = np.maximum(
            state.length + share[:, 0] * answer[:, unknown], 0.5 * state.length
        )
        force += share * (answer[:, unknown + 1 :] - force)
        if number >= CONVEX and np.quantile(size, 0.9) < SETTLED:
            return


def _newton(state: _State, basis: _Basis, force: Array, *, exact: bool) -> tuple[Array, Array]:
    """Matrix and right side of one step; unknowns are waves, length, force at the end."""
    azimuth, elevation, turn, rise = state.angles(basis)
    _, _, by_aa, by_ae, by_ee = _slopes(azimuth, elevation)
    length = state.length[:, None]
    ce, se = np.cos(elevation), np.sin(elevation)
    use = force if exact else np.zeros_like(force)

    def along(derivative: Array) -> Array:
        return -length * (derivative @ use[:, :, None])[..., 0]

    bent = (rise**2 + (ce * turn) ** 2) @ basis.weight
    gradient = np.concatenate(
        [
            _project(basis, slope=ce**2 * turn / length),
            _project(basis, wave=-se * ce * turn**2 / length, slope=rise / length),
        ],
        axis=1,
    )
    soft = (-np.cos(2.0 * elevation) * turn**2 / length) if exact else np.zeros_like(turn)
    cross = (-2.0 * se * ce * turn / length) if exact else np.zeros_like(turn)
    none = np.zeros_like(turn)
    aa, ab, bb = _squares(
        basis,
        (along(by_aa), ce**2 / length, none),
        (along(by_ae), none, cross),
        (soft + along(by_ee), np.ones_like(turn) / length, none),
    )
    return _assembled(state, gradient, bent, (aa, ab, bb), _reach(state, basis), use)


def _project(basis: _Basis, *, wave: Array | None = None, slope: Array | None = None) -> Array:
    total = np.zeros(1)
    if wave is not None:
        total = total + (wave * basis.weight) @ basis.wave
    if slope is not None:
        total = total + (slope * basis.weight) @ basis.slope
    return total


def _squares(basis: _Basis, *blocks: tuple[Array, Array, Array]) -> list[Array]:
    """Second derivatives by two sets of waves, each of shape (n, k, k), in one product."""
    stacked = np.concatenate([np.concatenate(block, axis=1) for block in blocks])
    rows, wide = stacked.shape
    parts = np.zeros((-(-rows // ABREAST), ABREAST, wide))
    parts.reshape(-1, wide)[:rows] = stacked
    found = (parts @ basis.products).reshape(-1, WAVES * WAVES)[:rows]
    return list(found.reshape(len(blocks), -1, WAVES, WAVES))


def _assembled(
    state: _State,
    gradient: Array,
    bent: Array,
    blocks: tuple[Array, Array, Array],
    reach: tuple[Array, Array],
    force: Array,
) -> tuple[Array, Array]:
    count, k, length = len(state.free), 2 * WAVES, state.length
    (aa, ab, bb), (mean, jac) = blocks, reach
    matrix = np.zeros((count, k + 4, k + 4))
    top = np.concatenate([aa, ab], axis=2)
    low = np.concatenate([ab.transpose(0, 2, 1), bb], axis=2)
    matrix[:, :k, :k] = np.concatenate([top, low], axis=1)
    right = np.zeros((count, k + 4))
    right[:, :k] = -gradient
    rigid = np.isinf(state.axial)
    stiff = np.where(rigid, 1.0, state.axial)
    cross = -gradient / length[:, None] - np.einsum("nik,ni->nk", jac, force)
    cross[rigid] = 0.0
    matrix[:, :k, k] = matrix[:, k, :k] = cross
    matrix[:, k, k] = np.where(rigid, 1.0, bent / length**3 + stiff / state.free)
    pull = bent / (2.0 * length**2) - stiff * (length / state.free - 1.0)
    right[:, k] = np.where(rigid, 0.0, pull)
    matrix[:, :k, k + 1 :] = -(length[:, None, None] * jac).transpose(0, 2, 1)
    matrix[:, k + 1 :, :k] = length[:, None, None] * jac
    along = np.where(rigid[:, None], 0.0, mean)
    matrix[:, k, k + 1 :], matrix[:, k + 1 :, k] = -along, along
    right[:, k + 1 :] = state.span - length[:, None] * mean
    return matrix, right


def _miss(state: _State, basis: _Basis) -> Array:
    mean, _ = _reach(state, basis)
    return np.linalg.norm(state.span - state.length[:, None] * mean, axis=1)


def _bending(state: _State, basis: _Basis) -> Array:
    _, elevation, turn, rise = state.angles(basis)
    return (rise**2 + (np.cos(elevation) * turn) ** 2) @ basis.weight / (2.0 * state.length)


def _energy(state: _State) -> Array:
    """Bending and stretch over bending stiffness, 1/mm; infinite where the ends do not meet."""
    basis = _gauss()
    stiff = np.where(np.isinf(state.axial), 0.0, state.axial)
    stretch = 0.5 * stiff * (state.length / state.free - 1.0) ** 2 * state.free
    energy = _bending(state, basis) + stretch
    return np.where((_miss(state, basis) < MEETS_MM) & np.isfinite(energy), energy, np.inf)


def _picked(old: _State, new: _State, rows: NDArray[np.int_], better: NDArray[np.bool_]) -> _State:
    """The old shapes, with those rows replaced that bend less in the new."""
    at = rows[better]
    for kept, found in (
        (old.ends, new.ends),
        (old.waves, new.waves),
        (old.length, new.length),
    ):
        kept[at] = found[better]
    return old


def _told(state: _State) -> Rods:
    fine = np.linspace(0.0, 1.0, 2 * POINTS + 1)
    basis = _basis(fine, np.full(len(fine), 1.0 / len(fine)))
    azimuth, elevation, turn, rise = state.angles(basis)
    tangent = _tangent(azimuth, elevation) * state.length[:, None, None]
    path = _integral(state, basis, tangent)
    curvature = np.hypot(rise, np.cos(elevation) * turn) / state.length[:, None]
    # An edge carried without twist turns against the upright one at the rate sin(e) da.
    turning = np.einsum("nq,q->n", np.sin(elevation) * turn, _trapezium(len(fine)))
    gauss = _gauss()
    return Rods(
        length_mm=state.length,
        bending_per_mm=_bending(state, gauss),
        curvature_per_mm=curvature.max(axis=1),
        path_mm=path,
        turn_deg=np.rad2deg(turning),
        met=_miss(state, gauss) < MEETS_MM,
    )


def _trapezium(count: int) -> Array:
    weight = np.full(count, 1.0 / (count - 1))
    weight[[0, -1]] /= 2.0
    return weight


def _integral(state: _State, basis: _Basis, tangent: Array) -> Array:
    """Points of the curve, by trapezia closed onto the end."""
    step = np.diff(basis.at)[None, :, None]
    inner = np.cumsum((tangent[:, 1:] + tangent[:, :-1]) / 2.0 * step, axis=1)
    path = np.concatenate([np.zeros((len(tangent), 1, 3)), inner], axis=1)
    return path + (state.span - path[:, -1])[:, None, :] * basis.at[None, :, None]
