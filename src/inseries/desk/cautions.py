"""What every decision carries: what this is, what it does not know, how far to trust it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.base.ages import age_words
from inseries.base.findings import Caution, Severity
from inseries.case.check import check
from inseries.prior.from_case import GAS_HELD_DAYS
from inseries.prior.importance import FEW_EFFECTIVE

if TYPE_CHECKING:
    from inseries.case import Case
    from inseries.prior.narrow import Narrowed

# chosen: share of failed members above which a caution travels
FAILED_CAUTION = 0.02

AID = "A decision aid from a model, not a device; local protocol and licensed clinicians decide."


def standing_cautions(case: Case) -> tuple[Caution, ...]:
    """What every decision screen carries, and what the model does not know about this baby."""
    return (
        Caution(severity=Severity.CAUTION, text=AID),
        *(Caution(severity=Severity.NOTE, text=text) for text in unknowns(case)),
        *(Caution(severity=Severity.CAUTION, text=text) for text in against_a_switch(case)),
        *contradictions(case),
    )


def against_a_switch(case: Case) -> tuple[str, ...]:
    """What is recorded and no number here takes into account: coronaries, lung vessels."""
    found: list[str] = []
    if case.anatomy.coronary_transfer == "untransferable":
        found.append(
            "The coronary arteries are recorded as untransferable: an arterial switch is not shown "
            "to be possible, whatever the ventricle could carry."
        )
    if case.anatomy.lung_vessels == "diseased":
        found.append(
            "Disease of the lung vessels is recorded: no repair and no band is shown to be safe "
            "until their resistance is measured by catheter, whatever the ventricle could carry."
        )
    return tuple(found)


def unknowns(case: Case) -> tuple[str, ...]:
    """What the model does not know about this baby, in sentences."""
    known = [
        "The model does not know this baby's brain, gut, lungs and infections, nor the centre."
    ]
    anatomy = case.anatomy
    if anatomy.coronary is None or anatomy.coronary_certainty != "confirmed":
        known.append("The coronary pattern is not certain; an intramural course is not excluded.")
    if case.latest("la_mean_mmhg") is None:
        known.append("Left atrial pressure was never measured; filling is computed.")
    if case.latest("pulmonary_artery_mean_mmhg") is None:
        known.append("Lung resistance was not measured by catheter; it is computed.")
    if case.latest("lv_mass_g") is None:
        known.append("Left ventricular mass was not measured; it is computed from age alone.")
    return (*known, *_inspired(case))


def _inspired(case: Case) -> tuple[str, ...]:
    """Where air is taken because nobody wrote down what the baby breathes."""
    seen = case.latest("inspired_oxygen_pct")
    if seen is None:
        return ("Inspired oxygen was not recorded; air is taken.",)
    if case.age_days - seen.age_days < GAS_HELD_DAYS:
        return ()
    return (
        f"Inspired oxygen was last recorded at {age_words(seen.age_days)} ({seen.number:g} %); "
        "air is taken from a day later.",
    )


def contradictions(case: Case) -> tuple[Caution, ...]:
    """What in the record cannot be, as cautions."""
    return tuple(
        Caution(severity=Severity.CAUTION, text=f"The record contradicts itself: {found.sentence}")
        for found in check(case).contradictions
    )


def ensemble_cautions(today: Narrowed, few: int = FEW_EFFECTIVE) -> tuple[Caution, ...]:
    """How far the draws can be trusted; ``few`` effective draws make intervals rough."""
    found: list[Caution] = []
    if today.readings_used == 0:
        found.append(
            Caution(
                severity=Severity.CAUTION,
                text="No reading narrowed this: it is any baby of this age and size, not this one.",
            )
        )
    if round(today.effective_draws) < few:
        found.append(
            Caution(
                severity=Severity.CAUTION,
                text=f"Only {today.effective_draws:.0f} effective draws; intervals are rough.",
            )
        )
    if today.failed_share > FAILED_CAUTION:
        found.append(
            Caution(
                severity=Severity.CAUTION,
                text=f"{100 * today.failed_share:.0f} % of the circuits did not settle and were "
                "left out.",
            )
        )
    return tuple(found)
