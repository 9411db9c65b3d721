"""The lifter from the side: joints in, silhouettes out; widths grow with the legs' length, never with body mass."""

from __future__ import annotations

import cmath
from collections.abc import Mapping
from dataclasses import dataclass

from analysis.drawings.marks import Mark
from analysis.drawings.paths import Profile, View, angle, curve_through, directions, limb, unit, width_at

Joints = Mapping[str, complex]
ORDINARY_LEG_M = 0.86  # knee to ankle plus hip to knee of the body these widths were drawn on

# half-widths in m along the limb from above to below; front and back differ as muscle does (drawn by eye)
THIGH_FRONT: Profile = ((0.0, 0.074), (0.2, 0.084), (0.45, 0.080), (0.75, 0.064), (0.92, 0.057), (1.0, 0.054))
THIGH_BACK: Profile = ((0.0, 0.104), (0.2, 0.106), (0.45, 0.092), (0.75, 0.066), (0.92, 0.052), (1.0, 0.049))
SHANK_FRONT: Profile = ((0.0, 0.053), (0.08, 0.050), (0.2, 0.042), (0.5, 0.040), (0.8, 0.034), (1.0, 0.033))
SHANK_BACK: Profile = ((0.0, 0.046), (0.1, 0.052), (0.28, 0.070), (0.48, 0.060), (0.75, 0.038), (1.0, 0.036))
ARM_FRONT: Profile = (
    (0.0, 0.058), (0.12, 0.060), (0.3, 0.052), (0.46, 0.038), (0.56, 0.043), (0.72, 0.036), (0.88, 0.026), (1.0, 0.028),
)  # fmt: skip
ARM_BACK: Profile = (
    (0.0, 0.056), (0.12, 0.058), (0.3, 0.050), (0.46, 0.040), (0.56, 0.042), (0.72, 0.034), (0.88, 0.026), (1.0, 0.028),
)  # fmt: skip
BACK: Profile = ((0.0, 0.126), (0.12, 0.116), (0.3, 0.090), (0.45, 0.088), (0.7, 0.110), (0.88, 0.110), (1.0, 0.088))
FRONT: Profile = ((0.0, 0.085), (0.12, 0.104), (0.3, 0.106), (0.45, 0.104), (0.7, 0.130), (0.88, 0.116), (1.0, 0.070))
SPINE_SHARES = (0.0, 0.12, 0.3, 0.45, 0.6, 0.75, 0.88, 1.0)
SEAT = ((0.098, 0.95), (0.110, 0.40), (0.120, -0.15), (0.126, -0.75))
HEAD = (
    (0.000, 0.118), (0.052, 0.104), (0.082, 0.066), (0.088, 0.030), (0.106, -0.006), (0.090, -0.026), (0.090, -0.050),
    (0.082, -0.082), (0.055, -0.102), (0.018, -0.088), (-0.040, -0.082), (-0.086, -0.046), (-0.104, 0.010),
    (-0.088, 0.072), (-0.046, 0.108),
)  # fmt: skip
HEAD_LOOKS_UP = 0.42  # share of the trunk's lean that the neck takes back, drawn by eye
SHORTS_TO = 0.42  # of the thigh
OBLIQUE = 0.09 + 0.035j  # how far the other side stands off per metre across, so that it can be seen


@dataclass(frozen=True, slots=True)
class Lifter:
    """One posture: side-view joints as complex (x + i z, m) and the factor on the drawn widths."""

    joints: Joints
    size: float

    @property
    def sole(self) -> float:
        """Height of the foot's sole above the floor (m): the shoe's sole is drawn below it."""
        return self.joints["heel"].imag

    def joint(self, name: str) -> complex:
        """The side-view place of a joint."""
        return self.joints[name]


def lifter(joints: Mapping[str, complex], leg_m: float) -> Lifter:
    """A posture to draw; `leg_m` is the true length of thigh plus shank, which scales the widths."""
    return Lifter(joints, leg_m / ORDINARY_LEG_M)


