"""Every sentence about the cheapest method holds, priced anew where it claims something.

Each is priced at both ends, at its middle and at ten random printable values inside, by writing the
value into the scope and comparing as anybody does; nothing of the search itself is used.
"""

from itertools import pairwise

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from estimator.studies.comparison.break_even import cheapest_intervals
from estimator.studies.comparison.sentences import cheapest_sentences
from estimator.studies.comparison.varied import varied_named
from tests.api.figures import figure
from tests.scope.methods.choices import sample_choice, sample_with
from tests.studies.comparison.claims import claim_of
from tests.studies.comparison.jobs import KINDS, jobs

JOBS_OF_A_KIND = figure(10, 800)


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_no_sentence_is_contradicted_where_it_claims_something(kind):
    @settings(max_examples=JOBS_OF_A_KIND, suppress_health_check=list(HealthCheck))
    @given(st.data())
    def holds(data):
        job = data.draw(jobs(kind))
        comparison = kind.make(job)
        varied = varied_named(comparison, kind.name)
        low, high = _range(data.draw, varied, kind.usual)
        cheapest = cheapest_intervals(comparison, varied, low, high)
        names = [one.method.name for one in comparison.results]
        claims = [claim_of(s, varied, names) for s in cheapest_sentences(comparison, cheapest)]
        assert _is_whole(claims, cheapest.step, low, high)
        for claim in claims:
            for value in _inside(data.draw, claim, cheapest.step):
                priced = kind.make({**job, kind.key: kind.write(value)})
                prices = {one.method.name: one.in_all for one in priced.results}
                assert not claim.is_contradicted(prices), (claim.sentence, value, prices)

    holds()


def test_for_the_samples_pit_three_sentences_cover_the_range_and_hold():
    comparison = sample_choice("30.020")
    varied = varied_named(comparison, "depth")
    cheapest = cheapest_intervals(comparison, varied, *varied.usual_range)
    sentences = cheapest_sentences(comparison, cheapest)
    assert sentences == (
        "while depth is between 2.07 and 3.56 ft, throwing it in by conveyor truck is cheapest",
        "while depth is between 3.57 and 3.63 ft, lowering it in by telehandler is cheapest",
        "while depth is between 3.64 and 8.25 ft, throwing it in by conveyor truck is cheapest",
    )
    names = [one.method.name for one in comparison.results]
    claims = [claim_of(sentence, varied, names) for sentence in sentences]
    for n, depth in [(0, "2.07"), (0, "2.6"), (0, "3.56"), (1, "3.57"), (1, "3.63"), (2, "3.64"),
                     (2, "6.75"), (2, "8.25")]:  # fmt: skip
        priced = sample_with(
            "depth: [2 ft, 2 ft 6 in, 5 ft 6 in, 6 ft 6 in]", f"depth: {depth} ft", "30.020"
        )
        prices = {one.method.name: one.in_all for one in priced.results}
        assert not claims[n].is_contradicted(prices), depth


def _range(draw, varied, usual):
    """Return a range, narrow or wide, within what a job of this kind can have."""
    least, most = max(usual[0], varied.least), min(usual[1], varied.most)
    if varied.unit.is_count:
        return least, most
    width = (most - least) * draw(st.sampled_from([0.02, 0.2, 1.0]))
    low = least + (most - least - width) * draw(st.floats(0.0, 1.0))
    return low, low + width


def _is_whole(claims, step, low, high):
    """Whether the sentences cover every printable value of a range once, and no other."""
    inside = all(b.first - a.last == step for a, b in pairwise(claims))
    below, above = float(claims[0].first) - low, high - float(claims[-1].last)
    return inside and -1e-6 <= below < float(step) * 1.001 and -1e-6 <= above < float(step) * 1.001


def _inside(draw, claim, step):
    """Return both ends, the middle and ten random printable values."""
    last = int((claim.last - claim.first) / step)
    places = {0, last, last // 2, *(draw(st.integers(0, last)) for _ in range(10))}
    return [claim.first + place * step for place in sorted(places)]
