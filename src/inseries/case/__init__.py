"""What was seen of one baby.

Knows: frozen records of when, value, unit, method, certainty, source; the case file.
Must not know: physics, norms.
Start reading: ``record.py``, then ``keys.toml`` and ``read.py``.
Proven by: ``tests/rooms/test_case_*.py``.
"""

from inseries.case.canonical import canonical
from inseries.case.check import CheckReport, check
from inseries.case.needs import Loss, Missing
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
from inseries.case.schema import schema
from inseries.case.skeleton import skeleton

__all__ = [
    "Anatomy",
    "Case",
    "CheckReport",
    "Event",
    "EventKind",
    "Loss",
    "LvOutflow",
    "Method",
    "Missing",
    "Reading",
    "Septum",
    "Sex",
    "Value",
    "canonical",
    "check",
    "read_case",
    "schema",
    "skeleton",
]
