"""Pressure of half saturation of newborns' blood, at pH 7.4 and 37 °C, around a transfusion."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.circuit.blood import p50_mmhg
from inseries.norms.blood import fetal_haemoglobin

if TYPE_CHECKING:
    from inseries.prior.constants import Constants

# published: dehalleux2002, fetal share before and after 26.9 mL/kg of packed red cells
BEFORE, AFTER = 0.929, 0.426


def half_saturation(constants: Constants | None = None) -> dict[str, float]:
    """P50 at birth, and before and after a transfusion.

    Parameters
    ----------
    constants : no constant of the circulation enters

    Returns
    -------
    dict of str to float, mmHg
    """
    del constants
    birth = fetal_haemoglobin(0.0).value
    at_birth, before, after = (float(p50_mmhg(share)) for share in (birth, BEFORE, AFTER))
    return {
        "birth_mmhg": at_birth,
        "before_transfusion_mmhg": before,
        "after_transfusion_mmhg": after,
        "rise_by_transfusion_mmhg": after - before,
    }
