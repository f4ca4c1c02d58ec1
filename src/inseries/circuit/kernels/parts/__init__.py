"""Laws of parts, one file each: pressure from volume, with its slope and its partials.

Every law gives ``(P, dP/dV, dP/d(slot 0), dP/d(slot 1), ...)``, its slots in the order of
``SLOTS``; what a caller leaves unused is not computed. To add one, see
``docs/how-to/add-an-edge.md``.
"""
