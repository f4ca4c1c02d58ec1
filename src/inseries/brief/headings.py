"""The fixed words of the team brief: headings and the sentences that stand on every page."""

from __future__ import annotations

from typing import Final

STANDING: Final = (
    "A decision aid from a model, not a device; local protocol and licensed clinicians decide."
)

LEVELS: Final = {
    "emergency": "EMERGENCY",
    "urgent": "URGENT",
    "planned": "PLANNED",
}

HEADINGS: Final = {
    "title": "Brief for the team",
    "baby": "The baby",
    "loops": "How this circulation works today",
    "upper": "Saturation above the duct",
    "lower": "Saturation below the duct",
    "panel": "The left ventricle at the bedside",
    "panel_what": "What",
    "panel_value": "Value, and how it was found",
    "panel_z": "Z, same method",
    "panel_threshold": "Threshold, and in whom",
    "no_threshold": "none applies",
    "what_if": "What would change it, gain and harm beside each other",
    "what_if_change": "Change",
    "what_if_gain": "Gain",
    "what_if_harm": "Harm",
    "suitability": "Is a switch the operation?",
    "window": "How late would a switch still be possible?",
    "emergency_first": "The emergency on the first page comes before anything on this one.",
    "published": "Published late series, never mixed into the curve",
    "cost": "The published cost of waiting",
    "outside_found": "Found",
    "outside_population": "In whom",
    "outside_source": "Source",
    "limits": "Limits of waiting that are not the left ventricle's",
    "drivers": "What the window hangs on, in days of window",
    "moves": "What would move it, gain and harm beside each other",
    "moves_gain": "Gain in days of window (computed)",
    "series": "Beside the model: the rule, and other babies",
    "rule": "The rule of practice",
    "next": "Worth measuring next",
    "unknown": "What this brief does not know",
    "cautions": "Cautions",
    "sources": "Sources used",
    "run": "Run",
}
