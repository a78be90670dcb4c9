"""Whether a machine passes an opening."""

from fractions import Fraction
from pathlib import Path

import pytest

from estimator.errors import ScopeFaulty
from estimator.rates.public.machine_sizes import machine_sizes
from estimator.scope.input_value import InputValue
from estimator.scope.methods.passage import Size, obstacle
from estimator.scope.scope_digest import scope_digest
from tests.factories import scope_of
from tests.scope.methods.choices import BY_HAND, DIG, PIT, pit_scope, shipped

DOOR = {"name": "wagon door", "width": "8 ft", "height": "9 ft"}
STEER = {"name": "skid steer", "width": "5 ft 6 in", "height": "6 ft 8 in"}


def size(name, width, height):
    sides = (InputValue(Fraction(side), f"{side} ft") for side in (width, height))
    return Size(name, *sides)


def test_a_machine_passes_what_is_both_wider_and_higher():
    door = size("wagon door", 8, 9)
    assert obstacle(size("skid steer", 6, 7), door) == ""
    assert obstacle(size("loader", 9, 7), door) == (
        "the loader, 9 ft wide and 7 ft high, does not pass the wagon door, 8 ft wide and 9 ft high"
    )
    assert obstacle(size("truck", 7, 11), door).startswith("the truck, 7 ft wide and 11 ft high")


def test_a_machine_that_just_fills_the_opening_does_not_pass():
    assert obstacle(size("loader", 8, 7), size("wagon door", 8, 9))
    assert obstacle(size("loader", 7, 9), size("wagon door", 8, 9))


def test_nothing_is_in_the_way_where_nothing_is_said():
    assert obstacle(None, size("wagon door", 8, 9)) == ""
    assert obstacle(size("loader", 8, 7), None) == ""


def test_the_methods_of_an_item_go_through_its_opening_unless_they_say_otherwise():
    around = {**BY_HAND, "through_opening": "no"}
    through, other = pit_scope({**DIG, "machine": STEER}, around, opening=DOOR).items[0].methods
    assert through.opening is not None
    assert through.opening.words == "wagon door, 8 ft wide and 9 ft high"
    assert through.machine is not None
    assert through.machine.width.base_value == 5.5
    assert other.opening is None


def test_a_machine_named_by_its_class_has_the_largest_size_of_the_class():
    methods = pit_scope({**DIG, "machine": "skid steer"}, BY_HAND, opening=DOOR).items[0].methods
    assert (
        methods[0].machine
        == pit_scope({**DIG, "machine": {**STEER, "width": "5 ft 9 in"}}, BY_HAND, opening=DOOR)
        .items[0]
        .methods[0]
        .machine
    )
    (lifted, _) = (
        pit_scope({**DIG, "machine": "telehandler"}, BY_HAND, opening=DOOR).items[0].methods
    )
    assert lifted.obstacle.startswith(
        "the telehandler, 8 ft 6 in wide and 8 ft 6 in high, does not"
    )


def test_the_page_lists_every_class_with_its_size():
    page = (Path(__file__).parents[3] / "docs" / "choosing-a-method.md").read_text("utf-8")
    for name, (width, height) in machine_sizes().items():
        assert f"| {name} | {width} | {height} |" in page


def test_sizes_are_in_the_digest_of_a_scope():
    plain = pit_scope(DIG, BY_HAND)
    digests = {scope_digest(one) for one in (
        plain,
        pit_scope(DIG, BY_HAND, opening=DOOR),
        pit_scope(DIG, BY_HAND, opening={**DOOR, "width": "7 ft"}),
        pit_scope({**DIG, "machine": STEER}, BY_HAND, opening=DOOR),
        pit_scope({**DIG, "through_opening": "no"}, BY_HAND, opening=DOOR),
    )}  # fmt: skip
    assert len(digests) == 5


@pytest.mark.parametrize(
    ("opening", "message"),
    [
        ({**DOOR, "width": "0 ft"}, "opening width is zero: nothing passes"),
        ({**DOOR, "height": "0 in"}, "opening height is zero: nothing passes"),
        ({**DOOR, "width": "-3 ft"}, "width"),
        ({**DOOR, "width": "8 ton"}, "'8 ton' is a weight"),
        ({**DOOR, "width": "8"}, "has no unit"),
        ({**DOOR, "width": "900 ft"}, "opening width is more than 200 ft"),
        ({**DOOR, "name": ""}, "name is missing"),
        ({"name": "wagon door", "width": "8 ft"}, "height is missing"),
        ({**DOOR, "depth": "1 ft"}, "unknown key 'depth' in opening"),
        ("8 ft", "opening is not a set of keys"),
    ],
    ids=str,
)
def test_each_fault_of_an_opening_is_reported(opening, message):
    with pytest.raises(ScopeFaulty) as refusal:
        pit_scope(DIG, BY_HAND, opening=opening)
    assert any(message in str(one) for one in refusal.value.faults), refusal.value.faults


@pytest.mark.parametrize(
    ("method", "opening", "message"),
    [
        ({"machine": {**STEER, "width": "0 ft"}}, DOOR, "machine width is zero"),
        ({"machine": ["skid steer"]}, DOOR, "machine is not a set of keys"),
        ({"machine": "skid ster"}, DOOR, "is not a known class; did you mean 'skid steer'?"),
        ({"through_opening": "never"}, DOOR, "unknown through_opening 'never'"),
        ({"through_opening": "no"}, None, "item 30.010 has no opening to go through"),
    ],
    ids=str,
)
def test_each_fault_of_a_passage_is_reported(method, opening, message):
    with pytest.raises(ScopeFaulty) as refusal:
        pit_scope({**DIG, **method}, BY_HAND, opening=opening)
    assert [message in str(one) for one in refusal.value.faults] == [True]


def test_an_opening_without_methods_is_reported():
    one = {
        "code": "010", "name": "Stone", "assembly": "stone-fill-barrows", "inputs": PIT,
        "opening": DOOR,
    }  # fmt: skip
    with pytest.raises(ScopeFaulty, match="has an opening, and no methods that would pass it"):
        scope_of(shipped(), {"30": [one]})
