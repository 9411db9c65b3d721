"""The weak link of an athlete: a log and a body in, one report out."""

from .naming import leaning
from .report import weak_link_report, weak_link_reports

__all__ = ["leaning", "weak_link_report", "weak_link_reports"]
