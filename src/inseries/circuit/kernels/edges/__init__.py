"""Laws of edges, one file each: flow from pressure drop, with its slope and its partials.

A law gives ``(Q, dQ/dΔP, dQ/d(slot 0), dQ/d(slot 1), ...)``, its slots in the order of ``SLOTS``;
what a caller leaves unused is not computed. A law with a state of its own (``STATE = True``) gives
the state's rate instead, and its slope by the state after the slope by ΔP. To add one, see
``docs/how-to/add-an-edge.md``.
"""
