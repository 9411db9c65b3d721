"""Workbooks into plain text tables: refused early where they can be, opened in a process of its own."""

from .checks import check_no_old_workbook, check_no_web_page, check_workbook, is_zip

__all__ = ["check_no_old_workbook", "check_no_web_page", "check_workbook", "is_zip"]
