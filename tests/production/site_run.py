"""A site played through event by event with simpy: an outside oracle for the formulas."""

import random
from dataclasses import dataclass
from itertools import groupby
from statistics import fmean, stdev

import simpy

BATCHES = 20
STUDENT_999 = 3.883  # two-sided 99.9 % of t with 19 degrees of freedom


@dataclass
class Tally:
    """What has happened so far: loads put down, carriers' minutes in line."""

    placed: int = 0
    waited: float = 0.0


def fixed(mean):
    return lambda: mean


def at_random(seed):
    chance = random.Random(seed)  # noqa: S311 - a seeded play, no secret
    return lambda mean: lambda: chance.expovariate(1.0 / mean)


def carrier(env, cycle, places, tally):
    """Go round: wait for a place of a station and hold it for all steps there that follow on."""
    while True:
        for station, stay in cycle:
            if station:
                came = env.now
                with places[station].request() as place:
                    yield place
                    tally.waited += env.now - came
                    yield env.timeout(sum(minutes() for minutes in stay))
            else:
                yield env.timeout(sum(minutes() for minutes in stay))
        tally.placed += 1


def other_customers(env, between, minutes, place):
    while True:
        yield env.timeout(between())
        env.process(served(env, minutes, place))


def served(env, minutes, place):
    with place.request() as turn:
        yield turn
        yield env.timeout(minutes())


def play(system, batch_minutes, spread=fixed, batches=BATCHES):
    """Return the tallies of equal batches of working minutes, after one that is thrown away."""
    env, tally = simpy.Environment(), Tally()
    places = {one.name: simpy.Resource(env, one.places) for one in system.stations}
    stays = groupby(system.cycle, key=lambda step: step.station)
    cycle = [
        (station, [spread(step.minutes_for(system.load)) for step in steps])
        for station, steps in stays
    ]
    for _ in range(system.carriers):
        env.process(carrier(env, cycle, places, tally))
    for one in system.stations:
        if one.taken_by_others:
            held = system.minutes_at(one.name)
            between = held / (one.places * one.taken_by_others)
            env.process(other_customers(env, spread(between), spread(held), places[one.name]))
    found = []
    for number in range(1, batches + 2):
        before = Tally(tally.placed, tally.waited)
        env.run(number * batch_minutes)
        found.append(Tally(tally.placed - before.placed, tally.waited - before.waited))
    return found[1:]


def interval(values):
    """Return the 99.9 % confidence interval of the mean of twenty batches."""
    assert len(values) == BATCHES
    half = STUDENT_999 * stdev(values) / BATCHES**0.5
    return fmean(values) - half, fmean(values) + half
