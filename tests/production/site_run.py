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
    return play_together([system], batch_minutes, spread, batches)[0]


def play_together(systems, batch_minutes, spread=fixed, batches=BATCHES):
    """Return the tallies of each of several kinds of carrier that meet at the same stations."""
    env, tallies = simpy.Environment(), [Tally() for _ in systems]
    stations = {one.name: one for system in systems for one in system.stations}
    places = {name: simpy.Resource(env, one.places) for name, one in stations.items()}
    for system, tally in zip(systems, tallies, strict=True):
        stays = groupby(system.cycle, key=lambda step: step.station)
        cycle = [
            (station, [spread(step.minutes_for(system.load)) for step in steps])
            for station, steps in stays
        ]
        for _ in range(system.carriers):
            env.process(carrier(env, cycle, places, tally))
    for name, one in stations.items():
        if one.taken_by_others:
            held = systems[0].minutes_at(name)
            between = held / (one.places * one.taken_by_others)
            env.process(other_customers(env, spread(between), spread(held), places[name]))
    found = [[] for _ in systems]
    for number in range(1, batches + 2):
        before = [Tally(one.placed, one.waited) for one in tallies]
        env.run(number * batch_minutes)
        for batch, tally, was in zip(found, tallies, before, strict=True):
            batch.append(Tally(tally.placed - was.placed, tally.waited - was.waited))
    return [batch[1:] for batch in found]


def interval(values):
    """Return the 99.9 % confidence interval of the mean of twenty batches."""
    assert len(values) == BATCHES
    half = STUDENT_999 * stdev(values) / BATCHES**0.5
    return fmean(values) - half, fmean(values) + half
