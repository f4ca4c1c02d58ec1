"""What is done to a baby on its time line: at the bedside, by catheter, in theatre."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import lru_cache, reduce
from itertools import pairwise
from typing import TYPE_CHECKING

from inseries.base.errors import RouteNotPossible
from inseries.base.numbers import read_numbers
from inseries.prior.plain import CLOSING_DAYS
from inseries.prior.story import Changed, Track, constant

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from inseries.prior.story import Story


class Kind(StrEnum):
    """What can be done."""

    SEPTOSTOMY = "septostomy"
    PROSTAGLANDIN = "prostaglandin"
    DUCT_STENT = "duct stent"
    DUCT_CLOSES = "duct closes"
    OXYGEN = "oxygen"
    INOTROPE = "inotrope"
    OUTFLOW = "left outflow narrows"
    BAND = "band"
    BAND_OFF = "band taken off"
    SHUNT = "shunt"
    SHUNT_OFF = "shunt closed"
    SWITCH = "switch"
    ATRIAL_SWITCH = "atrial switch"
    SUPPORT = "mechanical support"


@dataclass(frozen=True, slots=True, kw_only=True)
class Action:
    """One thing done at one age.

    Parameters
    ----------
    kind : what
    age_days : when
    size : mm of a tear, duct, stent, narrowing, shunt, or of the lumen a band leaves; inspired
        fraction of oxygen; strength factor of an inotrope; L/min/m2 of support; None for the usual
    until_days : age at which it ends, for what is given and not made; None goes on
    """

    kind: Kind
    age_days: float
    size: float | None = None
    until_days: float | None = None

    @property
    def end_days(self) -> float:
        """Age at which it ends, infinite where it does not."""
        return math.inf if self.until_days is None else self.until_days


# derived: two operations closer than this are asked for at one hour
ONE_HOUR_DAYS = 1.0 / 24.0
# published: who2006 and the usual tracks reach so far, days
LAST_DAY = 366.0
OPERATIONS = (Kind.BAND, Kind.SWITCH, Kind.ATRIAL_SWITCH)
REPAIRS = (Kind.SWITCH, Kind.ATRIAL_SWITCH)
# what can still be done after a repair
AFTERWARDS = (Kind.OXYGEN, Kind.INOTROPE, Kind.SUPPORT)
# what cannot be done without a size
SIZED = (Kind.BAND, Kind.SHUNT, Kind.OUTFLOW)


@lru_cache(maxsize=1)
def usual_sizes() -> Mapping[str, float]:
    """How large things are taken to be, unless it is said."""
    return {name: n.value for name, n in read_numbers("inseries.prior", "actions.toml").items()}


def with_actions(story: Story, actions: Iterable[Action]) -> Story:
    """The story with things done to the baby.

    Parameters
    ----------
    story : Story of parallel circulations
    actions : in any order

    Returns
    -------
    Story; each action's age is a break that no slow step crosses

    Raises
    ------
    RouteNotPossible
        something done before birth, beyond the norms, twice, at one hour with another operation, or
        after a repair that rules it out
    """
    ordered = sorted(actions, key=lambda action: action.age_days)
    for action in ordered:
        _refuse_unfit(action)
    _refuse_order(story, ordered)
    return reduce(_done, ordered, story)


def _done(story: Story, action: Action) -> Story:
    changed = _DO[action.kind](story, action)
    ends = (action.end_days,) if math.isfinite(action.end_days) else ()
    if action.kind is Kind.PROSTAGLANDIN:
        ends = tuple(age for end in ends for age in (end, end + CLOSING_DAYS))
    breaks = sorted({*story.breaks_days, action.age_days, *ends})
    return replace(changed, breaks_days=tuple(breaks))


def _size(action: Action, name: str) -> float:
    return usual_sizes()[name] if action.size is None else action.size


def _from(
    base: Callable[[float], float], action: Action, value: float | Track
) -> Callable[[float], float]:
    other = constant(value) if isinstance(value, float | int) else value
    return Changed(base=base, other=other, start_days=action.age_days, end_days=action.end_days)


def _septostomy(story: Story, action: Action) -> Story:
    size = _size(action, "tear")
    if story.septostomy_day is not None and story.septostomy_day <= action.age_days:
        return replace(story, torn_again=(action.age_days, size))
    return replace(story, septostomy_day=action.age_days, tear_mm=size)


def _prostaglandin(story: Story, action: Action) -> Story:
    """The duct as wide as said, or as it is, or as usual; once it ends the duct closes for good."""
    now = story.duct_mm(action.age_days)
    width = action.size if action.size is not None else now or usual_sizes()["open_duct"]
    if math.isinf(action.end_days):
        return replace(story, duct_mm=_from(story.duct_mm, action, width))
    end = action.end_days
    closing = Track(ages_days=(end, end + CLOSING_DAYS), values=(width, 0.0))
    return replace(story, duct_mm=_from(story.duct_mm, replace(action, until_days=None), closing))


def _stent(story: Story, action: Action) -> Story:
    return replace(story, duct_mm=_from(story.duct_mm, action, _size(action, "stent")))


def _duct_closes(story: Story, action: Action) -> Story:
    return replace(story, duct_mm=_from(story.duct_mm, action, 0.0))


def _oxygen(story: Story, action: Action) -> Story:
    return replace(
        story,
        inspired_fraction=_from(story.inspired_fraction, action, _size(action, "oxygen_inspired")),
        lung_factor=_from(story.lung_factor, action, usual_sizes()["oxygen_lung_resistance"]),
    )


def _inotrope(story: Story, action: Action) -> Story:
    return replace(
        story, strength_factor=_from(story.strength_factor, action, _size(action, "inotrope"))
    )


def _outflow(story: Story, action: Action) -> Story:
    if story.outflow not in (None, "open"):
        _refuse("the left outflow is narrow already", "twice", action, "the narrowing as recorded")
    assert action.size is not None
    return replace(story, narrowing_mm=_from(story.narrowing_mm, action, action.size))


def _band(story: Story, action: Action) -> Story:
    assert action.size is not None
    return replace(story, band_mm=_from(story.band_mm, action, action.size))


def _band_off(story: Story, action: Action) -> Story:
    return replace(story, band_mm=_from(story.band_mm, action, 0.0))


def _shunt(story: Story, action: Action) -> Story:
    assert action.size is not None
    return replace(story, shunt_mm=_from(story.shunt_mm, action, action.size))


def _shunt_off(story: Story, action: Action) -> Story:
    return replace(story, shunt_mm=_from(story.shunt_mm, action, 0.0))


def _switch(story: Story, action: Action) -> Story:
    return replace(story, switch_day=action.age_days)


def _atrial_switch(story: Story, action: Action) -> Story:
    return replace(story, atrial_switch_day=action.age_days)


def _support(story: Story, action: Action) -> Story:
    if action.until_days is None:
        days = usual_sizes()["support_days"]
        action = replace(action, until_days=action.age_days + days)
    flow = _from(story.support_l_min_m2, action, _size(action, "support"))
    return replace(story, support_l_min_m2=flow)


_DO: dict[Kind, Callable[[Story, Action], Story]] = {
    Kind.SEPTOSTOMY: _septostomy,
    Kind.PROSTAGLANDIN: _prostaglandin,
    Kind.DUCT_STENT: _stent,
    Kind.DUCT_CLOSES: _duct_closes,
    Kind.OXYGEN: _oxygen,
    Kind.INOTROPE: _inotrope,
    Kind.OUTFLOW: _outflow,
    Kind.BAND: _band,
    Kind.BAND_OFF: _band_off,
    Kind.SHUNT: _shunt,
    Kind.SHUNT_OFF: _shunt_off,
    Kind.SWITCH: _switch,
    Kind.ATRIAL_SWITCH: _atrial_switch,
    Kind.SUPPORT: _support,
}


def _refuse_unfit(action: Action) -> None:
    if action.age_days < 0.0:
        _refuse("nothing can be done before birth", "before_birth", action, "an age from 0 on")
    if action.age_days > LAST_DAY:
        _refuse("the norms end at one year", "beyond_norms", action, f"an age up to {LAST_DAY:g} d")
    if action.kind in SIZED and action.size is None:
        _refuse("its size was not said", "no_size", action, "a diameter in mm")
    if action.size is not None and not action.size > 0.0:
        _refuse("a size must be above zero", "not_positive", action, "a positive number")
    if action.end_days <= action.age_days:
        _refuse("it ends before it begins", "ends_early", action, "a later end")


def _refuse_order(story: Story, ordered: list[Action]) -> None:
    done = [action for action in ordered if action.kind in OPERATIONS]
    for first, second in pairwise(done):
        if second.age_days - first.age_days < ONE_HOUR_DAYS:
            text = f"{second.kind.value} and {first.kind.value} are asked for at one hour"
            _refuse(text, "one_hour", second, "one of them an hour later at least")
    repaired = [day for day in (story.switch_day, story.atrial_switch_day) if day is not None]
    repaired += [action.age_days for action in done if action.kind in REPAIRS]
    first_repair = min(repaired, default=math.inf)
    for action in ordered:
        late = action.age_days > first_repair or (action.kind in REPAIRS and len(repaired) > 1)
        if late and action.kind not in AFTERWARDS:
            text = f"{action.kind.value} comes after a repair, which rules it out"
            _refuse(text, "after_repair", action, "an age before the repair")


def _refuse(what: str, code: str, action: Action, remedy: str) -> None:
    raise RouteNotPossible(
        what,
        code=code,
        where=action.kind.value,
        value=round(action.age_days, 2),
        unit="d of age",
        remedy=remedy,
    )
