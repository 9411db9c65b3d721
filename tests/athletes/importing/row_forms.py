"""A table of one line, for the tests of row forms."""

from athletes.models import ImportRow

HEAD = "date,lifter,lift,weight,unit,sets,reps,rpe,result\n"


FREE = "date,lifter,lift,set\n"


DAY = "2026-03-04,Ada Fell,"


def one(batch) -> ImportRow:
    return batch.rows.order_by("number").last()
