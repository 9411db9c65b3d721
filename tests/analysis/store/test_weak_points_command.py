"""`manage.py weak_points`: from a file without a database, from the database, and wrong arguments named in one line."""

import json
from datetime import date
from io import StringIO
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from analysis.store.file_log import UnreadableLog, read_file_log

SAMPLE = Path(__file__).resolve().parents[3] / "fixtures" / "weak_points_sample.csv"
HEAD = ["# sex: m", "# stature: 180", "# mass: 88", "date,load,unit,reps,rpe,style,result,miss-position"]


def run(*args) -> str:
    out = StringIO()
    call_command("weak_points", *args, stdout=out)
    return out.getvalue()


def test_the_sample_file_reads_without_a_database():
    found = json.loads(run("--from-csv", str(SAMPLE), "--json"))
    assert found["main_style"] == "sumo" and found["skipped_lines"] == []
    chances = {c["link"]: c["chance"] for c in found["styles"][0]["chances"]}
    assert sum(chances.values()) == pytest.approx(1.0)
    assert found["styles"][0]["low_kg"] < found["styles"][0]["best_kg"] < found["styles"][0]["high_kg"]
    assert "no published study" in found["honesty"].lower() and "simulated lifters only" in found["honesty"]


def test_json_and_words_name_the_same_lines_that_were_left_out(tmp_path):
    path = tmp_path / "log.csv"
    path.write_text("\n".join([*SAMPLE.read_text().splitlines(), "2026-01-01,heavy,kg,1,9,sumo,made,", "2026-01-02,1"]))
    skipped = json.loads(run("--from-csv", str(path), "--json"))["skipped_lines"]
    assert len(skipped) == 2
    assert all(f"left out: {line}" in run("--from-csv", str(path)) for line in skipped)


def test_without_json_the_reading_is_in_words():
    text = run("--from-csv", str(SAMPLE))
    assert "in 10" in text and "Classical reading" in text and "left-out" not in text


@pytest.mark.django_db
def test_an_athlete_of_the_database_by_number_and_by_uid(cast):
    from athletes.models import Athlete

    athlete = Athlete.objects.first()
    for name in (str(athlete.pk), str(athlete.uid)):
        assert json.loads(run(name, "--json"))["lifter_key"] == str(athlete.uid)


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("args", "words"),
    [
        ((), "either an athlete or --from-csv"),
        (("1", "--from-csv", "x.csv"), "either an athlete or --from-csv"),
        (("999999",), "999999"),
        (("nobody",), "nobody"),
        (("--from-csv", "no-such-file.csv"), "no-such-file.csv"),
        (("--from-csv", str(SAMPLE), "--as-of", "tomorrow"), "--as-of"),
    ],
)
def test_wrong_arguments_are_named(args, words):
    with pytest.raises(CommandError, match=words):
        run(*args)


def log_of(tmp_path, lines):
    path = tmp_path / "log.csv"
    path.write_text("\n".join(lines))
    return read_file_log(path, date(2026, 11, 27))


def test_a_bad_line_is_named_and_the_others_count(tmp_path):
    rows = ["2026-03-04,180,kg,3,8,conventional,made,", "2026-02-30,180,kg,3,8,conventional,made,"]
    rows += ["2026-03-06,abc,kg,1,8,conventional,made,", "2026-03-07,190,kg,0,,conventional,missed,at the knee"]
    log = log_of(tmp_path, [*HEAD, *rows])
    assert [(s.result, s.miss_position) for s in log.lifter.sets] == [("made", ""), ("missed", "at-knee")]
    assert [line.split(":")[0] for line in log.skipped] == ["line 6", "line 7"]
    assert "2026-02-30" in log.skipped[0] and "abc" in log.skipped[1]


def test_pounds_are_converted_once_and_rpe_ranges_are_kept(tmp_path):
    (one,) = log_of(tmp_path, [*HEAD, "2026-03-04,405,lb,1,8-9,sumo,made,"]).lifter.sets
    assert one.load_kg == pytest.approx(183.70, abs=0.005)
    assert (one.rir_low, one.rir_high) == (1.0, 2.0)


def test_a_start_height_is_metres_above_or_below_the_floor(tmp_path):
    head = ["# sex: m", "# stature: 180", "date,load,unit,reps,rpe,start,start-height"]
    rows = ["2026-03-04,180,kg,3,8,block,18", "2026-03-05,150,kg,3,8,deficit,5", "2026-03-06,170,kg,3,8,,"]
    sets = log_of(tmp_path, head + rows).lifter.sets
    assert [(s.tags.start, s.tags.start_offset_m) for s in sets] == [
        ("block", 0.18),
        ("deficit", -0.05),
        ("floor", 0.0),
    ]


def test_the_lifter_is_who_the_first_lines_describe(tmp_path):
    lines = ["# sex: f", "# stature: 170", "# mass: 70", "# age: 31", "# pain_noted: yes", "# next_meet: 2026-12-05"]
    found = log_of(tmp_path, [*lines, HEAD[-1], "2026-03-04,100,kg,3,8,sumo,made,"]).lifter
    assert (found.sex, found.age, found.measurements_m) == ("f", 31.0, {"stature": 1.7, "mass": 70.0})
    assert found.pain_noted and found.next_meet == date(2026, 12, 5) and found.trained_styles == ("sumo",)


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        (["# sex: m", "date,load", "2026-03-04,180"], "stature"),
        (["# sex: x", "# stature: 180", "date,load,reps", "2026-03-04,180,1"], "neither m nor f"),
        (["# sex: m", "# stature: tall", "date,load,reps", "2026-03-04,180,1"], "not a number"),
        (["# sex: m", "# stature: 180", "# as_of: soon", "date,load,reps", "2026-03-04,180,1"], "not a date"),
        (["# sex: m", "# stature: 180", "date,load,reps", "x,y,z"], "line 4"),
    ],
)
def test_a_file_that_cannot_be_used_says_why(tmp_path, lines, words):
    with pytest.raises(UnreadableLog, match=words):
        log_of(tmp_path, lines)
