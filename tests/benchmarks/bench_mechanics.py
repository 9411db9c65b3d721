"""Speed of the mechanics, printed: `python -m tests.benchmarks.bench_mechanics` (one core: OMP_NUM_THREADS=1).

A squad in one call beside the same postures by scipy.optimize, one athlete after the other.
"""

from __future__ import annotations

import math
import time
import tracemalloc

import numpy as np
from scipy.optimize import brentq, minimize

from analysis.core.body.anthropometry import population_bodies
from analysis.core.leverages.report import leverage_report, stance_sweep
from analysis.core.pull.batch import squad_pulls
from analysis.core.pull.posture import upper_body
from analysis.core.pull.pull import rig_of
from analysis.core.pull.setups import DEFAULT_SETUPS, filled_setup, setup_arrays
from analysis.core.records.bodies import BodyInput

ATHLETES, HEIGHTS, REPEATS = 1000, 61, 5
STYLES = setup_arrays([filled_setup(asked) for asked in DEFAULT_SETUPS])


def _best(run):
    times = []
    for _ in range(REPEATS):
        begun = time.perf_counter()
        run()
        times.append(time.perf_counter() - begun)
    return min(times)


def _peak_megabytes(run):
    tracemalloc.start()
    run()
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return peak / 1e6


def _clearance(span, leg, shoulder, bar, turnout):
    """How far the leg clears the bar with the hip at a distance from the ankle, in plain Python floats."""
    shank, thigh, across, ankle_z, chord, shin_clear, thigh_clear = leg
    rise = math.sqrt(max(span**2 - across**2, 0.0))
    dx, dz = shoulder[0], shoulder[1] - ankle_z
    square = dx * dx + dz * dz
    along = (square + rise**2 - chord**2) / (2 * square)
    off = math.sqrt(max(rise**2 / square - along**2, 0.0))
    hip_x, hip_z = along * dx - off * dz, ankle_z + along * dz + off * dx
    ex, ey, ez = hip_x / span, across / span, (hip_z - ankle_z) / span
    part = (shank**2 - thigh**2 + span**2) / (2 * span)
    radius = math.sqrt(max(shank**2 - part**2, 0.0))
    lean = math.cos(turnout) * ey - math.sin(turnout) * ex
    scale = math.sqrt(1 - lean**2)
    out = min(max(-lean * part / scale, -radius), radius)
    g, h = out / scale, math.sqrt(max(radius**2 - out**2, 0.0)) / scale
    q = part - g * lean
    knee_x = q * ex - g * math.sin(turnout) + h * math.cos(turnout) * ez
    knee_z = ankle_z + q * ez - h * (math.sin(turnout) * ey + math.cos(turnout) * ex)
    shin = (bar[0] * (knee_z - ankle_z) - (bar[1] - ankle_z) * knee_x) / math.hypot(knee_x, knee_z - ankle_z)
    if bar[1] <= knee_z:
        return shin - shin_clear
    tx, tz = hip_x - knee_x, hip_z - knee_z
    return ((bar[0] - knee_x) * tz - (bar[1] - knee_z) * tx) / math.hypot(tx, tz) - thigh_clear


def _by_scipy(bodies):
    """The same contact posture by scipy.optimize.brentq, one athlete, style and height at a time."""
    r = rig_of(bodies, STYLES)
    start = r.setups.start_height
    z = start + (r.lockout_z - start) * np.linspace(0.0, 1.0, HEIGHTS)
    upper = upper_body(r, z)
    found = np.full(z.shape, np.nan)
    for athlete, style, height in np.ndindex(*z.shape):
        at = (athlete, style, height)
        shank, thigh = float(bodies.shank[athlete]), float(bodies.thigh[athlete])
        across = float(r.hip_y[athlete, 0, 0] - r.ankle_y[athlete, style, 0])
        leg = (
            shank, thigh, across, float(r.ankle_z[athlete, style, 0]), float(upper.chord[at]),
            float(r.shin_clear[style, 0]), float(r.thigh_clear[style, 0]),
        )  # fmt: skip
        shoulder = (float(upper.shoulder_x[at]), float(upper.shoulder_z[at]))
        bar = (float(r.bar_x[athlete, style, 0]), float(z[at]))
        turnout = float(r.setups.turnout[style, 0])
        reach = math.hypot(shoulder[0], shoulder[1] - leg[3]) - leg[4]
        low = max(math.hypot(max(reach, 0.0), across) + 1e-9, 0.35)
        high = shank + thigh - 1e-9
        slack = (leg, shoulder, bar, turnout)
        if low < high and _clearance(low, *slack) < 0.0 < _clearance(high, *slack):
            found[at] = brentq(_clearance, low, high, args=slack, xtol=1e-9)
    return found


