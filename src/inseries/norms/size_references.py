"""Every reference of a heart's size: source, people, method, body surface, range, spread."""

from __future__ import annotations

from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from typing import cast

from inseries.base.errors import NormsError
from inseries.base.sources import bibliography
from inseries.norms.size_forms import SCALES, SPREAD_WORDS
from inseries.norms.surface import SurfaceFormula
from inseries.norms.tables import optional, real, rows

SOURCES = "size_sources.toml"
PHN = "phn2017.toml"
NEWBORN_CMR = "newborn_cmr.toml"
OTHERS = ("echo_sizes.toml", "other_sizes.toml")

LINE_METHODS = ("echo-2d", "echo-m-mode")  # a length along one line: M-mode is the same method
NO_SURFACE_FORMS = ("length", "limit", "adult root by length", "table by weight")
Range = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """Where a reference comes from and where it holds.

    Parameters
    ----------
    source : str, bibliography key
    people : str, whom it was made in
    methods : tuple of str, how they were measured
    surface : SurfaceFormula or None, formula of its body surface; None where it asks for none
    surface_read : bool, whether that formula was read, or Haycock was taken
    ages : pair of float, years
    surface_m2, length_cm, weight_kg : pair or None, where it holds; None where none was read
    carried_to_years : float, age to which ``carried`` items are shown past their own, said as such
    carried : tuple of str, items
    """

    source: str
    people: str
    methods: tuple[str, ...]
    surface: SurfaceFormula | None
    surface_read: bool
    ages: Range
    surface_m2: Range | None
    length_cm: Range | None
    weight_kg: Range | None
    carried_to_years: float
    carried: tuple[str, ...]

    @property
    def seen(self) -> str:
        """How far the source was read."""
        return bibliography()[self.source].seen

    @property
    def second_hand(self) -> bool:
        """Whether the coefficients were read elsewhere than in the paper."""
        return "calculator" in self.seen


@dataclass(frozen=True, slots=True, kw_only=True)
class Reference:
    """One item in one reference.

    Parameters
    ----------
    item : str, with its unit, such as ``"pulmonary_annulus_mm"``
    made : Made
    methods : tuple of str, methods whose values may be scored
    unit : str, UCUM
    form : str, key of ``size_forms.SCALES``
    coefficients, sd : tuple of float, as published, in the unit of the publication
    unit_factor : float, from that unit to ``unit``
    sex : str or None, the sex it was made for, None for both
    """

    item: str
    made: Made
    methods: tuple[str, ...]
    unit: str
    form: str
    coefficients: tuple[float, ...]
    sd: tuple[float, ...]
    unit_factor: float = 1.0
    sex: str | None = None

    @property
    def asks_surface(self) -> bool:
        """Whether it asks for body surface, or for length or weight alone."""
        return self.form not in NO_SURFACE_FORMS

    @property
    def last_year(self) -> float:
        """The last age at which it is shown, years."""
        return self.made.carried_to_years if self.item in self.made.carried else self.made.ages[1]

    @property
    def spread_words(self) -> str:
        """Of what the residual spread is."""
        if not self.sd:
            return "not read"
        if self.form == "index" and self.coefficients[1]:
            return f"of the value / b^{self.coefficients[1]:g}"
        return "of the value / b" if self.form == "per surface" else SPREAD_WORDS[SCALES[self.form]]


def references_for(item: str) -> tuple[Reference, ...]:
    """Every reference of an item, the default first.

    Parameters
    ----------
    item : str, with its unit, such as ``"pulmonary_annulus_mm"``

    Returns
    -------
    tuple of Reference, those that disagree beside one another; which of them hold for a child is
    asked of ``size_scores.scores``

    Raises
    ------
    NormsError, code ``item_unknown``, with the nearest item
    """
    found = tuple(each for each in references() if each.item == item)
    if found:
        return found
    near = get_close_matches(item, items(), n=1)
    raise NormsError(
        "no reference for this item",
        code="item_unknown",
        where="Z-score",
        value=item,
        remedy=f"{near[0]}." if near else "one of " + ", ".join(items()) + ".",
    )


@cache
def items() -> tuple[str, ...]:
    """Every item that has a reference, in the order of the tables."""
    return tuple(dict.fromkeys(each.item for each in references()))


@cache
def references() -> tuple[Reference, ...]:
    """All rows of all tables of sizes: the Pediatric Heart Network's first, as the default."""
    echo = tuple(_phn(item, row) for item, row in rows(PHN).items())
    cmr = tuple(
        _newborn(item, row) for item, row in rows(NEWBORN_CMR).items() if item.endswith("_m2")
    )
    return (*echo, *cmr, *(_other(row) for table in OTHERS for row in rows(table).values()))


@cache
def made() -> dict[str, Made]:
    """Where each reference comes from and holds, by bibliography key."""
    return {key: _made(row) for key, row in rows(SOURCES).items()}


def _phn(item: str, row: dict[str, object]) -> Reference:
    return Reference(
        item=item,
        made=made()["lopez2017"],
        methods=LINE_METHODS if row["m_mode"] else ("echo-2d",),
        unit=str(row["unit"]),
        form="index",
        coefficients=(real(row, "value"), real(row, "exponent")),
        sd=(real(row, "sd"),),
    )


def _newborn(item: str, row: dict[str, object]) -> Reference:
    return Reference(
        item=item.removesuffix("_m2"),
        made=made()["jhaveri2023"],
        methods=("cmr",),
        unit=str(row["unit"]).removesuffix("/m2"),
        form="per surface",
        coefficients=(real(row, "value"),),
        sd=(real(row, "sd"),),
    )


def _other(row: dict[str, object]) -> Reference:
    source = made()[str(row["made"])]
    return Reference(
        item=str(row["of"]),
        made=source,
        methods=_texts(row["methods"]) if "methods" in row else source.methods,
        unit=str(row["unit"]),
        form=str(row["form"]),
        coefficients=_reals(row["coefficients"]),
        sd=_reals(row["sd"]),
        unit_factor=optional(row, "scale") or 1.0,
        sex=str(row["sex"]) if "sex" in row else None,
    )


def _made(row: dict[str, object]) -> Made:
    ages = _range(row, "ages")
    if ages is None:
        raise TypeError("a reference of sizes says for which ages it holds")
    return Made(
        source=str(row["source"]),
        people=str(row["people"]),
        methods=_texts(row["methods"]),
        surface=SurfaceFormula(str(row["surface"])) if "surface" in row else None,
        surface_read=bool(row.get("surface_read", True)),
        ages=ages,
        surface_m2=_range(row, "surface_m2"),
        length_cm=_range(row, "length_cm"),
        weight_kg=_range(row, "weight_kg"),
        carried_to_years=optional(row, "carried_to_years") or ages[1],
        carried=_texts(row.get("carried", ())),
    )


def _range(row: dict[str, object], name: str) -> Range | None:
    if name not in row:
        return None
    low, high = _reals(row[name])
    return low, high


def _reals(values: object) -> tuple[float, ...]:
    return tuple(float(value) for value in cast("list[float]", values))


def _texts(values: object) -> tuple[str, ...]:
    return tuple(cast("list[str]", values))
