"""The circulation of a baby with transposed great arteries, and how late a switch is possible.

Each verb of the command is a function here and gives an `inseries.desk.answer.Answer`.
Nothing is loaded before it is asked for.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from inseries.desk.band import band
    from inseries.desk.demonstration import demo
    from inseries.desk.now import now
    from inseries.desk.outlook import look_ahead
    from inseries.desk.record import check, new
    from inseries.desk.repair import plan_repair
    from inseries.desk.routes import compare_routes
    from inseries.desk.verify import verify
    from inseries.desk.window import window
    from inseries.desk.write_brief import write_brief

    __version__: str

__all__ = [
    "__version__",
    "band",
    "check",
    "compare_routes",
    "demo",
    "look_ahead",
    "new",
    "now",
    "plan_repair",
    "verify",
    "window",
    "write_brief",
]


def __getattr__(name: str) -> object:
    """A verb's function, or the version, loaded when first asked for."""
    if name == "__version__":
        from inseries.desk.version import version

        return version()
    from inseries.desk.verbs import function_names, load

    if name in (verbs := function_names()):
        return load(verbs[name])
    text = f"module 'inseries' has no attribute {name!r}"
    raise AttributeError(text)


def __dir__() -> list[str]:
    """What a user may ask for."""
    return sorted(__all__)
