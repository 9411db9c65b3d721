"""Whatever is typed: never an error, never a value outside what people measure, never a value without its question."""

from hypothesis import given, settings
from hypothesis import strategies as st

from athletes.measuring.stale import UnreadableStance, parse_stance
from athletes.models.choices import MeasureKey
from athletes.schema.measurements import measurement
from athletes.units.lengths import read
from athletes.units.typed_lengths import cleaned, read_typed

KEYS = st.sampled_from(list(MeasureKey))
LIKELY = st.text(alphabet="0123456789.,'\"/ -ftincmkglbOlI½″’−\u200b\u00a0１", max_size=14)
TEXTS = st.one_of(LIKELY, st.text(max_size=40))
UNITS = {True: st.sampled_from(["kg", "lb"]), False: st.sampled_from(["cm", "in"])}


@given(key=KEYS, text=TEXTS, data=st.data())
@settings(max_examples=600, deadline=None)
def test_any_text_is_taken_asked_about_or_explained(key, text, data):
    unit = data.draw(UNITS[key == MeasureKey.MASS])
    reading = read(key, text, unit)
    if reading is None:
        assert not cleaned(text)
    elif reading.value is None:
        assert reading.message
        assert all(measurement(key).limits.is_possible(c.value) for c in reading.choices)
    else:
        assert measurement(key).limits.is_usual(reading.value)
        assert reading.typed == text


@given(key=KEYS, text=TEXTS, data=st.data())
@settings(max_examples=300, deadline=None)
def test_each_offered_choice_gives_the_value_it_names(key, text, data):
    unit = data.draw(UNITS[key == MeasureKey.MASS])
    reading = read(key, text, unit)
    for choice in reading.choices if reading else ():
        assert read(key, text, unit, choice.name).value == choice.value


@given(st.floats(min_value=136, max_value=214))
def test_one_length_typed_in_any_unit_is_one_length(cm):
    texts = [
        f"{cm:.4f} cm",
        f"{cm * 10:.3f}mm",
        f"{cm / 100:.6f} m",
        f"{cm / 2.54:.4f} in",
        f"{cm:.2f}".replace(".", ","),
    ]
    for text in texts:
        assert abs(read("stature", text, "cm").value - cm) < 0.011


@given(st.integers(4, 7), st.integers(0, 11))
def test_feet_and_inches_agree_with_inches(feet, inches):
    for text in (f"{feet}'{inches}\"", f"{feet} ft {inches} in", f"{feet}’{inches}", f"{feet}ft{inches}"):
        assert read_typed(cleaned(text)).number == feet * 12 + inches


@given(TEXTS)
def test_a_stance_is_read_or_explained(text):
    try:
        assert 10 <= parse_stance(text, "cm") <= 150
    except UnreadableStance as problem:
        assert "“" in str(problem)
