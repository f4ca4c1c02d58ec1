"""What one more reading would be worth, and when to take it.

Each draw is taken for the truth in turn: a reading is simulated from it with its usual error, the
other draws are weighed by it, and the 90 % interval of the days of window that is left is noted.
What the mean interval loses is the worth of the reading. A few heavy draws narrow any interval, so
the same is done with readings dealt to the wrong draws, and only the difference counts. No further
beats are computed.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from inseries.prior.observe import PREDICTED, reading_errors
from inseries.prior.traits import Floats, normals

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from inseries.prior.forecast import Day
    from inseries.prior.narrow import Narrowed
    from inseries.prior.traits import Traits
    from inseries.prior.window import Outlook

    Rows = NDArray[np.int64]

# chosen: how many are named
MOST_MEASUREMENTS = 3
# chosen: days from today on which a reading is weighed
DAYS_ON = (0.0, 3.0, 7.0)
# chosen: draws taken for the truth, and how often the draws are weighed anew for the error
TRUTHS, AGAIN = 40, 24
# chosen: readings taken together at most
MOST_TOGETHER = 8
# chosen: a worth below this is not worth a line, days
LEAST_WORTH_DAYS = 1.0
# derived: a 90 % interval lies between these shares, and these percentiles
LOW, HIGH = 0.05, 0.95
FIVE = 5  # common practice: chances are told in steps of about five points
# derived: the outlook's days lie two apart, so the one asked for lies this near at most
NEAR_DAYS = 1.5


@dataclass(frozen=True, slots=True, kw_only=True)
class WorthOnDay:
    """What a reading taken at one age would take off the 90 % interval of the days of window."""

    day: float
    worth_days: float
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Measurement:
    """One more reading, what it would be worth and when.

    Parameters
    ----------
    name : what to measure
    effect_days : how far one standard deviation of the quantity goes with the days of window
    worth_days, low, high : what it takes off the 90 % interval of the days of window, with the
        90 % interval of that figure's own error; on ``when_day``
    interval_days : that interval without it
    when_day : age at which it is worth most; today unless later is worth more beyond the errors
    given_up : survivable chance lost by waiting for it, as a fraction
    by_day : its worth today, in three days, in a week
    words : the same for a reader
    """

    name: str
    effect_days: float
    worth_days: float
    low: float
    high: float
    interval_days: float
    when_day: float
    given_up: float
    by_day: tuple[WorthOnDay, ...]
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """One reading as the model sees it: its value and standard deviation in every draw."""

    values: Floats
    sd: Floats

    def at(self, rows: Rows) -> Asked:
        """The same of some draws."""
        return Asked(values=self.values[rows], sd=self.sd[rows])


Candidate = list[Asked]
"""Readings taken together."""


def next_measurements(
    today: Narrowed, days_of_window: Floats, ahead: Outlook, *, at_once: bool = False
) -> tuple[Measurement, ...]:
    """Readings that would narrow the days of window most.

    Parameters
    ----------
    today : narrowed draws
    days_of_window : array, shape (n,)
    ahead : the outlook, whose days begin today
    at_once : only today counts, since an emergency does not wait for a later reading

    Returns
    -------
    tuple of Measurement, the most worth first; none whose error covers zero
    """
    _, first, counts = np.unique(today.baby.traits.z, axis=0, return_index=True, return_counts=True)
    asked = DAYS_ON[:1] if at_once else DAYS_ON
    when = [day for on in asked if (day := _near(ahead.days, today.age_days + on)) is not None]
    looks = [(day, _candidates(day, today)) for day in when]
    scale = Scale(days_of_window[first], counts)
    found = [
        item
        for name in looks[0][1]
        if (item := _measurement(name, looks, first, scale)) is not None
    ]
    found = [_with_loss(item, ahead) for item in found]
    return tuple(sorted(found, key=lambda item: -item.worth_days)[:MOST_MEASUREMENTS])


def _near(days: Sequence[Day], age: float) -> Day | None:
    near = min(days, key=lambda day: abs(day.age_days - age))
    return near if abs(near.age_days - age) <= NEAR_DAYS else None


def _candidates(day: Day, today: Narrowed) -> dict[str, Candidate]:
    """Readings by name, as each draw would give them on one day."""
    traits = today.baby.traits
    left, right = _read("lv_systolic_mmhg", day, traits), _read("rv_systolic_mmhg", day, traits)
    ratio = left.values / right.values
    error = ratio * np.hypot(left.sd / left.values, right.sd / right.values)
    mass = _asked("lv_mass_g", day.walls.left.mass_g * traits["echo_over_cmr"])
    pressures = Asked(values=ratio, sd=error)
    cavity, ejection = (_read(key, day, traits) for key in ("lv_edv_ml", "lv_ef_pct"))
    found = {
        "a whole echo (LV mass, pressures, cavity, ejection)": [
            mass,
            pressures,
            cavity,
            ejection,
        ],
        "LV mass by the same echo method": [mass],
        "LV mass by CMR": [_asked("lv_mass_g", day.walls.left.mass_g)],
        "LV to RV pressure ratio (septal position, Doppler)": [pressures],
        "LV end-diastolic volume": [cavity],
        "LV ejection fraction": [ejection],
        "right-hand saturation": [
            _asked("spo2_right_hand_pct", day.readings.saturation_pct("AoU"))
        ],
        "left atrial pressure": [_read("la_mean_mmhg", day, traits)],
        "lung artery pressure": [_read("pulmonary_artery_systolic_mmhg", day, traits)],
    }
    if today.baby.story.outflow not in (None, "open"):
        found["left outflow gradient"] = [_read("lv_outflow_gradient_mmhg", day, traits)]
    return found


def _read(key: str, day: Day, traits: Traits) -> Asked:
    return _asked(key, PREDICTED[key](day.readings, day.walls, traits))


def _asked(key: str, values: Floats) -> Asked:
    """A reading with the usual error of its kind, its own and the model's."""
    own, model = reading_errors()[key]
    return Asked(values=values, sd=np.full(values.shape, np.hypot(own, model)))


