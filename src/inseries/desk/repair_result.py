"""What the verb ``repair`` tells, and how it shows itself in a terminal."""

from __future__ import annotations

from dataclasses import dataclass

from inseries.desk.answer import Shown
from inseries.desk.repair_records import RepairFindings
from inseries.desk.repair_tables import tables
from inseries.draw.repair_terminal import repair_text


@dataclass(frozen=True, slots=True, kw_only=True)
class RepairResult(RepairFindings):
    """How the pieces fit, as it is shown."""

    def shown(self) -> Shown:
        """Urgency first, then what, why, how sure; tables."""
        u = self.urgency
        files = (
            ("page", self.page),
            ("patch in true size", self.patch_page),
            ("drawing", self.drawing),
        )
        return Shown(
            sentences=(
                f"{u.level.upper()}: {u.headline}. Next decision within {u.hours:g} h.",
                f"Is a switch the operation? {self.suitability.sentence}",
                *self.sentences,
                *(
                    f"The {word} is in {name}, readable by you alone."
                    for word, name in files
                    if name
                ),
            ),
            tables=tables(self),
            picture=repair_text(self.picture),
        )
