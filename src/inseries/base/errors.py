"""What can go wrong, as one tree.

InseriesError
├── CaseError          a case file or a record cannot be taken as it is
├── NormsError         an age or size outside a reference table
├── CircuitError       a circuit cannot be built
│   └── NotPeriodic    a circuit did not settle into a repeating beat
├── RouteNotPossible   an operation's precondition does not hold
├── PriorError         too few plausible draws remain to answer
└── OutputError        an answer cannot be written where it was asked for

Every error carries what, where, the value with its unit, and what to try.
"""

from __future__ import annotations


class InseriesError(Exception):
    """A refusal with its reason.

    Parameters
    ----------
    what : str, one plain sentence
    code : str, short stable name such as ``"unknown_key"``
    where : str, file line, key, part or verb that is meant
    value : object, the offending value, or None
    unit : str, UCUM unit of the value, or ``""``
    remedy : str, what to try
    """

    def __init__(
        self,
        what: str,
        *,
        code: str,
        where: str = "",
        value: object = None,
        unit: str = "",
        remedy: str = "",
    ) -> None:
        super().__init__(what)
        self.what = what
        self.code = code
        self.where = where
        self.value = value
        self.unit = unit
        self.remedy = remedy

    def __str__(self) -> str:
        """One line: where, what, value with unit, what to try."""
        place = f"{self.where}: " if self.where else ""
        value = "" if self.value is None else f" (got {self.value}{_spaced(self.unit)})"
        remedy = f" Try: {self.remedy}" if self.remedy else ""
        return f"{place}{self.what}{value}.{remedy}"

    def __reduce__(self) -> tuple[object, tuple[object, ...]]:
        """Pickles with all its fields, so that worker processes can hand it back."""
        return _rebuild, (type(self), self.what, dict(self.__dict__))


def _spaced(unit: str) -> str:
    return f" {unit}" if unit else ""


def _rebuild(kind: type[InseriesError], what: str, fields: dict[str, object]) -> InseriesError:
    error = kind.__new__(kind)
    Exception.__init__(error, what)
    error.__dict__.update(fields)
    return error


class CaseError(InseriesError, ValueError):
    """A case file or a record cannot be taken as it is."""


class NormsError(InseriesError, ValueError):
    """An age or size outside a reference table."""


class CircuitError(InseriesError, ValueError):
    """A circuit cannot be built."""


class NotPeriodic(CircuitError):
    """A circuit did not settle into a repeating beat."""


class RouteNotPossible(InseriesError, ValueError):
    """An operation's precondition does not hold."""


class PriorError(InseriesError):
    """Too few plausible draws remain to answer."""


class OutputError(InseriesError):
    """An answer cannot be written where it was asked for."""
