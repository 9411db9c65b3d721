"""Typed errors of the core: each says which quantity is wrong and why."""

from __future__ import annotations


class CoreError(ValueError):
    """Base of every error the core raises on purpose; `quantity` names the culprit, `reason` says why."""

    def __init__(self, quantity: str, reason: str) -> None:
        super().__init__(f"{quantity}: {reason}")
        self.quantity = quantity
        self.reason = reason


class ImplausibleMeasurement(CoreError):
    """A measurement that no adult or adolescent body has, or that contradicts another measurement."""


class ImpossibleBody(CoreError):
    """Link lengths that cannot belong to one body (a negative link, circles that never meet)."""


class ImpossibleStance(CoreError):
    """A stance, turnout, hand spacing or start height that this body cannot reach."""


class UnknownKey(CoreError):
    """A name of a style, measurement, term or setting that the core does not know."""


class NotEnoughEvidence(CoreError):
    """Too little was logged for this question; the reason says what would help."""
