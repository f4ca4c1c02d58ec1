"""One circuit's members repeated, so that each can be tried under several conditions."""

from __future__ import annotations

from dataclasses import fields, replace

import numpy as np

from inseries.circuit.network import Circuit, Edge, Leaf, mapped


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

    again = mapped(circuit, wide)
    edges = tuple(_repeated_eddy(edge, wide) for edge in again.edges)
    blood = replace(
        circuit.blood,
        **{f.name: wide(f.name, getattr(circuit.blood, f.name)) for f in fields(circuit.blood)},
    )
    return replace(
        again,
        edges=edges,
        blood=blood,
        volume_ml=wide("volume_ml", circuit.volume_ml),
        rate_per_min=wide("rate_per_min", circuit.rate_per_min),
    )


def _repeated_eddy(edge: Edge, wide: object) -> Edge:
    return replace(edge, eddy_speed_cm_s=wide("eddy_speed_cm_s", edge.eddy_speed_cm_s))  # pyright: ignore
