"""The weak link of an athlete: a log and a body in, one report out."""

from .report import weak_link_report, weak_link_reports

__all__ = ["weak_link_report", "weak_link_reports"]