def _scaled(profile: Profile, size: float) -> Profile:
    return [(s, w * size) for s, w in profile]


def thigh(body: Lifter, to: float = 1.0) -> list[complex]:
    """Outline of the thigh, or of its upper part down to the share `to` (the shorts)."""
    hip, knee = body.joint("hip"), body.joint("knee")
    front, back = _scaled(THIGH_FRONT, body.size), _scaled(THIGH_BACK, body.size)
    if to < 1.0:
        front, back = _cut(front, to), _cut(back, to)
    return limb(hip, hip + (knee - hip) * to, front, back, (0.45, 0.75 if to == 1.0 else 0.1))


def _cut(profile: Profile, to: float) -> Profile:
    return [*((s / to, w) for s, w in profile if s < to), (1.0, width_at(profile, to) * 1.04)]


def shank(body: Lifter) -> list[complex]:
    """Outline of the lower leg."""
    front, back = _scaled(SHANK_FRONT, body.size), _scaled(SHANK_BACK, body.size)
    return limb(body.joint("knee"), body.joint("ankle"), front, back, (0.6, 0.6))


def arm(body: Lifter) -> list[complex]:
    """Outline of the arm from the shoulder to the wrist."""
    shoulder, hand = body.joint("shoulder"), body.joint("hand")
    wrist = hand + unit(shoulder - hand) * 0.05 * body.size
    return limb(shoulder, wrist, _scaled(ARM_FRONT, body.size), _scaled(ARM_BACK, body.size), (0.9, 0.9))


def spine(body: Lifter) -> list[complex]:
    """Points of the trunk's middle line from hip to shoulder."""
    return curve_through(body.joint("hip"), body.joint("mid_spine"), body.joint("shoulder"), SPINE_SHARES)


def trunk(body: Lifter) -> list[complex]:
    """Outline of the trunk: two links drawn as one smooth back, belly and chest."""
    middle = spine(body)
    ways = directions(middle)
    rows = list(zip(SPINE_SHARES, middle, ways, strict=True))
    back = [p + way * 1j * width_at(BACK, s) * body.size for s, p, way in rows]
    front = [p - way * 1j * width_at(FRONT, s) * body.size for s, p, way in rows]
    top = middle[-1] + ways[-1] * 0.055 * body.size
    down = -ways[0] * body.size
    seat = [middle[0] + down * cmath.rect(r, turn) for r, turn in SEAT]
    return [*back, top, *reversed(front), *seat]


def head_axis(body: Lifter) -> tuple[complex, complex]:
    """Where the neck begins, and the direction from there to the crown: the neck takes back part of the lean."""
    shoulder = body.joint("shoulder")
    lean = unit(body.joint("head") - body.joint("mid_spine"))
    turn = (angle(1j) - angle(lean)) * HEAD_LOOKS_UP
    return shoulder + lean * 0.02 * body.size, lean * cmath.rect(1.0, turn)


def head_centre(body: Lifter) -> complex:
    """Middle of the drawn head: as far from the shoulder as the model's head, along the drawn neck."""
    base, up = head_axis(body)
    return base + up * abs(body.joint("head") - body.joint("shoulder"))


def head(body: Lifter) -> list[complex]:
    """Outline of the head in profile, looking forward."""
    centre, (_, up) = head_centre(body), head_axis(body)
    forward = up / 1j
    return [centre + (forward * x + up * z) * body.size for x, z in HEAD]


def neck(body: Lifter) -> list[complex]:
    """Outline of the neck."""
    base, up = head_axis(body)
    start, end = base - up * 0.030 * body.size, head_centre(body) - up * 0.055 * body.size
    widths: Profile = [(0.0, 0.088 * body.size), (0.4, 0.064 * body.size), (1.0, 0.055 * body.size)]
    return limb(start, end, widths, widths, (0.3, 0.3))


