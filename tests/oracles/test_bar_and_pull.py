"""Independent oracles: MuJoCo for joint moments, SymPy for the bent bar, SciPy for the posture."""

import math

import mujoco
import numpy as np
import pytest
from scipy.optimize import brentq, minimize_scalar, root
from sympy import Rational
from sympy.physics.continuum_mechanics.beam import Beam

from analysis.core.body import constants as c
from analysis.core.body.body import DE_LEVA, arm_lump, trunk_lumps
from analysis.core.pull.bar import overhang, rise_of_hands
from analysis.core.pull.checks import reference_body
from analysis.core.pull.moments import ground_of, joint_vectors, knee_axis, loads_of, moments_of
from analysis.core.pull.posture import upper_body
from analysis.core.pull.pull import postures_at, pull_postures, rig_of
from analysis.core.pull.setups import DEFAULT_SETUPS, filled_setup, setup_arrays
from athletes.schema.units import GRAVITY

LOAD_KG = 200.0


def _pulls(links="rough", sex="m"):
    body = reference_body(links, sex, 1.78 if sex == "m" else 1.65, 85.0 if sex == "m" else 65.0)
    return pull_postures(body, setup_arrays([filled_setup(asked) for asked in DEFAULT_SETUPS], body))


class Picked:
    """One posture's fields as floats."""

    def __init__(self, record, style, height):
        self._record, self._at = record, (style, height)

    def __getattr__(self, name):
        array = np.asarray(getattr(self._record, name))
        return float(array if array.ndim == 0 else np.broadcast_to(array, (1, 4, 61))[0][self._at])


def _geom(mass, x, y, z):
    return f'<geom type="sphere" size="0.01" mass="{mass:.12g}" pos="{x:.12g} {y:.12g} {z:.12g}"/>'


def _chain(sex, mass, p, w, axis):
    """A free pelvis with two legs and a jointed trunk; every body frame sits in its joint, unturned."""
    pelvis, lumbar, chest = trunk_lumps(sex)
    l4l5_x = p.hip_x + c.L4L5 * p.trunk * math.cos(p.lower_trunk)
    l4l5_z = p.hip_z + c.L4L5 * p.trunk * math.sin(p.lower_trunk)

    def along(lump):
        at = lump.place * p.trunk
        return at * math.cos(p.lower_trunk), at * math.sin(p.lower_trunk)

    (px, pz), (lx, lz) = along(pelvis), along(lumbar)
    beyond = (chest.place - c.SPINAL_JOINT) * p.trunk
    cx, cz = beyond * math.cos(p.upper_trunk), beyond * math.sin(p.upper_trunk)
    arm = arm_lump(sex)
    ax, az = arm.place * (p.bar_x - p.shoulder_x), arm.place * (p.z - p.shoulder_z)
    half = {key: DE_LEVA[sex][key].mass * mass for key in ("thigh", "shank", "foot")}
    share = {key: DE_LEVA[sex][key].centre for key in half}

    def leg(side, name):
        kx, ky, kz = p.knee_x - p.hip_x, side * (p.knee_y - p.hip_y), p.knee_z - p.hip_z
        sx, sy, sz = -p.knee_x, side * (p.ankle_y - p.knee_y), p.ankle_z - p.knee_z
        # mirrored in y, an axis of rotation changes its x and z
        nx, ny, nz = (axis[0], axis[1], axis[2]) if side > 0 else (-axis[0], axis[1], -axis[2])
        return f"""
        <body name="thigh{name}" pos="0 {side * p.hip_y:.12g} 0"><joint name="hip{name}" type="ball"/>
          {_geom(half["thigh"], share["thigh"] * kx, share["thigh"] * ky, share["thigh"] * kz)}
          <body name="shank{name}" pos="{kx:.12g} {ky:.12g} {kz:.12g}">
            <joint name="knee{name}" type="hinge" axis="{nx:.12g} {ny:.12g} {nz:.12g}"/>
            {_geom(half["shank"], share["shank"] * sx, share["shank"] * sy, share["shank"] * sz)}
            <body name="foot{name}" pos="{sx:.12g} {sy:.12g} {sz:.12g}"><joint name="ankle{name}" type="ball"/>
              {_geom(half["foot"], w.foot_x, side * (w.foot_y - p.ankle_y), -p.ankle_z / 2)}
            </body></body></body>"""

    bar = _geom(LOAD_KG, p.bar_x - p.shoulder_x, 0, p.z - p.shoulder_z)
    return f"""<mujoco><compiler angle="radian" inertiafromgeom="true"/>
    <option gravity="0 0 -{GRAVITY}"/><default><geom contype="0" conaffinity="0"/></default><worldbody>
    <body name="pelvis" pos="{p.hip_x:.12g} 0 {p.hip_z:.12g}"><freejoint name="root"/>
      {_geom(pelvis.mass * mass, px, 0, pz)}{leg(1, "L")}{leg(-1, "R")}
      <body pos="{l4l5_x - p.hip_x:.12g} 0 {l4l5_z - p.hip_z:.12g}"><joint name="l4l5" axis="0 1 0"/>
        {_geom(lumbar.mass * mass, lx - (l4l5_x - p.hip_x), 0, lz - (l4l5_z - p.hip_z))}
        <body pos="{p.mid_x - l4l5_x:.12g} 0 {p.mid_z - l4l5_z:.12g}"><joint name="spine" axis="0 1 0"/>
          {_geom(chest.mass * mass, cx, 0, cz)}
          <body pos="{p.shoulder_x - p.mid_x:.12g} 0 {p.shoulder_z - p.mid_z:.12g}"><joint axis="0 1 0"/>
            {_geom(arm.mass * mass, ax, 0, az)}{bar}
          </body></body></body></body></worldbody></mujoco>"""


