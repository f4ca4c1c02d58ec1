"""An invented baby as a team brief: no such child exists, and the numbers are made up."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from inseries.base.sources import citation
from inseries.brief.view import (
    Check,
    Driver,
    Limit,
    LoopsPart,
    NextMeasurement,
    Outside,
    PanelRow,
    Part,
    Picture,
    Suitability,
    TeamBrief,
    Urgency,
    WhatIf,
    WindowPart,
)
from inseries.draw.ribbons import ribbon_svg, spoken
from inseries.draw.views import (
    Crossing,
    LoopsView,
    Mark,
    PublishedSpan,
    Station,
    Tier,
    WindowView,
)
from inseries.draw.window_curve import window_svg
from inseries.evidence.rows import cost_of_waiting, late_series, limits_not_lv, rows_on

if TYPE_CHECKING:
    from inseries.draw.views import StationCode
    from inseries.evidence.rows import Row


def station(name: str, code: StationCode, saturation_pct: float, pressure: str) -> Station:
    """A place in the loops."""
    return Station(name=name, code=code, saturation_pct=saturation_pct, pressure_text=pressure)


LOOPS_VIEW = LoopsView(
    title="Two loops beside each other",
    topology="parallel",
    stations=(
        station("body veins", "SV", 46, "4"),
        station("right atrium", "RA", 58, "4"),
        station("right ventricle", "RV", 60, "66/5"),
        station("aorta (arms, head)", "AoU", 70, "64/36 (47)"),
        station("aorta (legs)", "AoD", 73, "63/35 (46)"),
        station("lung artery", "PA", 88, "38/18 (26)"),
        station("lung veins", "PV", 98, "7"),
        station("left atrium", "LA", 91, "6"),
        station("left ventricle", "LV", 89, "40/6"),
    ),
    crossings=(
        Crossing(
            site="atrial",
            size_mm=7,
            left_to_right_ml_min_kg=70,
            right_to_left_ml_min_kg=56,
            note="",
            eddy_ml_min_kg=15,
        ),
        Crossing(
            site="ductal",
            size_mm=2,
            left_to_right_ml_min_kg=8,
            right_to_left_ml_min_kg=22,
            note="",
        ),
    ),
    body_flow_ml_min_kg=180,
    lung_flow_ml_min_kg=310,
    effective_flow_ml_min_kg=48,
    upper_saturation_pct=70,
    lower_saturation_pct=73,
    sentence="Only what crosses counts: 48 mL/min/kg of lung blood reach the body.",
    figure_id="loops",
)

LOOPS = Picture(
    svg=ribbon_svg(LOOPS_VIEW, compact=True),
    alt=spoken(LOOPS_VIEW),
    caption="Width is flow, colour is saturation. Computed from what is recorded.",
)

DAYS = (9.0, 12.0, 16.0, 20.0, 24.0, 28.0, 34.0, 40.0, 48.0, 56.0)


def falling(middle: float, width: float) -> tuple[float, ...]:
    """A made-up curve that falls through one half at ``middle`` days."""
    return tuple(0.95 / (1.0 + math.exp((day - middle) / width)) for day in DAYS)


WINDOW_VIEW = WindowView(
    title="Chance by age at switch",
    days=DAYS,
    tiers=(
        Tier(
            name="survivable",
            chance=falling(34, 9),
            low=falling(26, 8),
            high=falling(43, 10),
            meaning="the edge of low output",
        ),
        Tier(
            name="comfortable",
            chance=falling(20, 7),
            low=falling(13, 6),
            high=falling(29, 8),
            meaning="output at a low filling pressure",
        ),
    ),
    horizon_day=56,
    marks=(
        Mark(day=0.13, label="septostomy", kind="event"),
        Mark(day=2, label="arrival", kind="reading"),
        Mark(day=9, label="today", kind="reading"),
    ),
    published=tuple(
        PublishedSpan(
            label=f"{label}, n = {row.n}",
            low_day=row.age_low_days or 0.0,
            high_day=row.age_high_days or 56.0,
            source_text="",
        )
        for label, row in zip(
            ("primary switch", "switch or atrial switch", "ventricle kept loaded"),
            late_series(),
            strict=True,
        )
    ),
    cost_lines=("the odds of major morbidity rise with each day after day 3; see the table",),
    sentence="Half of what is not known of this baby lies in the first weeks of this curve.",
    figure_id="window",
)

CURVE = Picture(
    svg=window_svg(WINDOW_VIEW, compact=True),
    alt=(
        "Chance by age at switch that the left ventricle carries the body, in two tiers, falling "
        "with age; beneath it the ages of three published series and of the readings."
    ),
    caption="",
)


def outside(row: Row) -> Outside:
    """A published row as the brief prints it."""
    count = f", n = {row.n}" if row.n else ""
    era = f", {row.era}" if row.era else ""
    author = citation(row.source).partition(",")[0].strip("“”")
    short = author if len(author) < 25 else "abstract 2407"
    return Outside(text=row.text, population=f"{row.population}{count}{era}", source=short)


WINDOW = WindowPart(
    picture=CURVE,
    sentences=(
        "Today the left ventricle would carry the body in the survivable tier with a chance of "
        "85 % (75 to 95 %), in the comfortable tier with 75 % (60 to 90 %).",
        "A week on, the survivable tier stands at 80 % (70 to 90 %); the loss per day grows "
        "between day 14 and 30.",
        "This is the left ventricle alone, in a model. What is possible late is not therefore "
        "good late.",
    ),
    published=tuple(outside(row) for row in late_series()),
    cost_of_waiting=tuple(outside(row) for row in cost_of_waiting()),
    other_limits=tuple(
        Limit(name=limit.name.capitalize(), text=limit.sentence) for limit in limits_not_lv()
    ),
    drivers=(
        Driver(
            name="How fast the wall goes and comes",
            effect="about 5 days (4 to 6) shorter with faster loss",
        ),
        Driver(
            name="Strength of the muscle",
            effect="about 4 days (3 to 5) longer with stronger muscle",
        ),
        Driver(name="The openings", effect="about 2 days (1 to 3) longer with a wider duct"),
    ),
    moves=(
        WhatIf(
            change="A stent keeps the duct open",
            gain="+18 (+9 to +26) days of window; survivable at 16 days 95 % instead of 80 %.",
            harm="A catheter procedure in a newborn; a wide duct floods the lungs.",
        ),
        WhatIf(
            change="A band round the lung artery today",
            gain="+12 (+4 to +20) days of window; survivable at 16 days 90 % instead of 80 %.",
            harm="An operation of its own; the ventricle may fail in the first hours.",
        ),
    ),
    rule=tuple(outside(row) for row in rows_on("rule_of_practice")),
)

BRIEF = TeamBrief(
    case_id="harbour-07",
    age="9 days old",
    baby=(
        "A 3.5 kg girl, 9 days old, born at 39 weeks far from a surgical centre, with "
        "transposition and an intact ventricular septum; septostomy at 3 hours, prostaglandin "
        "since 1 hour of age. An invented case."
    ),
    anatomy=(
        Part(name="Segments", text="{S,D,D}", certainty="by echo"),
        Part(name="Ventricular septum", text="intact", certainty="by echo"),
        Part(name="Left outflow", text="open", certainty="no gradient at rest"),
        Part(name="Pulmonary valve", text="normal, three leaflets", certainty="by echo"),
        Part(name="Arch", text="unobstructed", certainty="seen with the duct open"),
        Part(
            name="Coronary arteries", text="1LCx-2R", certainty="probable; intramural not excluded"
        ),
    ),
    urgency=Urgency(
        level="urgent",
        headline="Oxygen delivery meets the need, with little to spare",
        hours="look again within 24 hours",
        reasons=(
            "Saturation of the right hand 70 % and lactate 2.4 mmol/L: low, not falling.",
            "Atrial septum 7 mm with a mean gradient of 1 mmHg: open since septostomy.",
            "The left ventricle has not grown since birth; it works against the lungs alone.",
        ),
    ),
    panel=(
        PanelRow(
            what="Mass",
            value="7.6 g; 33 g/m²",
            method="echo, 2-D",
            z="−0.4",
            z_note="healthy children by echo, Lopez 2017",
            threshold="below 35 g/m²: regressed",
            population="babies beyond 3 weeks, by echo; common practice",
        ),
        PanelRow(
            what="Wall",
            value="2.9 mm",
            method="echo, M-mode",
            z="−0.3",
            z_note="healthy children by echo, Lopez 2017",
            threshold="at least 4 mm",
            population="ventricles prepared after a band, not newborns; 3.1 mm is usual at birth",
        ),
        PanelRow(
            what="Mass to volume",
            value="0.78 g/mL",
            method="echo, 2-D",
            z="−0.6",
            z_note="healthy children by echo, Lopez 2017",
        ),
        PanelRow(
            what="Cavity",
            value="9.7 mL; 42 mL/m²",
            method="echo, 2-D",
            z="+0.5",
            z_note="healthy children by echo, Lopez 2017",
        ),
        PanelRow(
            what="Septum",
            value="flat",
            method="echo, 2-D",
            z="",
            z_note="a position has no Z",
            threshold="toward the left: regressing",
            population="babies with an intact septum; common practice",
        ),
        PanelRow(
            what="Pressure, left to right",
            value="0.62 (0.50 to 0.75)",
            method="computed",
            z="",
            z_note="no reference for a computed value",
            threshold="0.83",
            population="banded ventricles; misleads in the first two days after a band",
        ),
    ),
    loops=LoopsPart(
        picture=LOOPS,
        upper_saturation="70 % (66 to 74)",
        lower_saturation="73 % (69 to 77)",
        sentences=(
            "The lungs receive more than the body; what reaches the body oxygenated is the small "
            "exchange at the atrial septum, 48 mL/min/kg.",
            "A lower body pinker than the upper can mean high lung resistance or a narrow arch; "
            "its absence excludes neither.",
        ),
    ),
    what_if=(
        WhatIf(
            change="Wider atrial septum",
            gain="saturation +3 points (1 to 6); left atrial pressure 2 mmHg lower",
            harm="a procedure; little to gain above 65 %; the left ventricle fills and works less",
        ),
        WhatIf(
            change="Duct closes",
            gain="less flow stolen from the legs; left atrial pressure falls",
            harm="saturation −4 points (−8 to 0); the left ventricle unloads and shrinks faster",
        ),
        WhatIf(
            change="Prostaglandin goes on",
            gain="duct stays open; mixing and left ventricular pressure are kept",
            harm="apnoea, more at low weight and on transport; low pressure; rebound on stopping",
        ),
    ),
    suitability=Suitability(
        standing="shown",
        sentence="Nothing recorded speaks against a switch; the valve becomes the body's.",
        checks=(
            Check(name="Left outflow", standing="shown", why="open, no gradient by echo on day 8"),
            Check(name="Pulmonary valve", standing="shown", why="three leaflets, no stenosis"),
        ),
    ),
    window=WINDOW,
    window_refused="",
    next_measurements=(
        NextMeasurement(
            what="Left ventricular mass by the same echo method, in 3 days.",
            why="It would narrow the interval more than any other reading.",
        ),
        NextMeasurement(
            what="Septal position in systole, with the arterial pressure.",
            why="It stands for the pressure ratio, which is only computed so far.",
        ),
    ),
    unknown=(
        "Whether a coronary artery runs in the wall of the aorta.",
        "How far lung resistance has fallen: no catheter, no gradient at the duct.",
        "How strong this ventricle will be after bypass: the least certain number of all.",
        "What the brain has already met: no imaging is recorded.",
    ),
    cautions=(
        "Echo and CMR mass differ; each Z here uses its own method.",
        "Published odds are confounded and not the ventricle's doing alone.",
        "The model does not know the centre, the era or the surgeon.",
        "Constants after bypass are chosen, not measured.",
    ),
    sources=(
        "Lopez et al. 2017, Circ Cardiovasc Imaging 10:e006979",
        "O'Byrne et al. 2018, Circulation 138:2119–2129",
        "Jhaveri et al. 2023, J Cardiovasc Magn Reson 25:26",
        "Boutin et al. 1994, Circulation 90:1304",
        "Yacoub et al. 1980, Circulation 62 (2 Pt 2):I190",
        "Özgür et al. 2014",
        "Anderson et al. 2014, PMID 24184243",
        "Faateh et al., PMC12039383",
    ),
    run="inseries 0.1.0; seed 7; 200 draws, 128 effective; 0 failed",
)

TIGHT_VIEW = replace(
    LOOPS_VIEW,
    stations=tuple(
        replace(place, saturation_pct=place.saturation_pct - (4 if place.code == "PV" else 27))
        if place.code in {"SV", "RA", "RV", "AoU", "AoD", "PV"}
        else place
        for place in LOOPS_VIEW.stations
    ),
    crossings=(
        replace(LOOPS_VIEW.crossings[0], size_mm=1.5, note="tight"),
        LOOPS_VIEW.crossings[1],
    ),
    upper_saturation_pct=43,
    lower_saturation_pct=46,
)

TIGHT = replace(
    BRIEF,
    case_id="lantern-02",
    age="14 hours old",
    baby=(
        "A 3.2 kg boy, 14 hours old, born at 38 weeks, with transposition and an intact "
        "ventricular septum; the atrial septum is tight. An invented case."
    ),
    urgency=Urgency(
        level="emergency",
        headline="The atrial septum is tight: open it first",
        hours="within the hour",
        reasons=(
            "Saturation of the right hand 42 %, lactate 9.1 mmol/L and rising.",
            "Atrial defect 1.5 mm with a mean gradient of 9 mmHg.",
            "Delivery meets 70 % of the need. Prostaglandin does not replace septostomy here and "
            "may raise left atrial pressure.",
            "A poor response is possible: lung resistance may still be high, or filling low.",
        ),
    ),
    loops=LoopsPart(
        picture=Picture(
            svg=ribbon_svg(TIGHT_VIEW, compact=True), alt=spoken(TIGHT_VIEW), caption=""
        ),
        upper_saturation="43 % (38 to 48)",
        lower_saturation="46 % (40 to 52)",
        sentences=("Too little crosses: the need for oxygen is not met.",),
    ),
)
