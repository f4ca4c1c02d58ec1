"""Published situations computed once for all witnesses that ask for them."""

from __future__ import annotations

from functools import cache

from inseries.desk.experiments.catalogue import SITUATIONS


@cache
def ours(situation: str) -> dict[str, float]:
    """Our numbers of a situation with the packaged constants."""
    return SITUATIONS[situation].experiment(None)
