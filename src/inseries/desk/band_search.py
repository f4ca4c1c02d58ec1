"""The lumen that gives a wanted pressure, for every draw, at the hour of the band."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from inseries.circuit.orbit import find_orbit
from inseries.circuit.readouts import read
from inseries.circuit.repeated import repeated
from inseries.desk.band_plan import band_numbers
from inseries.prior.curve import monotone
from inseries.prior.traits import Traits, spreads
from inseries.routes import band_lumen_mm, with_band

if TYPE_CHECKING:
    from inseries.circuit.orbit import Regulation
    from inseries.prior.narrow import Narrowed
    from inseries.prior.traits import Floats

# chosen: lumens tried between the tightest that was published and no band; finer moves a found
# lumen by less than 0.1 mm
LUMENS = 9
# chosen: points at which the curve between them is read
READ_AT = 400


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """The beat of every draw at every lumen, at the hour of the band.

    Parameters
    ----------
    lumens_mm : array, shape (k,), ascending
    ratio, lv_systolic_mmhg, ejection_pct : arrays, shape (n, k)
    """

    lumens_mm: Floats
    ratio: Floats
    lv_systolic_mmhg: Floats
    ejection_pct: Floats

    def lumen_for(self, values: Floats, wanted: float) -> Floats:
        """Widest lumen at which each draw comes to the wanted value, shape (n,).

        ``nan`` where it does not at the tightest; the widest one tried where it needs no band.
        """
        fine = _fine(self.lumens_mm)
        reached = monotone(self.lumens_mm, values.T, fine) >= wanted
        last = READ_AT - 1 - np.argmax(reached[::-1], axis=0)
        return np.where(reached.any(axis=0), fine[last], np.nan)

    def at(self, values: Floats, lumens_mm: Floats) -> Floats:
        """A value of each draw at a lumen of its own, shape (n,)."""
        inside = np.clip(lumens_mm, self.lumens_mm[0], self.lumens_mm[-1])
        return np.diagonal(monotone(self.lumens_mm, values.T, inside)).copy()

    def tightest_for(self, ejection_pct: float) -> Floats:
        """Tightest lumen at which each draw still ejects so much, shape (n,).

        The tightest one tried where it always does, the widest where it never does.
        """
        fine = _fine(self.lumens_mm)
        good = monotone(self.lumens_mm, self.ejection_pct.T, fine) >= ejection_pct
        first = np.argmax(good, axis=0)
        return np.where(good.any(axis=0), fine[first], fine[-1])


def _fine(lumens_mm: Floats) -> Floats:
    """Lumens at which the curve between those tried is read."""
    steps = np.linspace(0.0, 1.0, READ_AT)
    return lumens_mm[0] * (lumens_mm[-1] / lumens_mm[0]) ** steps


def tried(today: Narrowed) -> Tried:
    """Every draw banded to each of a few lumens, all in one ensemble.

    Parameters
    ----------
    today : draws at the hour of the band, under a story with any shunt in it

    Returns
    -------
    Tried
    """
    baby, age = today.baby, today.age_days
    weight = baby.story.weight_kg(age)
    members = baby.traits.members
    lumens = np.geomspace(tightest_lumen_mm(weight), band_numbers()["widest_lumen"], LUMENS)
    wide = repeated(baby.circuit(age, today.walls), members, LUMENS)
    orbit = find_orbit(
        with_band(wide, np.tile(lumens, members)),
        _repeated(baby.regulation(age)),
        settings=baby.settings,
        check=False,
    )
    baby.note(orbit, LUMENS)
    seen = read(orbit)
    return Tried(
        lumens_mm=lumens,
        ratio=seen.pressure_ratio.reshape(members, LUMENS),
        lv_systolic_mmhg=seen.systolic_mmhg("LV").reshape(members, LUMENS),
        ejection_pct=seen.ejection_pct("LV").reshape(members, LUMENS),
    )


def tuned(today: Narrowed, lumens_mm: Floats, nominal_mm: float) -> Narrowed:
    """Draws whose bands leave these lumens where one of the nominal lumen is put on."""
    column = [trait.name for trait in spreads()].index("band_lumen")
    trait = spreads()[column]
    z = today.baby.traits.z.copy()
    z[:, column] = np.log(lumens_mm / nominal_mm / trait.centre) / trait.spread
    baby = today.baby.with_story(today.baby.story)
    baby.traits = Traits(z=z)
    return replace(today, baby=baby)


def rules_of_thumb_mm(weight_kg: float) -> tuple[float, float]:
    """Circumference by common practice for simple shunts and for loops that mix.

    Made to protect lungs, not to train a ventricle. *Source* albus1984
    """
    numbers = band_numbers()
    grown = numbers["rule_per_kg"] * weight_kg
    return numbers["rule_simple"] + grown, numbers["rule_mixing"] + grown


def tightest_mm(weight_kg: float) -> float:
    """Tightest circumference that a published series used. *Source* baslaim2009."""
    return rules_of_thumb_mm(weight_kg)[0] - band_numbers()["rule_narrower"]


def tightest_lumen_mm(weight_kg: float) -> float:
    """Lumen that the tightest published band leaves."""
    return band_lumen_mm(tightest_mm(weight_kg))


def _repeated(held: Regulation) -> Regulation:
    assert held.flow_ml_s is not None
    assert held.filling_mmhg is not None
    return replace(
        held,
        pressure_mmhg=np.repeat(held.pressure_mmhg, LUMENS),
        flow_ml_s=np.repeat(held.flow_ml_s, LUMENS),
        filling_mmhg=np.repeat(held.filling_mmhg, LUMENS),
    )
