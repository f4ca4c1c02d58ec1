"""One circuit's members repeated, so that each can be tried under several conditions."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import TYPE_CHECKING

import numpy as np

from inseries.circuit.network import mapped

if TYPE_CHECKING:
    from inseries.circuit.network import Circuit, Leaf


def repeated(circuit: Circuit, members: int, times: int) -> Circuit:
    """The circuit with every member ``times`` times in a row.

    Parameters
    ----------
    circuit : Circuit with ``members`` members; floats stay floats
    members, times : int

    Returns
    -------
    Circuit with ``members * times`` members
    """

    def wide(_name: str, value: Leaf) -> Leaf:
        return np.repeat(value, times) if np.shape(value) == (members,) else value

    blood = replace(
        circuit.blood,
        **{f.name: wide(f.name, getattr(circuit.blood, f.name)) for f in fields(circuit.blood)},
    )
    return replace(
        mapped(circuit, wide),
        blood=blood,
        volume_ml=wide("volume_ml", circuit.volume_ml),
        rate_per_min=wide("rate_per_min", circuit.rate_per_min),
    )