def _by_general_solver(bodies, every):
    """The furthest-forward hip by scipy.optimize.minimize (SLSQP) from the conditions alone; returns count solved."""
    r = rig_of(bodies, STYLES)
    start = r.setups.start_height
    z = start + (r.lockout_z - start) * np.linspace(0.0, 1.0, HEIGHTS)
    upper = upper_body(r, z)
    cases = list(np.ndindex(*z.shape))[::every]
    for athlete, style, height in cases:
        at = (athlete, style, height)
        shank, thigh = float(bodies.shank[athlete]), float(bodies.thigh[athlete])
        foot_y, foot_z = float(r.ankle_y[athlete, style, 0]), float(r.ankle_z[athlete, style, 0])
        hip_y, bar = float(r.hip_y[athlete, 0, 0]), (float(r.bar_x[athlete, style, 0]), float(z[at]))
        turnout, chord = float(r.setups.turnout[style, 0]), float(upper.chord[at])
        shoulder = (float(upper.shoulder_x[at]), float(upper.shoulder_z[at]))
        clear = float(r.shin_clear[style, 0])

        def equal(v, a=shank, b=thigh, fy=foot_y, fz=foot_z, hy=hip_y, t=turnout, c=chord, s=shoulder):
            kx, ky, kz, hx, hz = v
            return (
                kx**2 + (ky - fy) ** 2 + (kz - fz) ** 2 - a**2,
                (hx - kx) ** 2 + (hy - ky) ** 2 + (hz - kz) ** 2 - b**2,
                kx * math.sin(t) - (ky - fy) * math.cos(t),
                (hx - s[0]) ** 2 + (hz - s[1]) ** 2 - c**2,
            )

        def clears(v, fz=foot_z, bar=bar, clear=clear):
            kx, _, kz, hx, hz = v
            near = (0.0, fz, kx, kz) if bar[1] <= kz else (kx, kz, hx, hz)
            dx, dz = near[2] - near[0], near[3] - near[1]
            return ((bar[0] - near[0]) * dz - (bar[1] - near[1]) * dx) / math.hypot(dx, dz) - clear

        minimize(
            lambda v: -v[3],
            [0.05, foot_y, foot_z + shank, -0.2, foot_z + shank + 0.1],
            method="SLSQP",
            constraints=[{"type": "eq", "fun": equal}, {"type": "ineq", "fun": clears}],
            options={"ftol": 1e-10, "maxiter": 100},
        )
    return len(cases)


def main() -> None:
    """Prints the table."""
    bodies = population_bodies("m", ATHLETES, 1)
    squad = _best(lambda: squad_pulls(bodies, STYLES, HEIGHTS))
    memory = _peak_megabytes(lambda: squad_pulls(bodies, STYLES, HEIGHTS))
    few = bodies.rows(slice(0, 20))
    begun = time.perf_counter()
    _by_scipy(few)
    slow = (time.perf_counter() - begun) * ATHLETES / 20
    begun = time.perf_counter()
    solved = _by_general_solver(few, every=17)
    general = (time.perf_counter() - begun) * ATHLETES * 4 * HEIGHTS / solved
    man = BodyInput("m", {"stature": 1.78, "mass": 85.0})
    page = _best(lambda: leverage_report(man))
    sweep = _best(lambda: stance_sweep(man))
    rows = (
        (
            f"{ATHLETES} athletes x 4 styles x {HEIGHTS} heights, postures and moments, one call",
            f"{squad:.3f} s",
            "0.4 s",
        ),
        ("  peak memory of that call", f"{memory:.0f} MB", "150 MB"),
        (
            f"  the same by scipy.optimize.minimize, one posture at a time ({solved} measured, scaled)",
            f"{general:.0f} s",
            "",
        ),
        ("    times faster", f"{general / squad:.0f}", "100"),
        (
            "  the same by brentq on our own closed forms (20 athletes measured, scaled; postures only)",
            f"{slow:.1f} s",
            "",
        ),
        ("    times faster", f"{slow / squad:.0f}", ""),
        ("one athlete's report, 4 styles, 200 draws, and the whole pull", f"{1000 * page:.0f} ms", "50 ms"),
        ("one athlete's stance sweep, 25 stances, 200 draws", f"{1000 * sweep:.0f} ms", ""),
    )
    print(f"{'what':<92}{'measured':>10}{'target':>10}")
    for what, measured, target in rows:
        print(f"{what:<92}{measured:>10}{target:>10}")


if __name__ == "__main__":
    main()
