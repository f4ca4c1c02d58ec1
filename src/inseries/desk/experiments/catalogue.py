"""Every published situation by name, with the words that progress tells."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING, TypeAlias

from inseries.course.laws import DEFAULT, LAWS
from inseries.desk.experiments.aortic_leak import aortic_leak
from inseries.desk.experiments.band import band
from inseries.desk.experiments.band_with_shunt import band_with_shunt
from inseries.desk.experiments.coronary_bed import coronary_bed
from inseries.desk.experiments.corrected import corrected
from inseries.desk.experiments.fetal_flows import fetal_flows
from inseries.desk.experiments.half_saturation import half_saturation
from inseries.desk.experiments.late_left_ventricle import late_left_ventricle
from inseries.desk.experiments.late_outcome import late_outcome
from inseries.desk.experiments.late_training import late_training
from inseries.desk.experiments.lung_artery_by_hour import lung_artery_by_hour
from inseries.desk.experiments.normal_growth import normal_growth
from inseries.desk.experiments.normal_newborn import healthy_newborn
from inseries.desk.experiments.protection import protection
from inseries.desk.experiments.resting_heart import resting_heart
from inseries.desk.experiments.reversed_differential import reversed_differential
from inseries.desk.experiments.septostomy import septostomy
from inseries.desk.experiments.switch_by_age import switch_by_age
from inseries.desk.experiments.wall_thickness import wall_thickness

if TYPE_CHECKING:
    from inseries.prior.constants import Constants

Experiment: TypeAlias = Callable[..., dict[str, float]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Situation:
    """A published situation.

    Parameters
    ----------
    words : what it is
    experiment : how we set it up; takes constants under trial, and ``law`` where walls grow
    slow : whether walls grow in it, so that it is computed under each law of growth
    """

    words: str
    experiment: Experiment
    slow: bool = False

    def found(self, constants: Constants | None = None) -> dict[str, dict[str, float]]:
        """Our numbers by law of growth; by the default law only where none plays a part."""
        if not self.slow:
            return {DEFAULT: self.experiment(constants)}
        return {law: self.experiment(constants, law=law) for law in LAWS}


SITUATIONS: Mapping[str, Situation] = MappingProxyType(
    {
        "normal_newborn": Situation(words="healthy newborn", experiment=healthy_newborn),
        "lung_artery_by_hour": Situation(
            words="lung artery in the first three days", experiment=lung_artery_by_hour
        ),
        "septostomy": Situation(words="septostomy", experiment=septostomy, slow=True),
        "reversed_differential": Situation(
            words="legs better saturated than arms", experiment=reversed_differential
        ),
        "late_left_ventricle": Situation(
            words="left ventricle after weeks", experiment=late_left_ventricle, slow=True
        ),
        "band": Situation(words="lung artery band", experiment=band, slow=True),
        "band_with_shunt": Situation(
            words="band with a shunt", experiment=band_with_shunt, slow=True
        ),
        "late_training": Situation(words="months of training", experiment=late_training, slow=True),
        "corrected": Situation(
            words="corrected transposition, banded", experiment=corrected, slow=True
        ),
        "normal_growth": Situation(words="healthy growth", experiment=normal_growth, slow=True),
        "wall_thickness": Situation(
            words="thickness of the left wall", experiment=wall_thickness, slow=True
        ),
        "protection": Situation(
            words="what protects the left ventricle", experiment=protection, slow=True
        ),
        "switch_by_age": Situation(words="switch by age", experiment=switch_by_age, slow=True),
        "fetus_fitted": Situation(words="fetus near term", experiment=fetal_flows),
        "fetus_judged": Situation(words="fetus near term, second series", experiment=fetal_flows),
        "coronary_bed": Situation(words="coronary bed", experiment=coronary_bed),
        "resting_heart": Situation(words="ventricles side by side", experiment=resting_heart),
        "aortic_leak": Situation(words="leak of the aortic valve", experiment=aortic_leak),
        "half_saturation": Situation(words="half saturation", experiment=half_saturation),
        "late_outcome": Situation(words="decades after a switch", experiment=late_outcome),
    }
)
