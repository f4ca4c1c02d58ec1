"""An invented baby as a team brief: no such child exists, and the numbers are made up."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

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
from inseries.draw.views import Crossing, LoopsView, Station

if TYPE_CHECKING:
    from inseries.draw.views import StationCode


def drawing(words: str, width: int = 620, height: int = 360) -> str:
    """A small SVG that says something."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}">'
        f'<rect x="1" y="1" width="{width - 2}" height="{height - 2}" fill="none" stroke="#9ab"/>'
        f'<text x="{width / 2}" y="{height / 2}" font-family="Liberation Sans, sans-serif" '
        f'font-size="18" text-anchor="middle">{words}</text></svg>'
    )


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
    svg=ribbon_svg(LOOPS_VIEW),
    alt=spoken(LOOPS_VIEW),
    caption="Width is flow, colour is saturation. Computed from what is recorded.",
)

CURVE = Picture(
    svg=drawing("chance by age at switch"),
    alt=(
        "Chance by age at switch that the left ventricle carries the body, in two tiers, falling "
        "with age; beneath it the ages of three published series and of the readings."
    ),
    caption="Band: 90 % interval over what is not known of this baby.",
)

WINDOW = WindowPart(
    picture=CURVE,
    sentences=(
        "Today the left ventricle would carry the body in the survivable tier with a chance of "
        "85 % (70 to 95 %), in the comfortable tier with 60 % (40 to 80 %).",
        "A week on, the survivable tier stands at 70 % (50 to 90 %); the loss per day grows "
        "between day 14 and 30.",
        "This is the left ventricle alone, in a model. What is possible late is not therefore "
        "good late.",
    ),
    published=(
        Outside(
            text="13 of 14 left the operating room without mechanical support; 12 open chests",
            population="selected, switch at 22 to 125 days, mean 42",
            source="Late series A",
        ),
        Outside(
            text="7 of 11 without ECMO",
            population="operated beyond one month; switch and atrial switch mixed",
            source="Late series B",
        ),
    ),
    cost_of_waiting=(
        Outside(
            text="odds of major morbidity +47 % (23 to 66) for each day after day 3",
            population="n = 140, 36 weeks or more, one centre, 2003–2012; confounded",
            source="PMID 24184243",
        ),
        Outside(
            text="odds of death 1.90 (1.11 to 3.26) for a switch after day 6",
            population="n = 2,159 newborns, 40 hospitals, 2010–2015; confounded",
            source="O'Byrne 2018",
        ),
        Outside(
            text="odds of composite morbidity 1.49 (1.02 to 2.15) after day 8",
            population="n = 1,005, with septal defect, 2004–2022; confounded",
            source="Faateh",
        ),
    ),
    other_limits=(
        Limit(name="Hypoxaemia", text="each day at this saturation is a day for brain and heart."),
        Limit(name="Lung vessels", text="resistance may rise early; the model lets it only fall."),
        Limit(name="Heart failure", text="a wide duct or defect overfills the left side."),
        Limit(name="Brain", text="injury before operation is seen more often with late repair."),
        Limit(name="Gut", text="a low diastolic pressure puts it at risk of enterocolitis."),
        Limit(name="Infection", text="lines and days on a ventilator bring sepsis nearer."),
    ),
    drivers=(
        Driver(name="Left ventricular mass, if 1 g more", effect="about 5 days later"),
        Driver(name="Duct kept open at 2 mm", effect="about 4 days later"),
        Driver(name="Contractility after bypass, if 10 % less", effect="about 8 days earlier"),
    ),
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
)
