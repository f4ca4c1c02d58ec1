"""Decades after an arterial switch: what grows, what does not, and what that does to flow.

Knows: repaired sites, materials, roots, coronary openings, and how they fare from birth to forty.
Must not know: a case, how anything is told or drawn; published curves, which stand beside.
Start reading: ``site.py``, then ``course.py``, ``repaired.py``, ``root.py``, ``ostium.py``.
Proven by: ``tests/rooms/test_outlook.py``, ``tests/rooms/test_outlook_circuit.py``,
``tests/witness/test_outlook_gradient_against_bernoulli.py``,
``tests/witness/test_outlook_against_published_series.py``.
"""

from inseries.outlook.baby import Frame, frame_of, years_from
from inseries.outlook.course import SiteCourse, crossing, gradient_mmhg, site_courses
from inseries.outlook.materials import Material, Technique, technique, techniques
from inseries.outlook.numbers import draw, number
from inseries.outlook.ostium import OstiumCourse, Reserve, ostium_course, reserve_curve
from inseries.outlook.repaired import Ventricle, ventricle_at
from inseries.outlook.root import RootCourse, RootReference, root_courses, root_references
from inseries.outlook.site import Start, Tension, start_of, tensions

__all__ = [
    "Frame",
    "Material",
    "OstiumCourse",
    "Reserve",
    "RootCourse",
    "RootReference",
    "SiteCourse",
    "Start",
    "Technique",
    "Tension",
    "Ventricle",
    "crossing",
    "draw",
    "frame_of",
    "gradient_mmhg",
    "number",
    "ostium_course",
    "reserve_curve",
    "root_courses",
    "root_references",
    "site_courses",
    "start_of",
    "technique",
    "techniques",
    "tensions",
    "ventricle_at",
    "years_from",
]