def _inverse(xml, ground, p, turnout):
    """Generalised forces that hold the posture against gravity and the ground (MuJoCo, at rest)."""
    model = mujoco.MjModel.from_xml_string(xml)
    data = mujoco.MjData(model)
    mujoco.mj_inverse(model, data)
    forces = data.qfrc_inverse.copy()
    x = ground.up_x / ground.up
    for side, foot in ((1, "footL"), (-1, "footR")):
        y = side * (p.ankle_y + math.tan(turnout) * x)
        index = mujoco.mj_name2id(model, mujoco.mjtObj.mjOBJ_BODY, foot)
        for force, point in (
            ((0.0, 0.0, ground.up / 2), (x, y, 0.0)),
            ((0.0, -side * ground.inward / 2, 0.0), (p.mid_foot_x, y, 0.0)),
        ):
            pushed = np.zeros(model.nv)
            mujoco.mj_applyFT(model, data, np.array(force), np.zeros(3), np.array(point), index, pushed)
            forces -= pushed

    def of(name, size):
        first = model.jnt_dofadr[mujoco.mj_name2id(model, mujoco.mjtObj.mjOBJ_JOINT, name)]
        return forces[first : first + size]

    return of


@pytest.mark.parametrize(("style", "sex"), [(style, sex) for style in range(4) for sex in "mf"])
@pytest.mark.parametrize("push", [0.0, 0.5, 1.0])
def test_moments_agree_with_mujoco_inverse_dynamics(style, push, sex):
    r, postures = _pulls(sex=sex)
    w_all = loads_of(r.body, r.setups, postures, LOAD_KG)
    ground_all = ground_of(w_all, r.setups, postures, push)
    vectors = joint_vectors(w_all, r.setups, postures, push)
    moments = moments_of(r.body, r.setups, postures, push)
    axes = knee_axis(r.setups, postures)
    mass, turnout = float(r.body.mass[0, 0, 0]), float(r.setups.turnout[style, 0])
    for height in (0, 15, 30, 45, 57):
        at = (0, style, height)
        p, w, g = (Picked(record, style, height) for record in (postures, w_all, ground_all))
        p.trunk = float(r.body.trunk[0, 0, 0])
        of = _inverse(_chain(sex, mass, p, w, [float(part[at]) for part in axes]), g, p, turnout)
        np.testing.assert_allclose(of("root", 6), 0.0, atol=0.01 * mass)
        tolerance = {"rtol": 0.002, "atol": 0.1}
        for joint in ("hip", "ankle"):
            ours = [float(np.broadcast_to(part, (1, 4, 61))[at]) for part in getattr(vectors, joint)]
            np.testing.assert_allclose(2 * of(joint + "L", 3), ours, **tolerance)
        np.testing.assert_allclose(2 * of("kneeL", 1)[0], moments.knee.at(LOAD_KG)[at], **tolerance)
        np.testing.assert_allclose(-of("spine", 1)[0], moments.trunk.at(LOAD_KG)[at], **tolerance)
        np.testing.assert_allclose(-of("l4l5", 1)[0], moments.l4l5.at(LOAD_KG)[at], **tolerance)


