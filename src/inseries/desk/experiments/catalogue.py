"""Every published situation by name, with the words that progress tells."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import TypeAlias

from inseries.desk.experiments.aortic_leak import aortic_leak
from inseries.desk.experiments.band import band
from inseries.desk.experiments.coronary_bed import coronary_bed
from inseries.desk.experiments.fetal_flows import fetal_flows
from inseries.desk.experiments.half_saturation import half_saturation
from inseries.desk.experiments.late_left_ventricle import late_left_ventricle
from inseries.desk.experiments.lung_artery_by_hour import lung_artery_by_hour
from inseries.desk.experiments.normal_growth import normal_growth
from inseries.desk.experiments.normal_newborn import healthy_newborn
from inseries.desk.experiments.protection import protection
from inseries.desk.experiments.resting_heart import resting_heart
from inseries.desk.experiments.reversed_differential import reversed_differential
from inseries.desk.experiments.septostomy import septostomy
from inseries.desk.experiments.switch_by_age import switch_by_age
from inseries.desk.experiments.wall_thickness import wall_thickness
from inseries.prior.constants import Constants

Experiment: TypeAlias = Callable[[Constants | None], dict[str, float]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Situation:
    """A published situation: what it is, in words, and how we set it up."""

    words: str
    experiment: Experiment


SITUATIONS: Mapping[str, Situation] = MappingProxyType(
    {
        "normal_newborn": Situation(words="healthy newborn", experiment=healthy_newborn),
        "lung_artery_by_hour": Situation(
            words="lung artery in the first three days", experiment=lung_artery_by_hour
        ),
        "septostomy": Situation(words="septostomy", experiment=septostomy),
        "reversed_differential": Situation(
            words="legs better saturated than arms", experiment=reversed_differential
        ),
        "late_left_ventricle": Situation(
            words="left ventricle after weeks", experiment=late_left_ventricle
        ),
        "band": Situation(words="lung artery band", experiment=band),
        "normal_growth": Situation(words="healthy growth", experiment=normal_growth),
        "wall_thickness": Situation(words="thickness of the left wall", experiment=wall_thickness),
        "protection": Situation(words="what protects the left ventricle", experiment=protection),
        "switch_by_age": Situation(words="switch by age", experiment=switch_by_age),
        "fetus_fitted": Situation(words="fetus near term", experiment=fetal_flows),
        "fetus_judged": Situation(words="fetus near term, second series", experiment=fetal_flows),
        "coronary_bed": Situation(words="coronary bed", experiment=coronary_bed),
        "resting_heart": Situation(words="ventricles side by side", experiment=resting_heart),
        "aortic_leak": Situation(words="leak of the aortic valve", experiment=aortic_leak),
        "half_saturation": Situation(words="half saturation", experiment=half_saturation),
    }
)
