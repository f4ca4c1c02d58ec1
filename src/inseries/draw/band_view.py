"""What the picture of a band is told."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class BandLine:
    """One quantity from the hour of the band on.

    Attributes
    ----------
    name, unit : str, as printed
    before : float, without the band, in ``unit``
    value, low, high : tuple of float, shape (n_days,), in ``unit``; 90 % interval
    aim : float or None, what the band was set to, or what is asked before the second stage
    aim_text : str, what that is, in a few words
    """

    name: str
    unit: str
    before: float
    value: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]
    aim: float | None = None
    aim_text: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class BandView:
    """Hours to weeks after a band, as small pictures side by side.

    Attributes
    ----------
    title : str
    days : tuple of float, shape (n_days,), days after the band, rising from 0
    lines : tuple of BandLine, each with n_days values
    ready : tuple of (days after the band, share of the draws that is ready by then, a fraction)
    ready_text : str, in words
    marks : tuple of (days after the band, what is done then)
    sentence : str
    figure_id : str, prefix of every id in the SVG
    """

    title: str
    days: tuple[float, ...]
    lines: tuple[BandLine, ...]
    ready: tuple[tuple[float, float], ...]
    ready_text: str
    marks: tuple[tuple[float, str], ...]
    sentence: str
    figure_id: str
