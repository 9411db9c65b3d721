"""The weak link of an athlete: a log and a body in, one report out."""

from analysis.core.weak_link.naming import leaning
from analysis.core.weak_link.report import weak_link_report, weak_link_reports

__all__ = ["leaning", "weak_link_report", "weak_link_reports"]
