"""One beat of a circulation: parts, edges, the repeating beat, flows, pressures, oxygen.

Knows: chambers, vessels, valves, orifices, blood; one body at one instant.
Must not know: patients, days, operations.
Start reading: ``network.py``, then ``orbit.py``.
Proven by: ``tests/rooms/test_circuit.py``, ``tests/laws/test_circuit_laws.py``, ``tests/witness``.
"""
