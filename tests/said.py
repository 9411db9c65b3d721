"""A message or a finished sentence as the coach reads it, in kilograms; for tests of what is said."""

from analysis.core.records.messages import Private, Words
from analysis.text.say import Reader, say

COACH = Reader(allowed=frozenset(Private))


def said(words: Words) -> str:
    return say(words, COACH)