class Scale:
    """The days of window of different draws in rising order, and their weights."""

    def __init__(self, days: Floats, counts: Rows) -> None:
        self.order = np.argsort(days)
        self.days: Floats = days[self.order]
        self.weights: Floats = (counts / counts.sum())[self.order]
        size = len(days)
        self.truths = np.linspace(0, size - 1, min(TRUTHS, size)).round().astype(np.int64)
        self.noise = normals((len(self.truths), MOST_TOGETHER), 0, "", "simulated readings")
        draw = np.random.Generator(np.random.Philox(key=1))
        self.mixed = [draw.permutation(size) for _ in range(AGAIN)]
        self.anew = draw.standard_exponential((AGAIN, size))

    def width(self, weights: Floats) -> Floats:
        """Width of the 90 % interval under weights, shape (k, n)."""
        shares = weights / weights.sum(axis=1, keepdims=True)
        reached = np.cumsum(shares, axis=1) - 0.5 * shares
        ends = [_crossing(reached, self.days, level) for level in (LOW, HIGH)]
        return ends[1] - ends[0]

    def whole(self) -> float:
        """Width as it stands."""
        return float(self.width(self.weights[None, :])[0])

    def narrowed(self, candidate: Candidate, weights: Floats, rows: Rows) -> float:
        """Mean width after a simulated reading; ``rows`` says whose readings the draws carry."""
        held = np.arange(len(self.days))[None, :] == self.truths[:, None]
        log = np.zeros(held.shape)
        for place, asked in enumerate(candidate):
            values, sd = asked.values[rows], asked.sd[rows]
            told = values[self.truths] + sd[self.truths] * self.noise[:, place]
            log -= 0.5 * ((told[:, None] - values[None, :]) / sd[None, :]) ** 2
        log -= log.max(axis=1, keepdims=True)
        likely = np.where(held, 0.0, np.exp(log) * weights)
        share = weights[self.truths] / weights[self.truths].sum()
        return float(share @ self.width(likely))

    def worth(self, candidate: Candidate) -> Floats:
        """Days taken off the interval, shape (AGAIN,), each with the draws weighed anew."""
        ordered = [asked.at(self.order) for asked in candidate]
        own = np.arange(len(self.days))
        found = [
            self.narrowed(ordered, self.weights * again, mixed)
            - self.narrowed(ordered, self.weights * again, own)
            for again, mixed in zip(self.anew, self.mixed, strict=True)
        ]
        return np.array(found)