@pytest.mark.parametrize(("diameter", "span"), [(0.029, 1.31), (0.028, 1.31), (0.027, 1.41)])
@pytest.mark.parametrize("load", [150.0, 200.0, 300.0])
def test_rise_of_the_hands_agrees_with_sympy_beam(diameter, span, load):
    hands = 0.55
    arm = Rational(str(round(overhang(load, hands, span), 9)))
    gap = Rational(str(hands))
    weight = Rational(str(round(load * GRAVITY / 2, 9)))
    inertia = math.pi * diameter**4 / 64
    beam = Beam(2 * arm + gap, c.STEEL_MODULUS_PA, inertia)
    left, right = beam.apply_support(arm, "pin"), beam.apply_support(arm + gap, "roller")
    beam.apply_load(weight, 0, -1)
    beam.apply_load(weight, 2 * arm + gap, -1)
    beam.solve_for_reaction_loads(left, right)
    bent = abs(float(beam.deflection().subs(beam.variable, 0)))
    assert rise_of_hands(load, hands, diameter, span) == pytest.approx(bent, rel=1e-3)


def _smoothstep(share):
    t = min(max(share, 0.0), 1.0)
    return t * t * (3 - 2 * t)


@pytest.mark.parametrize("style", range(4))
def test_posture_on_the_shin_agrees_with_scipy_root(style):
    """Knee and hip from the conditions at once, with a general solver of equations: the contact, then the lead."""
    r, p = _pulls()
    for height in (0, 10, 20):
        at = (0, style, height)
        one = Picked(p, style, height)
        chord = float(upper_body(r, p.z).chord[at])
        turnout = float(r.setups.turnout[style, 0])
        shank, thigh = (float(getattr(r.body, key)[0, 0, 0]) for key in ("shank", "thigh"))
        clear = float(r.shin_clear[style, 0]), float(r.thigh_clear[style, 0])

        def links(v, one=one, turnout=turnout, chord=chord, shank=shank, thigh=thigh):
            kx, ky, kz, hx, hz = v
            return [
                kx**2 + (ky - one.ankle_y) ** 2 + (kz - one.ankle_z) ** 2 - shank**2,
                (hx - kx) ** 2 + (one.hip_y - ky) ** 2 + (hz - kz) ** 2 - thigh**2,
                kx * math.sin(turnout) - (ky - one.ankle_y) * math.cos(turnout),
                (hx - one.shoulder_x) ** 2 + (hz - one.shoulder_z) ** 2 - chord**2,
            ]

        def contact(v, one=one, shank=shank, clear=clear, links=links):
            kx, _, kz, _, _, depth = v
            dx, dz = kx, kz - one.ankle_z
            touched = math.sqrt(one.bar_x**2 + (one.z - one.ankle_z) ** 2 - depth**2) / shank
            grown = _smoothstep((touched - c.SHIN_WIDENS_FROM) / (1 - c.SHIN_WIDENS_FROM))
            distance = (one.bar_x * dz - (one.z - one.ankle_z) * dx) / math.hypot(dx, dz)
            return [*links(v[:5]), distance - depth, depth - clear[0] - (clear[1] - clear[0]) * grown]

        def knee(v, one=one, shank=shank, thigh=thigh):
            span = math.sqrt(v[3] ** 2 + (one.hip_y - one.ankle_y) ** 2 + (v[4] - one.ankle_z) ** 2)
            return math.acos((span**2 - shank**2 - thigh**2) / (2 * shank * thigh))

        guess = [0.05, one.ankle_y + 0.02, one.ankle_z + 0.42, -0.25, one.ankle_z + 0.5, clear[0]]
        touching = root(contact, guess, tol=1e-13)
        assert touching.success
        way = (one.z - c.FLOOR_START_M) / (float(r.knee_z[0, style, 0]) - c.FLOOR_START_M)
        wanted = knee(touching.x) - float(r.setups.lead[style, 0]) * way**2
        found = root(lambda v, w=wanted, links=links, knee=knee: [*links(v), knee(v) - w], touching.x[:5], tol=1e-13)
        assert found.success
        ours = [one.knee_x, one.knee_y, one.knee_z, one.hip_x, one.hip_z]
        np.testing.assert_allclose(ours, found.x, atol=2e-5 if height else 1e-6)  # three steps of the depth


