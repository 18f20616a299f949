import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import TypeAdapter, ValidationError

from scheduler.shop.fields import Flag, Hours, Id, Minutes, Name, Positive, Words, iso_duration_min

PARTS = st.fixed_dictionaries({}, optional={unit: st.integers(0, 500) for unit in ("W", "D", "H", "M", "S")}).filter(bool)
MINUTES_PER = {"W": 7 * 24 * 60, "D": 24 * 60, "H": 60, "M": 1, "S": 1 / 60}


def iso_text(parts: dict[str, int]) -> str:
    """Write a duration as ISO 8601 does."""
    days = "".join(f"{parts[u]}{u}" for u in ("W", "D") if u in parts)
    clock = "".join(f"{parts[u]}{u}" for u in ("H", "M", "S") if u in parts)
    return f"P{days}{'T' + clock if clock else ''}"


@settings(max_examples=60, deadline=None)
@given(PARTS)
def test_a_duration_is_the_sum_of_its_parts(parts: dict[str, int]) -> None:
    """Weeks to seconds of ISO 8601 add up; the same text gives 1/60 of it in an hours column."""
    minutes = sum(MINUTES_PER[unit] * count for unit, count in parts.items())
    text = iso_text(parts)
    assert iso_duration_min(text) == pytest.approx(minutes)
    assert iso_duration_min(text.lower()) == pytest.approx(minutes)
    if minutes <= 1e5 * 60:
        assert TypeAdapter(Hours).validate_python(text) == pytest.approx(minutes / 60)


@settings(max_examples=60, deadline=None)
@given(st.text(alphabet="PTYWDHMS0123456789.,-+ ", max_size=12))
def test_what_is_accepted_as_a_duration_is_one(text: str) -> None:
    """A text is read as a duration only if it has a P, a number and a unit, and no sign, year or month."""
    try:
        minutes = iso_duration_min(text)
    except ValueError:
        return
    assert minutes >= 0
    date_part = text.strip().partition("T")[0]
    assert text.strip().startswith("P")
    assert "M" not in date_part
    assert not set("Y-+") & set(text)


@pytest.mark.parametrize("text", ["P1Y", "P2M", "P", "PT", "P1DT", "-PT1H", "PT1H30", "1H", "PT1M1H", "P1H"])
def test_years_months_and_half_written_durations_are_refused(text: str) -> None:
    """Years and months have no fixed length; a designator without a number means nothing."""
    with pytest.raises(ValueError, match="write it as"):
        iso_duration_min(text)


@pytest.mark.parametrize(("text", "minutes"), [("PT1.5H", 90), ("PT1,5H", 90), ("90", 90), (" PT90M ", 90), ("P1W", 10080)])
def test_minutes_take_numbers_and_durations(text: str, minutes: float) -> None:
    """A column in minutes reads a plain number as minutes and a duration with a point or a comma by its own units."""
    assert TypeAdapter(Minutes).validate_python(text) == pytest.approx(minutes)


@pytest.mark.parametrize("text", ["nan", "inf", "-inf", "1e309", "-1", "0", "1e12", "abc", "1,5", ""])
def test_a_positive_number_is_finite_and_above_zero(text: str) -> None:
    """Neither infinities nor nan nor what overflows to them come in, nor numbers so large that arithmetic would suffer."""
    with pytest.raises(ValidationError):
        TypeAdapter(Positive).validate_python(text)


@pytest.mark.parametrize(
    "text", ["=1+1", "+49", "-x", "@sum", "\tx", " =1", "two\nlines", "a\x00b", "esc\x1b[2J", "\u202eabc", ""]
)
def test_names_that_a_spreadsheet_would_run_or_a_screen_would_obey_are_refused(text: str) -> None:
    """Formulas, control characters and characters that turn the writing direction never get past the border."""
    with pytest.raises(ValidationError):
        TypeAdapter(Name).validate_python(text)


@pytest.mark.parametrize("text", ["Straßenbau Süd", "O'Neill & Sons", "道路課", "Depot 3 (north)"])
def test_names_of_any_language_are_accepted(text: str) -> None:
    """A name is not an id: letters of every script, quotes and brackets are fine."""
    assert TypeAdapter(Name).validate_python(text) == text


@pytest.mark.parametrize("text", ["", "-a", "_a", "a b", "a/b", "ä1", "../x", "a" * 65, "U1\n"])
def test_ids_are_plain(text: str) -> None:
    """An id is usable in a file name, an address and an anchor."""
    with pytest.raises(ValidationError):
        TypeAdapter(Id).validate_python(text)


def test_words_are_split_at_spaces_and_commas_and_checked() -> None:
    """A list of words may be typed either way, and no word of it is a formula."""
    assert TypeAdapter(Words).validate_python("mon, tue  wed") == ("mon", "tue", "wed")
    with pytest.raises(ValidationError):
        TypeAdapter(Words).validate_python("mon =cmd()")


@pytest.mark.parametrize(("text", "value"), [("yes", True), ("No", False), ("TRUE", True), ("0", False), (" yes ", True)])
def test_flags_are_words_of_people(text: str, value: bool) -> None:
    """Yes and no, true and false, one and nought."""
    assert TypeAdapter(Flag).validate_python(text) is value
