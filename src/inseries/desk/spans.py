"""A number with its interval, in words of one form for every page."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from inseries.base.findings import Estimate


def figure(value: float, digits: int = 0) -> str:
    """A number with a true minus sign, and none before nothing."""
    text = f"{value:.{digits}f}"
    return text.removeprefix("-") if float(text) == 0.0 else text.replace("-", "−")


def signed(value: float, digits: int = 0) -> str:
    """A number with its sign; none before nothing."""
    text = figure(value, digits)
    return f"+{text}" if value > 0.0 and float(text) != 0.0 else text


def span(estimate: Estimate, digits: int = 0) -> str:
    """An estimate with its interval, where that is more than the value itself."""
    value = figure(estimate.value, digits)
    if estimate.low is None or estimate.high is None:
        return value
    low, high = figure(estimate.low, digits), figure(estimate.high, digits)
    return value if low == value == high else f"{value} ({low} to {high})"