def _crossing(reached: Floats, days: Floats, level: float) -> Floats:
    """Where each row of rising shares crosses a level, read between the draws."""
    after = np.clip((reached < level).sum(axis=1), 1, len(days) - 1)
    rows = np.arange(len(reached))
    below, above = reached[rows, after - 1], reached[rows, after]
    share = np.clip((level - below) / np.maximum(above - below, 1e-12), 0.0, 1.0)
    return days[after - 1] + share * (days[after] - days[after - 1])


def _measurement(
    name: str,
    looks: list[tuple[Day, dict[str, Candidate]]],
    rows: Rows,
    scale: Scale,
) -> Measurement | None:
    again = [scale.worth([asked.at(rows) for asked in found[name]]) for _, found in looks]
    on_days = tuple(
        _on_day(day.age_days, worth) for (day, _), worth in zip(looks, again, strict=True)
    )
    place = _best(again)
    best = on_days[place]
    if best.low <= 0.0 or best.worth_days < LEAST_WORTH_DAYS:
        return None
    whole = scale.whole()
    values = looks[0][1][name][0].values[rows]
    return Measurement(
        name=name,
        effect_days=round(_goes_with(values[scale.order], scale.days, scale.weights), 2),
        worth_days=best.worth_days,
        low=best.low,
        high=best.high,
        interval_days=round(whole, 2),
        when_day=best.day,
        given_up=0.0,
        by_day=on_days,
        words=_words(best, on_days[0].day, whole),
    )


def _with_loss(item: Measurement, ahead: Outlook) -> Measurement:
    """The same with what waiting for it costs in survivable chance."""
    ages = np.array([ahead.days[0].age_days, max(item.when_day, ahead.days[0].age_days)])
    now, then = ahead.chance("survivable", ages).mean(axis=0)
    lost = max(float(now - then), 0.0)
    points = FIVE * round(100.0 * lost / FIVE)
    waiting = f"; waiting gives up about {points} points of survivable chance"
    return replace(item, given_up=round(lost, 4), words=item.words + (waiting if points else ""))


def _on_day(age: float, again: Floats) -> WorthOnDay:
    low, high = np.percentile(again, [100.0 * LOW, 100.0 * HIGH])
    return WorthOnDay(
        day=round(age, 2),
        worth_days=round(float(again.mean()), 2),
        low=round(float(low), 2),
        high=round(float(high), 2),
    )


def _best(again: list[Floats]) -> int:
    """The first day, unless a later one is worth more beyond the error of the difference."""
    best = 0
    for place in range(1, len(again)):
        if float(np.percentile(again[place] - again[best], 100.0 * LOW)) > 0.0:
            best = place
    return best


def _goes_with(values: Floats, days: Floats, weights: Floats) -> float:
    away, apart = values - weights @ values, days - weights @ days
    spread = np.sqrt(weights @ away**2)
    return float(weights @ (away * apart) / spread) if spread > 0.0 else 0.0


def _words(best: WorthOnDay, now: float, whole: float) -> str:
    later = round(best.day - now)
    when = "now" if later == 0 else f"in {later} days"
    low, high, about = round(best.low), round(best.high), round(best.worth_days)
    days = "1 day" if about == 1 else f"{about} days"
    return (
        f"{when}, worth about {days} ({low} to {high}) off an interval of {round(whole)} days of "
        "window"
    )
