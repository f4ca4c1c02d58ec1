"""Growth laws behind one interface; a law is one small file."""

from inseries.course.laws.by_member import ByMember
from inseries.course.laws.catalogue import DEFAULT, LAWS, every_law, law_named
from inseries.course.laws.emptied_stretch import EmptiedStretch
from inseries.course.laws.interface import Individual, Law, Load
from inseries.course.laws.mean_stress import MeanStress

__all__ = [
    "DEFAULT",
    "LAWS",
    "ByMember",
    "EmptiedStretch",
    "Individual",
    "Law",
    "Load",
    "MeanStress",
    "every_law",
    "law_named",
]
