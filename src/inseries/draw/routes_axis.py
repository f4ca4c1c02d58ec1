"""An axis of age with a fold: weeks before it, months after it, each on a scale of its own."""

from __future__ import annotations

from dataclasses import dataclass

# chosen: free space at the fold, drawing units
FOLD_GAP = 16.0
# chosen: share of the axis that lies before the fold
BEFORE = 0.66
# chosen: the least distance between two labels of age before the fold, days
STEPS_DAYS = (7, 14, 28)
# chosen: labels before the fold at most
MOST_LABELS = 9
# derived: days of a month
MONTH_DAYS = 365.25 / 12.0
# chosen: months that are labelled after the fold
MONTHS = (3, 6, 9, 12)


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldedAxis:
    """Ages ``first`` over ``fold`` to ``last``, drawn from ``start`` to ``end``, ``gap`` free."""

    first: float
    fold: float
    last: float
    start: float
    end: float
    gap: float = FOLD_GAP

    @property
    def before_end(self) -> float:
        """Place of the fold, reached from below."""
        if self.last <= self.fold:
            return self.end
        return self.start + BEFORE * (self.end - self.start) - self.gap / 2.0

    @property
    def after_start(self) -> float:
        """Place of the fold, left upwards."""
        return self.before_end + self.gap

    def at(self, day: float) -> float:
        """Place of an age, kept on the axis."""
        if day <= self.fold or self.last <= self.fold:
            share = (day - self.first) / max(self.fold - self.first, 1e-6)
            return self.start + (self.before_end - self.start) * min(1.0, max(0.0, share))
        share = (day - self.fold) / (self.last - self.fold)
        return self.after_start + (self.end - self.after_start) * min(1.0, share)

    def labels(self) -> tuple[tuple[float, str], ...]:
        """Ages to label: whole weeks as days before the fold, months after it."""
        span = self.fold - self.first
        step = next((s for s in STEPS_DAYS if span / s <= MOST_LABELS), STEPS_DAYS[-1])
        weeks = range(0, int(self.fold) + 1, step)
        near = [(float(day), f"{day}") for day in weeks if self.first <= day <= self.fold]
        far = [
            (month * MONTH_DAYS, f"{month} mo")
            for month in MONTHS
            if self.fold < month * MONTH_DAYS <= self.last + 1.0
        ]
        return (*near, *far)
