"""Verbs that exist in tests only: one answers, one refuses, one breaks, one is interrupted."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping  # noqa: TC003 - read by the schema at run time
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import Literal

from inseries.base.errors import CaseError
from inseries.base.findings import Caution, Estimate, Severity
from inseries.desk.answer import Answer, Run, Shown, Table
from inseries.desk.verbs import Verb

LONG = "a sentence that goes on about the same small thing for quite a while " * 4


class Colour(StrEnum):
    """Words that become text."""

    PINK = "pink"
    BLUE = "blue"


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A record inside a record."""

    name: str
    size: Estimate
    try_: Literal["once", "again"] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Guess:
    """Every kind of field that a result may have."""

    colour: Colour
    parts: tuple[Part, ...]
    pair: tuple[float, int]
    shares: Mapping[str, float]
    sure: bool
    seed: int | None

    def shown(self) -> Shown:
        """Long sentences, a wide table, a picture as wide as a screen."""
        rows = tuple(
            (part.name, f"{part.size.value:.1f} {part.size.unit}", LONG) for part in self.parts
        )
        return Shown(
            sentences=("The colour is [bold]pink[/bold] :baby:.", LONG),
            tables=(Table(title="Parts", columns=("part", "size", "remark"), rows=rows),),
            picture="▁▂▃▄" * 20,
        )


def guess(
    case: Path | str, *, seed: int = 7, progress: Callable[[str, float], None] | None = None
) -> Answer:
    """A complete answer."""
    if progress is not None:
        progress("guessing", 0.5)
    size = Estimate(value=1 / 3, low=0.1, high=0.9, unit="mmHg")
    return Answer(
        verb="guess",
        case_id="harbour-07" if isinstance(case, Path) else case.strip(),
        result=Guess(
            colour=Colour.PINK,
            parts=(Part(name="septum", size=size, try_="again"),),
            pair=(2.0, 3),
            shares={"wall": 0.25},
            sure=True,
            seed=seed,
        ),
        cautions=(Caution(severity=Severity.CAUTION, text="Invented. " + LONG),),
        sources=("jhaveri2023",),
        run=Run(seed=seed, draws=1, criteria={"survivable": {"la_mean_max_mmhg": 18.0}}),
    )


def slow(*, progress: Callable[[str, float], None]) -> Answer:
    """An answer that takes longer than a second."""
    progress("first stage", 0.0)
    time.sleep(1.05)
    for fraction in (0.2, 0.6, 1.0):
        progress("second stage", fraction)
    return Answer(verb="slow", result=guess("x").result)


def endless() -> Answer:
    """A computation that only the user ends."""
    print("computing", flush=True)  # noqa: T201
    while True:
        time.sleep(0.01)


def never(case: Path | str) -> Answer:
    """A refusal with everything in it."""
    raise CaseError(
        "The saturation is impossible",
        code="out_of_range",
        where="baby.toml line 4, spo2_foot_pct",
        value=130,
        unit="%",
        remedy="a value from 0 to 100.",
    )


def broken() -> Answer:
    """A mistake of ours, whose words hold a path."""
    text = "nothing of that name in the folder of maria"
    raise LookupError(text)


def stopped() -> Answer:
    """What happens when a user presses Ctrl-C."""
    raise KeyboardInterrupt


def _verb(name: str, *takes: str) -> Verb:
    return Verb(
        name=name,
        question=f"what would {name} say?",
        module=__name__,
        function=name,
        result="Guess",
        takes=takes,  # type: ignore[arg-type]
    )


GUESS = _verb("guess", "case", "seed", "progress")
FAKES = {
    verb.name: verb
    for verb in (
        GUESS,
        _verb("slow", "progress"),
        _verb("never", "case"),
        _verb("broken"),
        _verb("stopped"),
        _verb("endless"),
    )
}
