"""How oxygen moves between parts with the flows of an orbit: linear in content but for beds.

For contents c: V dc/dt = given - matrix c. A bed that takes what it can get gives blood of a fixed
content instead of a fixed uptake, which changes the row of the part behind it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, TypeAlias

import numpy as np

from inseries.circuit.blood import carriage, column, lung_content

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from inseries.circuit.blood import Carriage
    from inseries.circuit.network import Circuit, Edge, Floats
    from inseries.circuit.orbit import Orbit

# chosen: saturation of a bed's venous blood below which no more oxygen can be taken up
LEAST_VENOUS_SATURATION = 0.15
# chosen: forward flow (mL/s) given to every edge, so that a chamber without through-flow takes
# its upstream neighbour's content
TRACE_FLOW_ML_S = 1e-6
SECONDS = 60.0  # derived: in a minute

Way: TypeAlias = tuple[str, str, str, bool, float]
"""Name, start, end, lungs and uptake share of an edge."""


@dataclass(frozen=True, slots=True)
class Plan:
    """Where flows go in the matrix of a network; the same for all its members.

    Parameters
    ----------
    flows_to_matrix : array, shape (2 edges, parts²), forward flows before backward ones
    lungs_to_parts : array, shape (edges, parts), which flow brings blood from the lungs where
    beds : names of the edges that take oxygen
    bed_edges, bed_starts : their places among edges, and of the parts before them among parts
    uptake_shares : array, shape (beds,)
    beds_to_matrix, beds_to_parts : arrays, shape (beds, parts²) and (beds, parts)
    """

    flows_to_matrix: Floats
    lungs_to_parts: Floats
    beds: tuple[str, ...]
    bed_edges: NDArray[np.int64]
    bed_starts: NDArray[np.int64]
    uptake_shares: Floats
    beds_to_matrix: Floats
    beds_to_parts: Floats


@dataclass(frozen=True, slots=True, kw_only=True)
class Exchange:
    """The linear exchange of n members.

    Parameters
    ----------
    plan : Plan of the network
    blood : how its blood carries oxygen
    matrix, given : arrays, shape (n, parts, parts) mL/s and (n, parts) mL/s of oxygen, without
        uptake
    bed_flow, need : arrays, shape (n, beds), forward flow (mL/s) and oxygen need (mL/s)
    lungs, least : arrays, shape (n, 1), contents of blood from the lungs, and of blood that gives
        no more (mL/mL)
    """

    plan: Plan
    blood: Carriage
    matrix: Floats
    given: Floats
    bed_flow: Floats
    need: Floats
    lungs: Floats
    least: Floats

    def system(self, limited: Floats) -> tuple[Floats, Floats]:
        """Matrix and given oxygen with some beds limited.

        Parameters
        ----------
        limited : array of 0 and 1, shape (n, beds)

        Returns
        -------
        arrays, shape (n, parts, parts) and (n, parts)
        """
        plan = self.plan
        fixed = limited * self.bed_flow
        taken = (1.0 - limited) * self.need
        given = self.given + (fixed * self.least - taken) @ plan.beds_to_parts
        if not fixed.any():
            return self.matrix, given
        return self.matrix + (fixed @ plan.beds_to_matrix).reshape(self.matrix.shape), given

    def solved(self, limited: Floats) -> Floats:
        """Contents at which nothing changes, shape (n, parts), mL/mL."""
        matrix, given = self.system(limited)
        return np.asarray(np.linalg.solve(matrix, given[:, :, None])[:, :, 0], dtype=np.float64)

    def limited(self, content: Floats) -> Floats:
        """Which beds cannot get what they need, 0 or 1, shape (n, beds)."""
        short = content[:, self.plan.bed_starts] - self.need / self.bed_flow < self.least
        return short.astype(np.float64)

    def venous(self, content: Floats, limited: Floats) -> Floats:
        """Content of blood that leaves each bed, shape (n, beds), mL/mL."""
        before = content[:, self.plan.bed_starts]
        return np.where(limited > 0.0, self.least, before - self.need / self.bed_flow)

    def met(self, content: Floats, limited: Floats) -> Floats:
        """Share of each bed's need that is met, shape (n, beds); NaN where content is."""
        room = content[:, self.plan.bed_starts] - self.least
        most = room * self.bed_flow / np.maximum(self.need, 1e-12)
        met = np.minimum(np.maximum(most, 0.0), 1.0)
        return np.where((limited > 0.0) | np.isnan(most), met, 1.0)


