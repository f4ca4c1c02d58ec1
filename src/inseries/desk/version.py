"""Which edition of the product is speaking."""

from __future__ import annotations

from functools import cache


@cache
def version() -> str:
    """The installed version, such as ``"0.1.0"``."""
    # Costs 15 ms, so it is paid only by those who ask.
    from importlib.metadata import version as installed  # noqa: PLC0415

    return installed("inseries")
