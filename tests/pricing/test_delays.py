"""Delays of a crew reach hours, days, price and words, of an item and of a method alike."""

import pytest

from estimator.errors import ScopeFaulty
from estimator.scheduling.dated_estimate import price
from estimator.studies.comparison.method_notes import note_sentences
from tests.factories import SPRING, item, scope_of
from tests.scope.methods.choices import BY_HAND, DIG, PIT, pit_choice, pit_scope, shipped

# 1,000 sf of floor at 100 sf an hour take ten hours; at fifty minutes an hour, twelve; a first day
# at half pace adds half a day, four hours.
RATE = {"production_rate": "100 sf/hr"}
SLOW = {"working_minutes": "50 min", "first_days": ["50 %"]}


def floor(**keys):
    wrecked = item("010", "plank-floor-wreck", area="1,000 sf")
    wrecked["inputs"] |= RATE
    return price(scope_of(shipped(), {"20": [wrecked | keys]}), shipped(), SPRING)


def test_delays_lengthen_hours_days_and_pay():
    plain, slow = floor(), floor(delays=SLOW)
    assert plain.priced.crew_hours[0] == 10.0
    assert slow.priced.crew_hours[0] == pytest.approx(16.0)
    assert slow.priced.days[0] == pytest.approx(2.0)
    hours = [one.explain("20.010/1").steps[-2] for one in (plain, slow)]
    assert [text.partition(" x ")[0] for text in hours] == ["5.00 hr", "8.00 hr"]


def test_an_explanation_and_the_estimate_say_the_delays():
    slow = floor(delays=SLOW)
    said = "50 minutes of each hour are worked (x 1.2); the first day brings 50 % of a steady day"
    assert f"crew_hours = 16 hr: {said}" in slow.explain("20.010/1").steps
    assert "hours at the rate = quantity / production_rate = 1,000 sf / 100 sf/hr = 10 hr" in (
        slow.explain("20.010/1").steps
    )
    assert f"the production rate of 20.010 is adjusted: {said}" in slow.warnings


def test_items_of_one_assembly_are_delayed_each_by_itself():
    plain = item("010", "plank-floor-wreck", area="1,000 sf")
    slow = item("020", "plank-floor-wreck", area="1,000 sf") | {"delays": SLOW}
    for one in (plain, slow):
        one["inputs"] |= RATE
    priced = price(scope_of(shipped(), {"20": [plain, slow]}), shipped(), SPRING).priced
    assert priced.crew_hours.tolist() == pytest.approx([10.0, 16.0])


def test_a_method_has_its_own_delays_and_says_so():
    by_hand = BY_HAND | {"delays": {"conditions": {"heat": "50 %", "site": "50 %"}}}
    plain, slow = (pit_choice(DIG, one) for one in (BY_HAND, by_hand))
    hours = [one.results[1].hours for one in (plain, slow)]
    assert hours[1] == pytest.approx(1.34 * hours[0])
    assert note_sentences(plain) == ()
    assert note_sentences(slow) == (
        "The production rate of 'carrying it in' is adjusted: conditions average 50 % (heat 50 %, "
        "site 50 %) where 67 % is usual (x 1.34).",
    )


@pytest.mark.parametrize(
    ("delays", "fault"),
    [
        ({}, "delays says nothing"),
        ("slow", "delays is not a set of keys"),
        ({"working_minutes": "70 min"}, "are more than 60"),
        ({"working_minutes": "50"}, "has no unit"),
        ({"first_days": ["120 %"]}, "first_days 1 '120 %' is not above 0 and up to 100 %"),
        ({"first_days": []}, "is not a list, or is empty"),
        ({"first_days": ["50 %"] * 31}, "more than 30 days"),
        ({"conditions": {"site": "0 %"}}, "site '0 %' is not above 0"),
        ({"conditions": ["50 %"]}, "conditions is not a set of keys"),
        ({"minutes": "50 min"}, "unknown key 'minutes' in delays"),
    ],
)
def test_delays_that_cannot_be_are_refused_at_their_place(delays, fault):
    with pytest.raises(ScopeFaulty, match=fault):
        floor(delays=delays)


def test_what_has_no_production_rate_is_not_delayed():
    survey = item("010", "hazard-survey", asbestos_samples="3 test", lead_samples="0 test") | {
        "delays": SLOW
    }
    with pytest.raises(ScopeFaulty, match="it is bought work"):
        scope_of(shipped(), {"20": [survey]})
    with pytest.raises(ScopeFaulty, match="a working system has its own efficiency and steps"):
        pit_scope(DIG | {"delays": SLOW}, BY_HAND)
    fill = item("010", "stone-fill-skid-steer", **PIT) | {"methods": [DIG, BY_HAND], "delays": SLOW}
    with pytest.raises(ScopeFaulty, match="its methods have their own"):
        scope_of(shipped(), {"20": [fill]})
