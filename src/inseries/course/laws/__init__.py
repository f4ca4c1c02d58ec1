"""Growth laws behind one interface; a law is one small file."""

from inseries.course.laws.interface import Individual, Law, Load
from inseries.course.laws.mean_stress import MeanStress

__all__ = ["Individual", "Law", "Load", "MeanStress"]
