"""A pile outside with a limit: the pace, the hours of those who bring, what is said of it."""

import pytest

from estimator.errors import ScopeFaulty
from estimator.scheduling.dated_estimate import price
from estimator.scope.scope_digest import scope_digest
from estimator.studies.comparison.curves import cost_curves
from estimator.studies.comparison.method_notes import note_sentences
from estimator.studies.comparison.varied import varied_named
from tests.factories import SPRING
from tests.scope.methods.choices import BY_HAND, DIG, pit_choice, pit_scope, shipped

# 100.8 ton are placed at 14 ton/hr: 7.2 hr.
PILE = {"holds": "60 ton", "comes": "66 ton/hr"}


def piled(pile=PILE, **more):
    return DIG | {"production": DIG["production"] | {"pile": pile}} | more


HIRED = piled(PILE | {"hired": {"conveyor-truck": "2"}},
              assembly="stone-fill-conveyor-hired", crew="skid-steer-fill")  # fmt: skip


def ordered(method):
    return price(pit_scope(method, BY_HAND), shipped(), SPRING).lines.set_index("resource")


def test_a_pile_with_a_limit_keeps_the_pace_of_those_who_place():
    """60 / (66 - 14) is 1.15 hr; the last of it has room when 40.8 ton are placed, in 2.91 hr."""
    comparison = pit_choice(piled(), BY_HAND)
    assert comparison.results[0].hours == pytest.approx(7.2)
    assert note_sentences(comparison) == (
        "'wheeling it in' fills its pile of 60.00 tons in 1.15 hr; from then on no more can come "
        "than is placed, and the last of it comes after 2.91 hr instead of 1.53.",
    )


def test_hired_trucks_are_paid_until_the_last_of_it_has_room():
    """Two trucks of 2.914 hr each, in quarters of an hour: 2 x 3."""
    assert ordered(HIRED).loc["conveyor-truck", "ordered"] == 6.0


def test_with_room_for_all_they_are_paid_while_they_bring():
    """100.8 / 66 is 1.53 hr each: two-hour minimum."""
    pile = PILE | {"holds": "100 ton", "hired": {"conveyor-truck": "2"}}
    roomy = HIRED | {"production": DIG["production"] | {"pile": pile}}
    assert ordered(roomy).loc["conveyor-truck", "ordered"] == 4.0
    assert note_sentences(pit_choice(roomy, BY_HAND)) == ()


def test_what_comes_too_slowly_sets_the_pace():
    """100.8 ton at 7 ton/hr are 14.4 hr of operator and laborer."""
    slow = piled(PILE | {"comes": "7 ton/hr"})
    assert ordered(slow).loc[["equipment-operator", "laborer"], "ordered"].tolist() == [14.4, 14.4]
    comparison = pit_choice(slow, BY_HAND)
    assert comparison.results[0].bottlenecks == ("what comes to the pile",)
    (sentence,) = note_sentences(comparison)
    assert sentence == (
        "'wheeling it in' waits for what comes to its pile: 7 ton/hr, where 14.00 ton/hr could be "
        "placed."
    )


@pytest.mark.parametrize(
    ("name", "key", "texts"),
    [("pile", "holds", ("30 ton", "45 ton")), ("pile rate", "comes", ("9 ton/hr", "40 ton/hr"))],
)
def test_a_varied_pile_costs_what_a_scope_that_says_so_costs(name, key, texts):
    comparison = pit_choice(HIRED, BY_HAND)
    values = [float(one.split()[0]) for one in texts]
    import numpy as np

    curves = cost_curves(comparison, varied_named(comparison, name), np.array(values))
    for place, text in enumerate(texts):
        pile = HIRED["production"]["pile"] | {key: text}
        other = HIRED | {"production": DIG["production"] | {"pile": pile}}
        assert curves.cents[0][place] == 100 * pit_choice(other, BY_HAND).results[0].in_all


def test_the_estimate_says_it_and_the_explanation_shows_the_hours():
    estimate = price(pit_scope(HIRED, BY_HAND), shipped(), SPRING)
    assert estimate.warnings[0].startswith("30.010 fills its pile of 60.00 tons in 1.15 hr")
    lines = [f"30.010/{one.line}" for one in estimate.lines_of("30.010")]
    text = " ".join(step for line in lines for step in estimate.explain(line).steps)
    assert "no faster than 66 ton/hr come to its pile" in text
    assert "2 * max(quantity / pile_comes, (quantity - pile_holds) / production_rate)" in text


def test_a_pile_is_part_of_the_digest():
    assert scope_digest(pit_scope(piled(), BY_HAND)) != scope_digest(pit_scope(DIG, BY_HAND))


@pytest.mark.parametrize(
    ("changes", "fault"),
    [
        ({"holds": "12 cy"}, "cy"),
        ({"holds": "0 ton"}, "holds is zero: nothing can be placed"),
        ({"comes": "60 ton"}, "comes"),
        ({"hired": {"conveyor-truck": "carriers"}}, "say how many: conveyor-truck: 3"),
        ({"hired": {"dump-truck": "2"}}, "dump-truck"),
    ],
)
def test_each_fault_of_a_pile_is_reported(changes, fault):
    pile = PILE | {"hired": {"conveyor-truck": "2"}} | changes
    with pytest.raises(ScopeFaulty, match=fault):
        pit_scope(HIRED | {"production": DIG["production"] | {"pile": pile}}, BY_HAND)


def test_a_pile_that_is_no_set_of_keys_is_one_fault():
    with pytest.raises(ScopeFaulty) as refused:
        pit_scope(HIRED | {"production": DIG["production"] | {"pile": "much"}}, BY_HAND)
    assert [one.what for one in refused.value.faults] == ["pile is not a set of keys"]


def test_lifts_at_different_speeds_have_no_one_pace_from_a_pile():
    lifts = {"placing": "edge", "lifts": [{"name": "open", "share": "100 %"}]}
    with pytest.raises(ScopeFaulty, match="takes from its pile at no one pace"):
        pit_scope(piled() | {"production": DIG["production"] | lifts | {"pile": PILE}}, BY_HAND)
