"""What may be typed after a verb."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from collections.abc import Callable

    from inseries.desk.verbs import Taken, Verb


def parameters(verb: Verb) -> list[click.Parameter]:
    """The argument and options of a verb: what it takes, then what every verb offers."""
    own = [_TAKEN[name]() for name in verb.takes if name in _TAKEN]
    return [*own, *_common()]


def _case() -> click.Parameter:
    return click.Argument(["case"], metavar="CASE")


def _seed() -> click.Parameter:
    return click.Option(
        ["--seed"],
        type=click.IntRange(min=0),
        help="Start of the random numbers; the same seed gives the same answer.",
    )


def _draws() -> click.Parameter:
    return click.Option(
        ["--draws"],
        type=click.IntRange(min=1),
        help="How many circuits that fit the readings are computed.",
    )


def _criteria() -> click.Parameter:
    return click.Option(
        ["--criterion", "criteria"],
        multiple=True,
        metavar="NAME=VALUE",
        callback=_named_values,
        help="Change what a tier asks for, such as survivable_la_mean_max=16; may be repeated.",
    )


def _named_values(
    _context: click.Context, _option: click.Parameter, typed: tuple[str, ...]
) -> dict[str, float] | None:
    """Names with their numbers; None where nothing was typed."""
    found: dict[str, float] = {}
    for text in typed:
        name, _, value = text.partition("=")
        try:
            found[name.strip()] = float(value)
        except ValueError as error:
            what = f"{text!r} is no NAME=VALUE with a number"
            raise click.BadParameter(what) from error
    return found or None


def _number(flag: str, name: str, says: str, metavar: str) -> click.Parameter:
    return click.Option([flag, name], type=float, metavar=metavar, help=says)


def _ratio() -> click.Parameter:
    says = "Tighten to this left over right ventricular pressure; usual practice when not given."
    return _number("--ratio", "ratio", says, "RATIO")


def _lv_systolic() -> click.Parameter:
    return _number(
        "--lv-systolic-mmhg", "lv_systolic_mmhg", "Tighten to this pressure instead.", "MMHG"
    )


def _circumference() -> click.Parameter:
    says = "What a band of this circumference would do."
    return _number("--circumference-mm", "circumference_mm", says, "MM")


def _shunt() -> click.Parameter:
    says = "Diameter of a systemic-to-pulmonary shunt put in with it."
    return _number("--shunt-mm", "shunt_mm", says, "MM")


def _band_day() -> click.Parameter:
    says = "Age at the band, days; a usual one when not given."
    return _number("--band-day", "band_day", says, "DAYS")


def _hours_a_day() -> click.Parameter:
    says = "Hours of each day on which the band is on, for a band that is off between."
    return _number("--hours-a-day", "hours_a_day", says, "HOURS")


def _tighten() -> click.Parameter:
    return click.Option(
        ["--tighten", "tighten"],
        multiple=True,
        metavar="DAY=RATIO",
        callback=_named_values,
        help="Set again so many days after the band, such as 3=0.9; may be repeated.",
    )


def _switch_day() -> click.Parameter:
    return _number("--switch-day", "switch_day", "Age at the switch, days.", "DAYS")


def _band_mm() -> click.Parameter:
    return _number("--band-mm", "band_mm", "Lumen that the band leaves inside.", "MM")


def _second_stage() -> click.Parameter:
    says = "Age at the switch after a band; when most draws are ready if not given."
    return _number("--second-stage-day", "second_stage_day", says, "DAYS")


def _atrial_day() -> click.Parameter:
    says = "Age at an atrial switch; about three months when not given."
    return _number("--atrial-day", "atrial_day", says, "DAYS")


def _rank_by() -> click.Parameter:
    return click.Option(
        ["--rank-by", "rank_by"],
        metavar="NAME",
        help="Order the routes by one thing, such as survivable; never a verdict.",
    )


def _patch_share() -> click.Parameter:
    says = "Share of the girth closed with a patch, such as 0.66; by two buttons when not given."
    return _number("--patch-share", "patch_share", says, "SHARE")


def _gap() -> click.Parameter:
    says = "Gap between the cut ends of the lung artery; by usual lengths when not given."
    return _number("--gap-mm", "gap_mm", says, "MM")


def _coronary() -> click.Parameter:
    return click.Option(
        ["--coronary", "coronary"],
        metavar="CODE",
        help="Leiden code as seen at the table, in place of the recorded one.",
    )


def _opening() -> click.Parameter:
    return click.Option(
        ["--opening", "opening"],
        multiple=True,
        metavar="ARTERY=DEGREES",
        callback=_named_values,
        help="Coronary opening, from the facing commissure into its own sinus, such as L=50.",
    )


def _relation() -> click.Parameter:
    says = "Where the aorta lies: 0 in front, 90 to the patient's right."
    return _number("--relation-deg", "relation_deg", says, "DEGREES")


def _root_gap() -> click.Parameter:
    return _number("--root-gap-mm", "root_gap_mm", "Gap between the walls of the roots.", "MM")


def _page() -> click.Parameter:
    return _file("--page", "page_path", "the printed page", "PDF")


def _patch() -> click.Parameter:
    return _file("--patch", "patch_path", "the patch in true size", "PDF")


def _dxf() -> click.Parameter:
    return _file("--dxf", "dxf_path", "the patch as a drawing in millimetres", "DXF")


def _file(flag: str, name: str, content: str, metavar: str) -> click.Parameter:
    return click.Option(
        [flag, name],
        type=click.Path(path_type=Path),
        metavar=metavar,
        help=f"Also write {content} to this {metavar}, readable by you alone.",
    )


_TAKEN: dict[Taken, Callable[[], click.Parameter]] = {
    "case": _case,
    "seed": _seed,
    "draws": _draws,
    "criteria": _criteria,
    "ratio": _ratio,
    "lv_systolic_mmhg": _lv_systolic,
    "circumference_mm": _circumference,
    "shunt_mm": _shunt,
    "band_day": _band_day,
    "tighten": _tighten,
    "hours_a_day": _hours_a_day,
    "page_path": _page,
    "switch_day": _switch_day,
    "band_mm": _band_mm,
    "second_stage_day": _second_stage,
    "atrial_day": _atrial_day,
    "rank_by": _rank_by,
    "patch_share": _patch_share,
    "gap_mm": _gap,
    "coronary": _coronary,
    "opening": _opening,
    "relation_deg": _relation,
    "root_gap_mm": _root_gap,
    "patch_path": _patch,
    "dxf_path": _dxf,
}


def _common() -> list[click.Parameter]:
    return [
        click.Option(["--json", "as_json"], is_flag=True, help="Print one JSON object."),
        click.Option(
            ["--out", "out_path"],
            type=click.Path(path_type=Path),
            help="Write the answer to this file, readable by you alone.",
        ),
        click.Option(["--replace"], is_flag=True, help="Allow --out to replace a file."),
        click.Option(["--debug"], is_flag=True, help="Show where an unexpected error arose."),
    ]
