"""An outlook's result, and how it shows itself in a terminal."""

from __future__ import annotations

from dataclasses import dataclass

from inseries.desk.answer import Shown
from inseries.desk.outlook_records import OutlookFindings
from inseries.desk.outlook_tables import tables
from inseries.draw.outlook_terminal import outlook_text


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlookResult(OutlookFindings):
    """What will grow and what will not, from the operation to forty years."""

    def shown(self) -> Shown:
        """Urgency first, then what, why, how sure; tables; the gradients as a small picture."""
        u = self.urgency
        first = f"{u.level.upper()}: {u.headline}."
        first += "" if self.operated else f" Next decision within {u.hours:g} h."
        asked = (
            () if self.operated else (f"Is a switch the operation? {self.suitability.sentence}",)
        )
        return Shown(
            sentences=(
                first,
                *asked,
                *self.sentences,
                *((f"The page is in {self.page}, readable by you alone.",) if self.page else ()),
            ),
            tables=tables(self),
            picture=outlook_text(self.picture),
        )
