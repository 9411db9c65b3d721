"""How it works: equations, constants, checks computed now."""

import ast
import html
import re
from pathlib import Path

import pytest

from analysis.core.body.constants import all_constants
from analysis.core.pull.checks import CHECKS, KNOWN_MISSES, check_rows
from analysis.core.settings import REGISTRY
from analysis.core.strength import gate
from analysis.core.strength.constants import strength_constants
from analysis.how_it_works.dated import dated_tables
from analysis.how_it_works.gate_state import gate_state
from analysis.how_it_works.page import SECTIONS, checks, sections
from analysis.how_it_works.rows import KINDS, living

ROOT = Path(__file__).resolve().parents[3]
LISTED_FROM = (
    *("analysis/core/" + room for room in ("body", "pull", "strength", "settings", "estimates", "leverages", "meets")),
    *("analysis/core/" + room for room in ("trials", "training", "weak_link", "styles", "squad")),
    *("athletes/measuring/" + name for name in ("repeats.py", "stale.py", "how_to.py")),
    *("athletes/units/" + name for name in ("lengths.py", "builds.py", "typed_lengths.py")),
    "athletes/schema/measurements.py",
)
# numbers that claim nothing about lifters: places in an array, calendar spans, how much is shown at once
NOT_LISTED = {
    "analysis.core.body.anthropometry._LINK_PARTS": "which heights a link is the difference of; told in words",
    "analysis.core.pull.checks.LOAD_KG": "load of the checks; told above their table",
    "analysis.core.pull.checks.CHECKS": "bands; they are the table of checks",
    "analysis.core.pull.habits.LOW": "the lower ends of HABIT_BOUNDS",
    "analysis.core.pull.habits.HIGH": "the upper ends of HABIT_BOUNDS",
    "analysis.core.pull.habits.MEAN_STANCES": "stances of an average man, made of the constants",
    "analysis.core.pull.habits._FAMILY": "which styles share drawn habits",
    "analysis.core.meets.live.GRID": "steps of a computation",
    "analysis.core.meets.live.LEAST": "the smallest number kept from zero",
    "analysis.core.trials.kinds.GRID": "steps of a computation",
    "analysis.core.strength.demand_table._STYLE": "listed as the style factors it is made of",
    "analysis.core.estimates.local_level._GOLDEN": "the golden section",
    "analysis.core.estimates.local_level._LOG_2PI": "a logarithm",
    "analysis.core.estimates.one_rep_max.FORMULAS": "formulas; written out in words",
    "analysis.core.trials.heading.DIFFERENCE_ONLY": "a direction in an array",
    "analysis.core.weak_link.gather._NODE_WEIGHTS": "weights of the nodes that are listed",
    "analysis.core.weak_link.sampler._TWICE": "how often a product stands in a square",
    "analysis.core.estimates.grip_and_bar.LATEST_ROWS": "rows linked at once",
    "analysis.core.leverages.postures.ENDS": "the ends of an 80 % range, in percent",
    "analysis.core.squad.summary.MOST_REPS": "rows of a list",
    "analysis.core.trials.verdict.Z80": "as one_rep_max.Z80",
    "analysis.core.weak_link.estimate._KEPT_TABLES": "tables kept in memory",
    "analysis.core.pull.lifter_postures._KEPT": "postures kept in memory",
    "analysis.core.leverages.knowing.HALF_OF_SD": "as one_rep_max.Z80",
    "analysis.core.weak_link.reasons.MOST": "rows shown at once",
    "analysis.core.leverages.findings.MINOR_AGE": "18, by law",
    "athletes.units.lengths.LONGEST": "characters of a typed length",
    "athletes.measuring.how_to.HOW_TO": "texts",
    "athletes.schema.measurements.YOUNG_KEEP_MONTHS": "as athletes.measuring.stale.YOUNG_KEEP",
    "athletes.schema.measurements.REPEATS": "places on the sheet",
    "athletes.measuring.how_to.OVERVIEW": "places in a drawing",
}
CALENDAR_OR_PLACES = re.compile(
    r"\.(FOUR_WEEKS|TWELVE_WEEKS|YEAR|SHOWN|WEEKS_SHOWN|RECENT_WEEKS|MOST_[A-Z]+|LINKED_ROWS|TRUNK|MISSED|MADE_HEAVY"
    r"|OLD_LEVEL|DIFFERENCE|DIP|TREND|CONVENTIONAL|SUMO|WIDE|ROUNDED|LIFT_OFF|AT_KNEE|LOCKOUT|SEED)$"
)
SETTING_LISTS = re.compile(r"analysis\.core\.settings\.\w+\.[A-Z_]+$")


def groups():
    return [group for _, numbers in sections() for group in numbers.get("groups", ())]


def rows():
    return [row for group in groups() for row in group.rows]


