"""The verbs by name: the question each answers, where it lives, what it takes.

Reading this table loads no verb: a list of questions must be quick, and physics is not.
A verb's function has a name of its own where a room is called like the verb.
"""

from __future__ import annotations

from dataclasses import dataclass
from importlib import import_module
from typing import TYPE_CHECKING, Literal, TypeAlias, cast

if TYPE_CHECKING:
    from collections.abc import Callable

    from inseries.desk.answer import Answer

Taken: TypeAlias = Literal[
    "case",
    "seed",
    "draws",
    "criteria",
    "ratio",
    "lv_systolic_mmhg",
    "circumference_mm",
    "shunt_mm",
    "band_day",
    "tighten",
    "hours_a_day",
    "switch_day",
    "band_mm",
    "second_stage_day",
    "atrial_day",
    "rank_by",
    "patch_share",
    "gap_mm",
    "coronary",
    "opening",
    "relation_deg",
    "root_gap_mm",
    "patch_path",
    "dxf_path",
    "page_path",
    "out_path",
    "replace",
    "progress",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Verb:
    """One question.

    Parameters
    ----------
    name : str, as typed
    question : str, what it answers, in one line
    module : str, import path of the module that answers
    function : str, name of the function in it, and in Python's ``inseries``
    result : str, name of the result's class in the same module
    takes : tuple of str, arguments of the function that a caller may fill; ``case`` comes first
        and is the only one without a name
    """

    name: str
    question: str
    module: str
    function: str
    result: str
    takes: tuple[Taken, ...]


def _by_name(*verbs: Verb) -> dict[str, Verb]:
    return {verb.name: verb for verb in verbs}


VERBS: dict[str, Verb] = _by_name(
    Verb(
        name="new",
        question="What shall be written down of this baby?",
        module="inseries.desk.record",
        function="new",
        result="NewResult",
        takes=("out_path", "replace"),
    ),
    Verb(
        name="check",
        question="What do we know of this baby?",
        module="inseries.desk.record",
        function="check",
        result="CheckResult",
        takes=("case",),
    ),
    Verb(
        name="verify",
        question="Why should I believe it?",
        module="inseries.desk.verify",
        function="verify",
        result="VerifyResult",
        takes=("progress",),
    ),
    Verb(
        name="now",
        question="Is this an emergency, and how does this circulation work today?",
        module="inseries.desk.now",
        function="now",
        result="NowResult",
        takes=("case", "seed", "draws", "progress"),
    ),
    Verb(
        name="window",
        question="How late would still be possible, and what does each day cost?",
        module="inseries.desk.window",
        function="window",
        result="WindowResult",
        takes=("case", "seed", "draws", "criteria", "progress"),
    ),
    Verb(
        name="band",
        question="How tight should a training band be, and how long does it take?",
        module="inseries.desk.band",
        function="band",
        result="BandResult",
        takes=(
            "case",
            "ratio",
            "lv_systolic_mmhg",
            "circumference_mm",
            "shunt_mm",
            "band_day",
            "tighten",
            "hours_a_day",
            "criteria",
            "page_path",
            "replace",
            "seed",
            "draws",
            "progress",
        ),
    ),
    Verb(
        name="routes",
        question="Is a switch the operation, which way, and if the window has gone?",
        module="inseries.desk.routes",
        function="compare_routes",
        result="RoutesResult",
        takes=(
            "case",
            "switch_day",
            "band_day",
            "band_mm",
            "second_stage_day",
            "atrial_day",
            "shunt_mm",
            "rank_by",
            "criteria",
            "page_path",
            "replace",
            "seed",
            "draws",
            "progress",
        ),
    ),
    Verb(
        name="repair",
        question="How will the pieces fit?",
        module="inseries.desk.repair",
        function="plan_repair",
        result="RepairResult",
        takes=(
            "case",
            "coronary",
            "opening",
            "relation_deg",
            "root_gap_mm",
            "gap_mm",
            "page_path",
            "patch_path",
            "dxf_path",
            "replace",
            "seed",
            "draws",
            "progress",
        ),
    ),
    Verb(
        name="outlook",
        question="What will grow, and what will not?",
        module="inseries.desk.outlook",
        function="look_ahead",
        result="OutlookResult",
        takes=(
            "case",
            "switch_day",
            "patch_share",
            "gap_mm",
            "page_path",
            "replace",
            "seed",
            "draws",
            "progress",
        ),
    ),
    Verb(
        name="brief",
        question="How do I explain it to the team?",
        module="inseries.desk.write_brief",
        function="write_brief",
        result="BriefResult",
        takes=("case", "out_path", "replace", "seed", "draws", "progress"),
    ),
    Verb(
        name="demo",
        question="What does the whole line give for an invented baby?",
        module="inseries.desk.demonstration",
        function="demo",
        result="DemoResult",
        takes=("out_path", "replace", "seed", "draws", "progress"),
    ),
)


def load(verb: Verb) -> Callable[..., Answer]:
    """The function that answers; loads what it needs."""
    return cast("Callable[..., Answer]", getattr(import_module(verb.module), verb.function))


def result_class(verb: Verb) -> type:
    """The frozen dataclass of a verb's result; loads what it needs."""
    return cast("type", getattr(import_module(verb.module), verb.result))


def function_names() -> dict[str, Verb]:
    """Verbs by the name of their function, as Python's ``inseries`` offers them."""
    return {verb.function: verb for verb in VERBS.values()}
