"""Published situations computed once for all witnesses that ask for them, under each law."""

from __future__ import annotations

from functools import cache

import pytest

from inseries.course.laws import DEFAULT, LAWS
from inseries.desk.experiments.catalogue import SITUATIONS

EACH_LAW = pytest.mark.parametrize("law", LAWS)


@cache
def found(situation: str) -> dict[str, dict[str, float]]:
    """Our numbers of a situation with the packaged constants, by law of growth."""
    return SITUATIONS[situation].found()


def ours(situation: str, law: str = DEFAULT) -> dict[str, float]:
    """Our numbers of a situation under one law of growth."""
    return found(situation)[law]


def each_law_but(**missed: str) -> pytest.MarkDecorator:
    """Each law of growth; one that misses the figure is expected to, for the reason given."""
    return pytest.mark.parametrize(
        "law",
        [
            pytest.param(law, marks=pytest.mark.xfail(strict=True, reason=missed[law]))
            if law in missed
            else law
            for law in LAWS
        ],
    )
