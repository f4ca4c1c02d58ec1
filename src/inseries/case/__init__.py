"""What was seen of one baby.

Knows: frozen records of when, value, unit, method, certainty, source; the case file.
Must not know: physics, norms.
Start reading: ``record.py``, then ``keys.toml`` and ``read.py``.
Proven by: ``tests/rooms/test_case_*.py``.
"""

from inseries.case.canonical import canonical
from inseries.case.read import read_case
from inseries.case.record import (
    Anatomy,
    Case,
    Event,
    EventKind,
    LvOutflow,
    Method,
    Reading,
    Septum,
    Sex,
    Value,
)

__all__ = [
    "Anatomy",
    "Case",
    "Event",
    "EventKind",
    "LvOutflow",
    "Method",
    "Reading",
    "Septum",
    "Sex",
    "Value",
    "canonical",
    "read_case",
]