def shoe(body: Lifter, floor: float = 0.0) -> list[complex]:
    """Outline of the shoe from heel to toe, standing on the floor."""
    heel, toe, ankle = body.joint("heel").real, body.joint("toe").real, body.joint("ankle")
    long, rise, k = toe - heel, ankle.imag - floor, body.size
    return [
        complex(x, floor + z)
        for x, z in (
            (heel - 0.012 * k, 0.004), (heel + 0.3 * long, 0.0), (heel + 0.75 * long, 0.0), (toe - 0.01, 0.003),
            (toe + 0.008 * k, 0.022 * k), (toe - 0.03 * k, 0.046 * k), (heel + 0.62 * long, 0.072 * k),
            (ankle.real + 0.042 * k, rise + 0.012 * k), (ankle.real, rise + 0.022 * k),
            (ankle.real - 0.040 * k, rise + 0.012 * k), (heel - 0.004 * k, 0.05 * k), (heel - 0.014 * k, 0.022 * k),
        )
    ]  # fmt: skip


def far_side(body: Lifter, apart: Mapping[str, float]) -> Lifter:
    """The other side seen a little from the front and above: joints moved by a share of their distance across (m)."""
    joints = {name: place + apart.get(name, 0.0) * OBLIQUE for name, place in body.joints.items()}
    return Lifter(joints, body.size)


def near_shapes(view: View, body: Lifter) -> list[Mark]:
    """Silhouettes of the near side, each drawn once and used for outline and fill."""
    hand = body.joint("hand")
    fist = {"cx": view.x(hand.real), "cy": view.y(hand.imag + 0.004), "r": view.length(0.040 * body.size)}
    outlines = {
        "head": head(body),
        "neck": neck(body),
        "trunk": trunk(body),
        "shank": shank(body),
        "thigh": thigh(body),
        "shorts": thigh(body, SHORTS_TO),
        "shoe": shoe(body),
        "arm": arm(body),
    }
    paths = [Mark("path", "", {"d": view.smooth(points)}, name=name) for name, points in outlines.items()]
    return [*paths, Mark("circle", "", fist, name="fist")]


def far_shapes(view: View, far: Lifter) -> list[Mark]:
    """Silhouettes of the far leg and arm."""
    lift = far.joint("heel").imag
    outlines = {"far-shank": shank(far), "far-thigh": thigh(far), "far-arm": arm(far), "far-shoe": shoe(far, lift)}
    return [Mark("path", "", {"d": view.smooth(points)}, name=name) for name, points in outlines.items()]


def used(cls: str, *names: str) -> list[Mark]:
    """Shapes drawn with a class."""
    return [Mark("use", cls, ref=name) for name in names]


def near_marks() -> list[Mark]:
    """Trunk, head and leg as one silhouette with clothes in the style's colour, then the arm over them."""
    limbs = ("head", "neck", "shank", "thigh")
    return [
        *used("edge", *limbs, "trunk"),
        *used("skin", *limbs),
        *used("cloth", "trunk", "shorts"),
        *used("shoe", "shoe"),
        *used("edge", "arm", "fist"),
        *used("skin", "arm", "fist"),
    ]


def ghost_shapes(view: View, body: Lifter, name: str) -> list[Mark]:
    """Silhouettes of another body that fits the measurements, for its outline."""
    outlines = {"head": head(body), "trunk": trunk(body), "thigh": thigh(body), "shank": shank(body), "arm": arm(body)}
    return [Mark("path", "", {"d": view.smooth(points)}, name=f"{name}-{part}") for part, points in outlines.items()]


def ghost_marks(name: str) -> list[Mark]:
    """The outline of another body that fits the measurements; the page shows it when asked."""
    return used("ghost", *(f"{name}-{part}" for part in ("head", "trunk", "thigh", "shank", "arm")))


def far_marks() -> list[Mark]:
    """The far leg and arm as ghosts."""
    names = ("far-arm", "far-shank", "far-thigh", "far-shoe")
    return used("edge far", *names) + used("skin far", *names)
