"""Simulated lifters with habits of their own, seen by tape and on marked stills, and how well a refit finds them."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from analysis.core.body.anthropometry import population_bodies
from analysis.core.body.body import Body, joined
from analysis.core.pull.habits import HIGH, LOW, mean_habits, prior_covariance
from analysis.core.pull.moments import moments_of
from analysis.core.pull.own_posture import OBSERVED, STILL_SD, TAPE_SD, fitted_habits, observed
from analysis.core.pull.pull import postures_at, rig_of
from analysis.core.pull.setups import filled_setup, setups_of_habits
from analysis.core.records.postures import HABITS
from analysis.core.records.pulls import SetupInput

LOAD_KG = 200.0
LINK_ERROR = 0.02  # of every link, as measured by tape
TAPE = ("stance", "turnout")
STILL = (*TAPE, "trunk", "thigh", "shank", "arm", "hip_bar", "bar_ahead", "bend")
TWO_STILLS = (*STILL, "knee_trunk", "knee_thigh", "knee_shank", "knee_arm", "drift")
KNOWLEDGE = {"nothing but the body": (), "stance and toes": TAPE, "lift-off still": STILL, "both stills": TWO_STILLS}
SD = np.array([{**STILL_SD, **TAPE_SD, "legs_first": 1.0}[key] for key in OBSERVED])
WRONG_TRUTHS = {"spinal joint at 0.5": ("SPINAL_JOINT", 0.5), "shin 8 mm deeper": ("SHIN_HALF_DEPTH_M", 0.043),
                "mid-foot at 0.54": ("MID_FOOT", 0.54)}  # fmt: skip


@dataclass(frozen=True, slots=True)
class World:
    """Lifters as they are, as their bodies were measured, and what would be seen of them (with its errors)."""

    measured: Body
    habits: dict[str, np.ndarray]
    seen: dict[str, np.ndarray]
    answers: dict[str, dict[str, np.ndarray]]


def world(lifters: int, seed: int, error_times: float = 1.0) -> World:
    """`lifters` of both sexes; call it under the constants of the truth, fit under the model's own."""
    rng = np.random.default_rng(seed)
    body = joined([population_bodies(sex, lifters // 2, seed + i) for i, sex in enumerate("mf")])
    links = ("shank", "thigh", "trunk", "arm", "foot")
    changed = {key: getattr(body, key) * (1 + LINK_ERROR * rng.standard_normal(len(body))) for key in links}
    habits, seen, answers = {}, {}, {}
    for style in ("conventional", "sumo"):
        middle = mean_habits(style, body)
        away = rng.standard_normal(middle.shape) * np.sqrt(np.diag(prior_covariance(style)))
        habits[style] = np.clip(middle + away, LOW, HIGH)
        exact = observed(body, style, habits[style][:, None])[:, 0]
        seen[style] = exact + error_times * SD * rng.standard_normal(exact.shape)
        answers[style] = answers_of(body, style, habits[style])
    return World(replace(body, **changed), habits, seen, answers)


def answers_of(body: Body, style: str, habits: np.ndarray) -> dict[str, np.ndarray]:
    """Hip to bar (m), L4/L5 moment and knee demand (N m) at lift-off of habits (bodies, 10)."""
    r = rig_of(body, setups_of_habits(habits[:, None], filled_setup(SetupInput(preset=style))))
    p = postures_at(r, r.setups.start_height + 0.0 * r.knee_z)
    m = moments_of(r.body, r.setups, p)
    at = (slice(None), 0, 0)
    return {"hip_bar": p.hip_bar_distance[at], "l4l5": m.l4l5.at(LOAD_KG)[at], "knee": m.knee_demand.at(LOAD_KG)[at]}


@dataclass(frozen=True, slots=True)
class Refit:
    """How far fitted lifters are from the true ones under one knowledge.

    Errors of hip to bar in m (rms by style, SD of sumo less conventional, correlation with the truth, share of true
    differences inside the stated 80 %), of moments as shares of the mean, and coverage of every habit's 80 % range.
    """

    hip_bar: dict[str, float]
    l4l5: dict[str, float]
    knee: dict[str, float]
    difference_sd: float
    difference_r: float
    difference_covered: float
    covered: dict[str, float]


def refit(found: World, keys: tuple[str, ...]) -> Refit:
    """Fits every lifter from what `keys` name of what was seen, with the bodies as measured."""
    errors: dict[str, dict[str, float]] = {"hip_bar": {}, "l4l5": {}, "knee": {}}
    fitted, variance, hits = {}, 0.0, []
    for style in found.habits:
        seen = np.where([key in keys for key in OBSERVED], found.seen[style], np.nan)
        habits, covariance = fitted_habits(found.measured, style, seen, SD)
        fitted[style] = answers_of(found.measured, style, habits)
        for key, of_style in errors.items():
            true, ours = found.answers[style][key], fitted[style][key]
            scale = 1.0 if key == "hip_bar" else np.nanmean(true)
            of_style[style] = float(np.sqrt(np.nanmean((ours - true) ** 2)) / scale)
        sd = np.sqrt(np.diagonal(covariance, axis1=1, axis2=2))
        hits.append(np.abs(habits - found.habits[style]) < 1.2816 * sd)
        variance = variance + _variance(found.measured, style, habits, covariance)
    true, ours = (of["sumo"]["hip_bar"] - of["conventional"]["hip_bar"] for of in (found.answers, fitted))
    known = np.isfinite(true) & np.isfinite(ours)
    inside = np.abs(ours - true) < 1.2816 * np.sqrt(variance)
    return Refit(
        **errors,
        difference_sd=float(np.std((ours - true)[known])),
        difference_r=float(np.corrcoef(ours[known], true[known])[0, 1]),
        difference_covered=float(inside[known].mean()),
        covered=dict(zip(HABITS, np.concatenate(hits).mean(axis=0).tolist(), strict=True)),
    )


def _variance(body: Body, style: str, habits: np.ndarray, covariance: np.ndarray) -> np.ndarray:
    """Variance (m^2) of hip to bar by the habits' covariance, one slope a body, and 2 % of the links (about 0.7 cm)."""
    step = 0.05 * np.sqrt(np.diag(prior_covariance(style)))
    slope = np.stack(
        [
            (answers_of(body, style, habits + one)["hip_bar"] - answers_of(body, style, habits - one)["hip_bar"])
            / (2 * one.sum())
            for one in np.diag(step)
        ],
        axis=-1,
    )
    return np.einsum("ni,nij,nj->n", slope, covariance, slope)