def exchange(orbit: Orbit) -> Exchange:
    """The exchange of oxygen over an orbit's mean flows.

    Parameters
    ----------
    orbit : Orbit with n members

    Returns
    -------
    Exchange
    """
    circuit, members = orbit.circuit, orbit.members
    plan, size = plan_of(circuit), len(circuit.parts)
    both = _both_ways(orbit)
    edges = len(circuit.edges)
    blood = carriage(circuit.blood, members)
    lungs = lung_content(circuit.blood, blood)
    least = np.minimum(blood.content_at(LEAST_VENOUS_SATURATION), lungs)
    need = column(circuit.blood.consumption_ml_min, members) / SECONDS
    return Exchange(
        plan=plan,
        blood=blood,
        matrix=(both @ plan.flows_to_matrix).reshape(members, size, size),
        given=(both[:, :edges] @ plan.lungs_to_parts) * lungs,
        bed_flow=both[:, plan.bed_edges],
        need=need * plan.uptake_shares,
        lungs=lungs,
        least=least,
    )


def eddy_flow(edge: Edge) -> Floats:
    """Exchange both ways through the first narrow place of an edge, mL/s."""
    area = edge.restrictions[0].area_cm2 if edge.restrictions else 0.0
    return np.asarray(edge.eddy_speed_cm_s * area, dtype=np.float64)


def plan_of(circuit: Circuit) -> Plan:
    """The plan of a network, made once for each."""
    return _plan(
        tuple((e.name, e.start, e.end, e.lungs, e.uptake_share) for e in circuit.edges),
        tuple(part.name for part in circuit.parts),
    )


@lru_cache(maxsize=64)
def _plan(ways: tuple[Way, ...], names: tuple[str, ...]) -> Plan:
    place, parts = {name: i for i, name in enumerate(names)}, len(names)
    edges = len(ways)
    flows = np.zeros((2 * edges, parts, parts))
    lungs = np.zeros((edges, parts))
    for i, (_name, start, end, from_lungs, _share) in enumerate(ways):
        a, b = place[start], place[end]
        flows[i, b, b] += 1.0
        flows[edges + i, a, a] += 1.0
        flows[edges + i, a, b] -= 1.0
        if from_lungs:
            lungs[i, b] = 1.0
        else:
            flows[i, b, a] -= 1.0
    taking = [i for i, way in enumerate(ways) if way[4] > 0.0]
    beds = [ways[i] for i in taking]
    to_matrix, to_parts = np.zeros((len(beds), parts, parts)), np.zeros((len(beds), parts))
    for k, (_name, start, end, _lungs, _share) in enumerate(beds):
        to_matrix[k, place[end], place[start]] = 1.0
        to_parts[k, place[end]] = 1.0
    return Plan(
        flows_to_matrix=flows.reshape(2 * edges, parts * parts),
        lungs_to_parts=lungs,
        beds=tuple(bed[0] for bed in beds),
        bed_edges=np.array(taking, dtype=np.int64),
        bed_starts=np.array([place[bed[1]] for bed in beds], dtype=np.int64),
        uptake_shares=np.array([bed[4] for bed in beds]),
        beds_to_matrix=to_matrix.reshape(len(beds), parts * parts),
        beds_to_parts=to_parts,
    )


def _both_ways(orbit: Orbit) -> Floats:
    """Forward, then backward mean flows with eddies and trace, shape (n, 2 edges), mL/s."""
    circuit = orbit.circuit
    both = np.concatenate([orbit.edge_flows_ml_s[:, :, 0], orbit.edge_flows_ml_s[:, :, 1]], axis=1)
    edges = len(circuit.edges)
    both[:, :edges] += TRACE_FLOW_ML_S
    for i, edge in enumerate(circuit.edges):
        if not _still(edge):
            eddy = eddy_flow(edge)
            both[:, i] += eddy
            both[:, edges + i] += eddy
    return both


def _still(edge: Edge) -> bool:
    """Whether an edge has no eddies; a float goes the short way."""
    speed = edge.eddy_speed_cm_s
    return isinstance(speed, float) and speed == 0.0
