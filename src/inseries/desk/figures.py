"""Every picture of a result as SVG with its words: whatever holds a view can be shown on a page."""

from __future__ import annotations

import re
from dataclasses import dataclass, fields, is_dataclass, replace
from importlib import import_module
from inspect import signature
from typing import TYPE_CHECKING, Any, cast

if TYPE_CHECKING:
    from collections.abc import Callable
    from types import ModuleType

# Class of a view: the file of `draw` and the function that draw it, and the file that says it.
DRAWN: dict[str, tuple[str, str, str]] = {
    "LoopsView": ("ribbons", "ribbon_svg", "ribbons"),
    "WindowView": ("window_curve", "window_svg", "window_curve"),
    "RoutesView": ("routes_lanes", "routes_svg", "routes_view"),
    "BandView": ("band_course", "band_svg", "band_course"),
    "OutlookView": ("outlook_strip", "outlook_svg", "outlook_strip"),
    "RepairView": ("repair_view", "repair_svg", "repair_view"),
    "SwitchView": ("switch_strip", "switch_strip_svg", "switch_strip"),
}


# where an SVG of ours names an id
_IDS = re.compile(r'(\bid="|url\(#|href="#|labelledby="|(?<=-title) )(?=[A-Za-z])')


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A picture, and what is said of it.

    Parameters
    ----------
    name : of the field it came from
    svg : without style or script
    alt : the picture in words
    title : where it is not in the picture
    """

    name: str
    svg: str
    alt: str
    title: str = ""


def figures(result: object) -> tuple[Figure, ...]:
    """The pictures of a result, in the order of its fields; none where it holds no view."""
    if not is_dataclass(result):
        return ()
    held = [(each.name, getattr(result, each.name)) for each in fields(result)]
    return tuple(figure_of(name, view) for name, view in held if type(view).__name__ in DRAWN)


def figure_of(name: str, view: object) -> Figure:
    """One view drawn."""
    where, draws, says = DRAWN[type(view).__name__]
    drawn = cast("Callable[[Any], str]", getattr(_file(where), draws))
    spoken = cast("Callable[[Any], str] | None", getattr(_file(says), "spoken", None))
    words = spoken(view) if spoken is not None else str(getattr(view, "title", ""))
    compact = "compact" in signature(drawn).parameters
    svg = cast("Callable[..., str]", drawn)(view, compact=True) if compact else drawn(view)
    title = str(getattr(view, "title", "")) if compact else ""
    return Figure(name=name, svg=svg, alt=words, title=title)


def renamed(figure: Figure, prefix: str) -> Figure:
    """The same picture with ids of its own, so that it can stand twice on a page."""
    return replace(figure, svg=_IDS.sub(rf"\g<1>{prefix}-", figure.svg))


def _file(name: str) -> ModuleType:
    return import_module(f"inseries.draw.{name}")
