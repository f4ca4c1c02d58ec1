"""What may be typed after a verb."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from collections.abc import Callable

    from inseries.desk.verbs import Taken, Verb


def parameters(verb: Verb) -> list[click.Parameter]:
    """The argument and options of a verb: what it takes, then what every verb offers."""
    own = [_TAKEN[name]() for name in verb.takes if name in _TAKEN]
    return [*own, *_common()]


def _case() -> click.Parameter:
    return click.Argument(["case"], metavar="CASE")


def _seed() -> click.Parameter:
    return click.Option(
        ["--seed"],
        type=click.IntRange(min=0),
        help="Start of the random numbers; the same seed gives the same answer.",
    )


def _draws() -> click.Parameter:
    return click.Option(
        ["--draws"],
        type=click.IntRange(min=1),
        help="How many circuits that fit the readings are computed.",
    )


_TAKEN: dict[Taken, Callable[[], click.Parameter]] = {
    "case": _case,
    "seed": _seed,
    "draws": _draws,
}


def _common() -> list[click.Parameter]:
    return [
        click.Option(["--json", "as_json"], is_flag=True, help="Print one JSON object."),
        click.Option(
            ["--out", "out_path"],
            type=click.Path(path_type=Path),
            help="Write the answer to this file, readable by you alone.",
        ),
        click.Option(["--replace"], is_flag=True, help="Allow --out to replace a file."),
        click.Option(["--debug"], is_flag=True, help="Show where an unexpected error arose."),
    ]
