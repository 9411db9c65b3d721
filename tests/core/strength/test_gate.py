"""The gate of predicted ratios: stored numbers belong to these constants, and a smaller run tells the same."""

import json

import pytest

from analysis.core.strength import gate
from tests.strength_population import gate_numbers

PASSING = {"median": 1.0, "tenth": 0.90, "ninetieth": 1.10, "rank_correlation": 0.65}


def test_the_stored_numbers_belong_to_the_constants_in_force():
    stored = json.loads(gate.STORED.read_text())
    assert stored["fingerprint"] == gate.constants_fingerprint()
    assert stored["numbers"]["lifters"] >= 1900


def test_a_smaller_population_gives_the_stored_numbers_within_chance():
    stored = json.loads(gate.STORED.read_text())["numbers"]
    fresh = gate_numbers(600, seed=11)
    for key, within in (("median", 0.02), ("tenth", 0.03), ("ninetieth", 0.03), ("rank_correlation", 0.10)):
        assert fresh[key] == pytest.approx(stored[key], abs=within)
    gate.gate_holds.cache_clear()
    assert gate.gate_holds() == gate.passes(stored)


@pytest.mark.parametrize(
    ("key", "value"),
    [("median", 0.96), ("median", 1.04), ("tenth", 0.93), ("ninetieth", 1.07), ("rank_correlation", 0.5)],
)
def test_each_limit_alone_closes_the_gate(key, value):
    assert gate.passes(PASSING)
    assert not gate.passes({**PASSING, key: value})


def test_other_constants_close_the_gate(tmp_path, monkeypatch):
    path = tmp_path / "gate.json"
    path.write_text(json.dumps({"fingerprint": gate.constants_fingerprint(), "numbers": PASSING}))
    monkeypatch.setattr(gate, "STORED", path)
    gate.gate_holds.cache_clear()
    assert gate.gate_holds()
    monkeypatch.setattr(gate, "constants_fingerprint", lambda: "other")
    gate.gate_holds.cache_clear()
    assert not gate.gate_holds()
    monkeypatch.undo()
    gate.gate_holds.cache_clear()