def module_numbers():
    """Every module-level name in capitals that holds a number, as "module.NAME"; listed constants are left out."""
    for top in LISTED_FROM:
        for path in sorted((ROOT / top).rglob("*.py")) if (ROOT / top).is_dir() else [ROOT / top]:
            module = ".".join(path.relative_to(ROOT).with_suffix("").parts)
            for node in ast.parse(path.read_text()).body:
                if isinstance(node, ast.Assign | ast.AnnAssign) and node.value is not None and _has_number(node.value):
                    targets = node.targets if isinstance(node, ast.Assign) else [node.target]
                    for target in targets:
                        for name in getattr(target, "elts", [target]):
                            if isinstance(name, ast.Name) and name.id.lstrip("_").isupper():
                                yield f"{module}.{name.id}"


def _has_number(node):
    if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "_listing":
        return False
    return any(isinstance(n, ast.Constant) and type(n.value) in (int, float) for n in ast.walk(node))


def page(signed_in, name="ada"):
    return signed_in(name).get("/how-it-works/").content.decode()


def test_every_role_may_read_it(signed_in):
    for name in ("ona", "cato", "stan", "ada", "nils"):
        assert "how sure is it" in page(signed_in, name)


def test_a_stranger_is_asked_to_sign_in(signed_in):
    assert signed_in(None).get("/how-it-works/").status_code == 302


def test_it_reads_and_never_writes(signed_in):
    assert signed_in("ada").post("/how-it-works/").status_code == 405


def test_every_constant_stands_there_with_its_source(signed_in):
    text = html.unescape(page(signed_in)).lower()
    for constant in (*all_constants(), *strength_constants()):
        assert constant.key.lower() in text
        assert constant.source.lower() in text
    for setting in REGISTRY.values():
        assert f"(setting {setting.key})" in text
        assert setting.source.lower() in text


def test_every_check_stands_there_with_its_band_and_the_value_of_now(signed_in):
    text = page(signed_in)
    assert len(checks()) == len(CHECKS)
    for shown, row in zip(checks(), check_rows(), strict=True):
        assert shown.values[0].startswith(f"{row.value:.{row.check.digits}f}")
        assert shown.band in text


def test_a_check_that_is_not_met_says_why(signed_in):
    for shown in checks():
        assert shown.verdict == "inside" or shown.why, shown.quantity
    assert set(KNOWN_MISSES) <= {check.key for check in CHECKS}


def test_every_section_has_a_link_and_cautions_are_among_them(signed_in):
    text = page(signed_in)
    for section in SECTIONS:
        assert f'href="#{section.slug}"' in text
        assert f'id="{section.slug}"' in text
    assert re.search(r"not medical advice\..*licensed professional", text)


def test_every_number_has_a_kind_a_source_and_a_value():
    assert len(rows()) > 400
    for row in rows():
        assert row.kind in KINDS, row
        assert row.name and row.value and row.source, row
        assert row.source != row.kind or row.kind != "published", row


def test_no_number_of_the_core_or_of_measuring_is_left_out():
    shown = {row.where for row in rows()}
    missing = {
        where
        for where in module_numbers()
        if where not in shown
        and where not in NOT_LISTED
        and not CALENDAR_OR_PLACES.search(where)
        and not SETTING_LISTS.match(where)
    }
    assert missing == set()


def test_what_is_excused_still_exists():
    assert set(NOT_LISTED) <= set(module_numbers())


def test_numbers_are_read_from_the_program(monkeypatch):
    from analysis.core.weak_link import prior

    monkeypatch.setattr(prior, "SLOPE_SD", 0.123)
    assert living(prior, "SLOPE_SD", "x", "", ("calibration", "y")).value == "0.123"


@pytest.mark.parametrize("section", SECTIONS, ids=lambda section: section.slug)
def test_every_section_says_something(section, signed_in):
    text = page(signed_in)
    begin = text.index(f'id="{section.slug}"')
    words = re.sub(r"<[^>]+>", " ", text[begin : text.index("</section>", begin)])
    assert len(words.split()) > 25, section.slug


def test_the_gate_shows_the_stored_numbers_and_its_state(signed_in, monkeypatch):
    text = page(signed_in)
    for row in gate_state().rows:
        assert row.found in text
    assert ("No: no page shows a predicted" in text) is not gate.gate_holds()
    monkeypatch.setitem(gate.LIMITS, "rank_correlation_at_least", 0.0)
    assert gate_state().rows[-1].holds


def test_the_tables_are_those_of_the_documents(signed_in, tmp_path):
    text = html.unescape(page(signed_in))
    told = dated_tables("calibration-trials.md")
    assert told.found and re.fullmatch(r"20\d\d-\d\d-\d\d", told.dated)
    first = told.titled("as the model assumes").tables[0]
    assert first.head[0] == "truth" and first.rows[0][0] == "-10%"
    for cell in (cell for row in first.rows for cell in row):
        assert f">{cell}<" in text
    assert not dated_tables("calibration-trials.md", tmp_path).found


def test_the_page_says_where_the_weak_link_was_tested(signed_in):
    text = page(signed_in)
    assert "tested on simulated lifters only" in text
    assert "No published study sorts missed pulls by joint" in text
