"""How the search for an orbit ended, with a remedy in words."""

from __future__ import annotations

from enum import IntEnum


class Status(IntEnum):
    """End of the search for a repeating beat; each carries a sentence."""

    SETTLED = 0
    NOT_PERIODIC = 1
    NOT_FINITE = 2

    @property
    def sentence(self) -> str:
        """What happened and what to try."""
        return _SENTENCES[self]


_SENTENCES = {
    Status.SETTLED: "the beat repeats itself",
    Status.NOT_PERIODIC: (
        "the beat does not repeat within the allowed beats; try more beats or more steps, or look "
        "at the part with the largest change"
    ),
    Status.NOT_FINITE: (
        "volumes ran away; try smaller defects, a larger total volume or more steps a beat"
    ),
}
