"""`manage.py weak_points`: from a file without a database, from the database, and wrong arguments named in one line."""

import json
from io import StringIO
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from analysis.store.text_log import COLUMNS, KNOWN, UnreadableLog, read_plain_log

SAMPLE = Path(__file__).resolve().parents[3] / "fixtures" / "weak_points_sample.csv"
HEAD = ["# sex: m", "# stature: 180", "# mass: 88", "date,load,unit,reps,rpe,style,result,position"]


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


def test_a_bad_line_is_named_and_the_others_count():
    rows = ["2026-03-04,180,kg,3,8,conventional,made,", "2026-02-30,180,kg,3,8,conventional,made,"]
    rows += [
        "2026-03-05,180,kg,3",
        "2026-03-06,abc,kg,1,8,conventional,made,",
        "2026-03-07,190,kg,0,,conventional,missed,shin",
    ]
    log = read_plain_log([*HEAD, *rows])
    assert len(log.lifter.sets) == 1
    assert [line.split(":")[0] for line in log.skipped] == ["line 6", "line 7", "line 8", "line 9"]
    assert "not a date" in log.skipped[0] and "'shin'" in log.skipped[3]


def test_pounds_are_converted_once_and_rpe_ranges_are_kept():
    (one,) = read_plain_log([*HEAD, "2026-03-04,405,lb,1,8-9,sumo,made,"]).lifter.sets
    assert one.load_kg == pytest.approx(183.70, abs=0.005)
    assert (one.rir_low, one.rir_high) == (1.0, 2.0)


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        ([], "header"),
        (["# sex: m", "date,load"], "stature"),
        (["# sex: x", "# stature: 180", "date,load", "2026-03-04,180"], "neither m nor f"),
        (["# sex: m", "# stature: 180", "day,load"], "date"),
        (["# sex: m", "# stature: 180", "date,load,wind"], "wind"),
        (["# sex: m", "# stature: 180", "date,load", "x,y"], "line 4"),
    ],
)
def test_a_file_that_cannot_be_used_says_why(lines, words):
    with pytest.raises(UnreadableLog, match=words):
        read_plain_log(lines)


def test_the_help_documents_every_column():
    assert all(name in COLUMNS for name in KNOWN if name != "pull_seconds")
