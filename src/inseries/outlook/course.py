"""A repaired site over decades: growing arc, inert arc, scar; velocity and gradient.

D/D₀ = (1 - s(t)) [(1 - p)((1 - q) g + q) + p (1 + γ (g - 1))]: p the patched share, γ its growth
fraction, q the share of native suture line that is scar, s the girth that scar loses as it ripens,
g what native wall grows. v = v_n (D_n/D)², gradient 4 v².
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from typing import TYPE_CHECKING

import numpy as np

from inseries.outlook.materials import techniques

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from inseries.outlook.baby import Frame
    from inseries.outlook.materials import Technique
    from inseries.outlook.numbers import Floats
    from inseries.outlook.site import Start, Tension

# common practice: mmHg per (m/s)², density of blood over two, rounded
BERNOULLI = 4.0
# chosen: column of a material's own draws, after those of the lung artery's lengths
GROWTH_COLUMN = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteCourse:
    """One repair in every draw at every age; arrays of shape (ages, n) unless said otherwise.

    Parameters
    ----------
    technique : what the wall was closed with
    start_mm, patch_share : diameter at the operation, shape (n,); share of girth that is patch
    site_mm : diameter of the site
    inert_share : share of today's girth that is patch or scar
    site, valve, outflow, right, left : peak gradients by the edge law, mmHg: above the valve, at
        it, below it, in either branch
    area_ratio, branch_ratio : area of the site and of either branch over the usual one
    """

    technique: Technique
    start_mm: Floats
    patch_share: float
    site_mm: Floats
    inert_share: Floats
    site: Floats
    valve: Floats
    outflow: Floats
    right: Floats
    left: Floats
    area_ratio: Floats
    branch_ratio: Floats

    @property
    def greatest(self) -> Floats:
        """The greatest gradient of the repair: site or a branch."""
        return np.maximum(self.site, self.branch)

    @property
    def branch(self) -> Floats:
        """The greater gradient of the two branches."""
        return np.maximum(self.right, self.left)

    def at(self, rows: NDArray[np.int64]) -> SiteCourse:
        """Some of the draws, each as often as it is named."""
        taken = {
            field.name: getattr(self, field.name)[..., rows]
            for field in fields(self)
            if isinstance(getattr(self, field.name), np.ndarray)
        }
        return replace(self, **taken)


def gradient_mmhg(velocity_m_s: Floats, diameter_ratio: Floats) -> Floats:
    """Peak gradient where a vessel is narrower than usual.

    Parameters
    ----------
    velocity_m_s : peak velocity at the usual size
    diameter_ratio : diameter over the usual one

    Returns
    -------
    mmHg, 4 v² of the velocity that continuity gives
    """
    return BERNOULLI * (velocity_m_s / diameter_ratio**2) ** 2


def crossing(gradient: Floats, limit_mmhg: float) -> Floats:
    """Share of the draws that have been above a limit by each age, shape (ages,).

    Parameters
    ----------
    gradient : array, shape (ages, n), mmHg
    limit_mmhg : float
    """
    return (np.maximum.accumulate(gradient, axis=0) > limit_mmhg).mean(axis=1)


def site_courses(frame: Frame, start: Start, tension: Tension) -> tuple[SiteCourse, ...]:
    """All four repairs of the same draws.

    Parameters
    ----------
    frame, start, tension : body, sizes and pull at the operation

    Returns
    -------
    tuple of SiteCourse, in the order of ``techniques()``
    """
    return tuple(_course(frame, start, tension, each, GROWTH_COLUMN) for each in techniques())


def _course(
    frame: Frame, start: Start, tension: Tension, each: Technique, column: int
) -> SiteCourse:
    stretch = tension.stretch if not each.patched else _left_by_patch(frame, tension)
    share = start.patch_share if each.patched else 0.0
    start_mm = _start_mm(frame, start, each, stretch)
    native, inert = _arcs(frame, each.growth(frame.extra(column)), share, stretch)
    ripened = _ripened(frame)
    site = start_mm * ripened * (native + inert)
    usual = frame.usual_mm("pulmonary_trunk_mm")[:, None]
    velocity = frame.drawn("normal_velocity")
    kept = _branch_shares(frame, tension, stretch)
    branch = velocity * _branch_speed(frame)[:, None]
    valve = _own_valve(frame, start)
    return SiteCourse(
        technique=each,
        start_mm=start_mm,
        patch_share=share,
        site_mm=site,
        inert_share=inert / (native + inert),
        site=gradient_mmhg(velocity, site / usual),
        valve=gradient_mmhg(velocity, valve),
        outflow=gradient_mmhg(velocity, frame.drawn("outflow_start")) * np.ones_like(site),
        right=gradient_mmhg(branch, np.sqrt(kept) * _against_usual(frame, start.right_mm, "right")),
        left=gradient_mmhg(branch, np.sqrt(kept) * _against_usual(frame, start.left_mm, "left")),
        area_ratio=(site / usual) ** 2,
        branch_ratio=kept,
    )


def _left_by_patch(frame: Frame, tension: Tension) -> Floats:
    """Stretch of the front wall where a patch behind takes up its share of the gap."""
    return tension.stretch * (1.0 - frame.drawn("patch_takes"))


def _start_mm(frame: Frame, start: Start, each: Technique, stretch: Floats) -> Floats:
    """Diameter after the operation; a tube stretched along keeps its wall and gets narrower."""
    if each.patched:
        return start.upper_mm * frame.drawn("patched_start") / np.sqrt(1.0 + stretch)
    narrower = min(start.upper_mm, start.lower_mm)
    return narrower * frame.drawn("direct_start") / np.sqrt(1.0 + stretch)


def _arcs(frame: Frame, growth: Floats, share: float, stretch: Floats) -> tuple[Floats, Floats]:
    """Growing and inert arc over the girth at the operation, each of shape (ages, n)."""
    laid = frame.drawn("scar_share") + frame.drawn("tension_scar") * stretch
    scar = 1.0 - np.exp(-laid)
    g = frame.growth[:, None]
    native = (1.0 - share) * (1.0 - scar) * g
    patch = share * (1.0 + growth * (g - 1.0))
    return native, (1.0 - share) * scar * np.ones_like(g) + patch


def _ripened(frame: Frame) -> Floats:
    """What is left of the girth as its scar ripens, shape (ages, n)."""
    since = (frame.years - frame.years[0])[:, None]
    lost = 1.0 - np.exp(-frame.drawn("scar_contraction"))
    return 1.0 - lost * (1.0 - np.exp(-since / frame.drawn("scar_years")))


def _branch_shares(frame: Frame, tension: Tension, stretch: Floats) -> Floats:
    """Area of a branch over its usual one, shape (ages, n): flattened, then partly taken back."""
    pulled = np.divide(
        stretch, tension.stretch, out=np.zeros_like(stretch), where=tension.stretch > 0.0
    )
    at_first = 1.0 - pulled * (1.0 - tension.branch_share)
    grown = 1.0 - 1.0 / frame.growth[:, None]
    kept = 1.0 - grown * (1.0 - frame.drawn("branch_keeps"))
    return 1.0 - (1.0 - at_first) * kept


def _branch_speed(frame: Frame) -> Floats:
    """Velocity in both branches over that in the trunk at usual sizes, shape (ages,)."""
    trunk, right, left = (
        frame.usual_mm(name)
        for name in (
            "pulmonary_trunk_mm",
            "right_pulmonary_artery_mm",
            "left_pulmonary_artery_mm",
        )
    )
    return trunk**2 / (right**2 + left**2)


def _against_usual(frame: Frame, size_mm: float, side: str) -> float:
    return size_mm / float(frame.usual_mm(f"{side}_pulmonary_artery_mm")[0])


def _own_valve(frame: Frame, start: Start) -> Floats:
    """The native aortic annulus over the usual pulmonary one, shape (ages, n); both grow alike."""
    usual = frame.usual_mm("pulmonary_annulus_mm")[0]
    ratio = start.annulus_mm / usual * frame.drawn("valve_start")
    return ratio * np.ones((frame.years.size, 1))


def beyond_usual_area(ratio: Floats) -> Floats:
    """Area, over the usual one, of a narrow place that costs what this one costs beyond usual.

    A circuit's own vessel has its loss already: 1/a² - 1 is what is added. Wider than usual adds
    nothing.

    Parameters
    ----------
    ratio : area of the site over the usual one
    """
    more = np.maximum(ratio**-2.0 - 1.0, LEAST_LOSS)
    return more**-0.5


# chosen: a loss of a thousandth of the usual velocity's is none
LEAST_LOSS = 1e-3