def _knee_by_search(ankle, hip, shank, thigh, turnout):
    """The point at shank and thigh length that is nearest the foot's vertical plane, forward, by plain search."""
    across = np.array([-math.sin(turnout), math.cos(turnout), 0.0])
    forward = np.array([math.cos(turnout), math.sin(turnout), 0.0])
    axis = hip - ankle
    span = np.linalg.norm(axis)
    axis = axis / span
    along = (shank**2 - thigh**2 + span**2) / (2 * span)
    radius = math.sqrt(max(shank**2 - along**2, 0.0))
    u = np.cross(axis, [0.3, 0.4, 0.5])
    u /= np.linalg.norm(u)
    v = np.cross(axis, u)

    def point(angle):
        return ankle + along * axis + radius * (math.cos(angle) * u + math.sin(angle) * v)

    def off(angle):
        return (point(angle) - ankle) @ across

    angles = np.linspace(0, 2 * math.pi, 721)
    values = np.array([off(angle) for angle in angles])
    crossing = np.flatnonzero(values[:-1] * values[1:] <= 0)
    if crossing.size:
        found = [brentq(off, angles[i], angles[i + 1], xtol=1e-14) for i in crossing]
    else:
        nearest = angles[np.argmin(np.abs(values))]
        found = [
            minimize_scalar(
                lambda a: abs(off(a)), bounds=(nearest - 0.01, nearest + 0.01), method="bounded",
                options={"xatol": 1e-13},
            ).x
        ]  # fmt: skip
    return max((point(angle) for angle in found), key=lambda k: (k - ankle) @ forward)


@pytest.mark.parametrize("style", range(4))
def test_posture_past_the_knee_agrees_with_scipy_roots(style):
    """The place on the curve of knee over hip by brentq; hip and knee of every trial place by plain searches."""
    body = reference_body()
    r = rig_of(body, setup_arrays([filled_setup(DEFAULT_SETUPS[style])], body))
    shank, thigh, turnout = body.shank.item(), body.thigh.item(), r.setups.turnout.item()
    below = postures_at(r, r.knee_z + np.array([-1e-4, 0.0]))
    (q_before, q_knee), (h_before, h_knee) = below.knee_flexion[0, 0], below.hip_angle[0, 0]
    h_lockout = -r.lockout_lean.item()
    slope = (q_knee - q_before) / (h_knee - h_before) * (h_knee - h_lockout) / q_knee
    slope = min(max(slope, c.LEAST_SLOPE), c.GREATEST_SLOPE)
    for share in (0.1, 0.4, 0.7, 0.9, 0.98):
        z = r.knee_z + (r.lockout_z - r.knee_z) * share
        p, upper = postures_at(r, z), upper_body(r, z)
        shoulder = np.array([upper.shoulder_x.item(), upper.shoulder_z.item()])
        ankle = np.array([0.0, r.ankle_y.item(), r.ankle_z.item()])
        toward = math.atan2(ankle[2] - shoulder[1], -shoulder[0])

        def hip_at(turn, shoulder=shoulder, upper=upper, toward=toward):
            """Hip on the circle about the shoulder, `turn` behind the line to the ankle."""
            x, z = math.cos(toward - turn), math.sin(toward - turn)
            return np.array(
                [shoulder[0] + upper.chord.item() * x, r.hip_y.item(), shoulder[1] + upper.chord.item() * z]
            )

        def posture(place, hip_at=hip_at, ankle=ankle):
            q = q_knee * (place + (slope - 1) * (place**3 - place**2))
            span = math.sqrt(shank**2 + thigh**2 + 2 * shank * thigh * math.cos(q))
            if np.linalg.norm(hip_at(0.0) - ankle) > span:
                return None  # leg and trunk do not meet
            turn = brentq(lambda t: np.linalg.norm(hip_at(t) - ankle) - span, 0.0, 2.5, xtol=1e-14)
            return hip_at(turn), _knee_by_search(ankle, hip_at(turn), shank, thigh, turnout)

        def miss(place, posture=posture, shoulder=shoulder):
            found = posture(place)
            if found is None:
                return -1.0
            hip, knee = found
            trunk = math.atan2(shoulder[1] - hip[2], shoulder[0] - hip[0])
            leg = math.atan2(hip[2] - knee[2], hip[0] - knee[0])
            return leg - trunk - h_lockout - place * (h_knee - h_lockout)

        hip, knee = posture(brentq(miss, 1e-9, 1.0, xtol=1e-13))
        ours = [p.hip_x.item(), p.hip_z.item(), p.knee_x.item(), p.knee_z.item()]
        np.testing.assert_allclose(ours, [hip[0], hip[2], knee[0], knee[2]], atol=2e-6)


def test_the_knee_closed_form_agrees_with_a_plain_search():
    r, p = _pulls()
    for style in range(4):
        for height in (0, 30, 45, 55):
            one = Picked(p, style, height)
            found = _knee_by_search(
                np.array([0.0, one.ankle_y, one.ankle_z]),
                np.array([one.hip_x, one.hip_y, one.hip_z]),
                r.body.shank.item(),
                r.body.thigh.item(),
                float(r.setups.turnout[style, 0]),
            )
            np.testing.assert_allclose([one.knee_x, one.knee_y, one.knee_z], found, atol=1e-6)
