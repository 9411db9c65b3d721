"""Do the lengths of one body fit together? Contradictions must be put right; rare builds are asked about."""

from collections.abc import Mapping
from dataclasses import dataclass

from athletes.schema.measurements import ARM_SHARE, measure_label, measurement, pairs_below
from athletes.schema.measurements import MeasureKey as Key
from athletes.units.lengths import show

RARE = 4.0  # spreads from the average: about 1 adult in 16,000 were proportions normal; calibration
RARE_YOUNG = 6.0  # the table is of adults; wider for under-18s, calibration
HEAVY = (14.0, 50.0)  # kg per square metre of stature beyond which the unit of a body mass is asked about; calibration


@dataclass(frozen=True)
class Oddity:
    """Something about one measure that does not fit; `token` names these very values, "" when it cannot be kept."""

    key: str
    message: str
    token: str = ""


def oddities(lengths: Mapping[str, float], sex: str, young: bool) -> list[Oddity]:
    """What does not fit among the mean readings (cm, kg) of one person, at most one finding for each measure."""
    found = contradictions(lengths)
    told = {o.key for o in found}
    stature = lengths.get(Key.STATURE)
    if stature is not None and Key.STATURE not in told:
        for key, value in lengths.items():
            odd = None if key in told else against_stature(key, value, stature, sex, young)
            if odd is not None:
                found.append(odd)
    return found


def contradictions(lengths: Mapping[str, float]) -> list[Oddity]:
    """Heights that cannot both be right on one body."""
    found: dict[str, Oddity] = {}
    for low, high in pairs_below():
        if low in lengths and high in lengths and lengths[low] >= lengths[high] and low not in found:
            found[low] = Oddity(
                low,
                f"{measure_label(low).capitalize()} {show(low, lengths[low])} cannot reach the {measure_label(high)} "
                f"{show(high, lengths[high])}. Measure both again.",
            )
    return list(found.values())


def against_stature(key: str, value: float, stature: float, sex: str, young: bool) -> Oddity | None:
    token = f"{value:.2f} of {stature:.2f}"
    if key == Key.MASS:
        return heavy(value, stature, token)
    share = measurement(key).shares.get(sex)
    if share is None:
        return None
    reach = (RARE_YOUNG if young else RARE) * share.sd
    if abs(value / stature - share.mean) <= reach:
        return None
    if key == Key.ARM_SPAN and ARM_SHARE[0] <= value / stature <= ARM_SHARE[1]:
        return Oddity(key, arm_for_span(value, stature))
    low, high = (show(key, (share.mean + side * reach) * stature) for side in (-1, 1))
    return Oddity(
        key,
        f"{measure_label(key).capitalize()} {show(key, value)} is {value / stature:.2f} of the stature "
        f"{show(Key.STATURE, stature)}; nearly everybody of that stature has {low} to {high}. Is it right?",
        token,
    )


def arm_for_span(value: float, stature: float) -> str:
    return (
        f"Arm span {show(Key.ARM_SPAN, value)} is {value / stature:.2f} of the stature {show(Key.STATURE, stature)}: "
        "that is the length of one arm. The span goes from fingertip to fingertip, about as long as the person is "
        "tall. Measure it, or leave the box empty."
    )


def heavy(mass: float, stature: float, token: str) -> Oddity | None:
    """Asks about the unit of a body mass, never about the body."""
    low, high = HEAVY
    if low <= mass / (stature / 100) ** 2 <= high:
        return None
    other = "lb" if mass > high * (stature / 100) ** 2 else "stone"
    return Oddity(
        Key.MASS,
        f"Body mass {show(Key.MASS, mass)}: is the unit right, or was it {other}? Type it with its unit.",
        token,
    )
