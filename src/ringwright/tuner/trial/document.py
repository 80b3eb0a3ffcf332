# SPDX-License-Identifier: BSD-3-Clause
"""A trial as one JSON document, SI units in the key names."""

import statistics
from collections import Counter
from collections.abc import Callable, Iterable, Sequence

from ringwright.tuner.trial.faults import Fault
from ringwright.tuner.trial.outcome import Outcome
from ringwright.tuner.trial.plain import Method, PlainOutcome
from ringwright.tuner.trial.trial import Trial

SCHEMA = "ringwright.trial/1"


def trial_document(trial: Trial) -> dict[str, object]:
    """Figures of a trial; what cannot be had is null.

    `readings_median` counts the readings that a method based its search on, `readings_keyed_median` all that were taken
    while there was a carrier. Medians are over the searches that came to an end.
    """
    outcomes = trial.outcomes
    ended = [outcome for outcome in outcomes if outcome.truth is not None]
    return {
        "schema": SCHEMA,
        "twins": len(outcomes),
        "seed": trial.seed,
        "faults": _faults(outcomes) if trial.with_faults else None,
        "success_pct": _share(outcomes),
        "carrier_s_median": _median(outcome.carrier for outcome in ended),
        "carrier_s_90th": _tenth_longest(ended),
        "readings_median": _median(outcome.readings for outcome in ended),
        "readings_keyed_median": _median(outcome.readings_keyed for outcome in ended),
        "tuning_power_max_w": max((outcome.forward_max for outcome in ended), default=None),
        "swr_excess_median": _excess(outcomes),
        "reached_power_pct": _per_cent(outcomes, lambda outcome: outcome.reached_power),
        "unsafe_acts": sum(sum(outcome.unsafe.values()) for outcome in outcomes),
        "unsafe_acts_by_kind": dict(sorted(_by_kind(outcomes).items())),
        "baselines": {
            str(method): _plain([outcome for outcome in trial.plain if outcome.method is method])
            for method in Method
        },
    }


def times_real_time(trial: Trial) -> float:
    """Simulated seconds of the brain's runs over the processor's."""
    return sum(outcome.seconds for outcome in trial.outcomes) / max(trial.busy, 1e-9)


def _plain(outcomes: Sequence[PlainOutcome]) -> dict[str, object] | None:
    if not outcomes:
        return None
    return {
        "success_pct": _share(outcomes),
        "carrier_s_median": _median(outcome.carrier for outcome in outcomes),
        "readings_median": _median(outcome.readings for outcome in outcomes),
        "readings_keyed_median": _median(outcome.readings_keyed for outcome in outcomes),
        "swr_excess_median": _excess(outcomes),
    }


def _faults(outcomes: Sequence[Outcome]) -> dict[str, object]:
    found: dict[str, object] = {}
    for fault in Fault:
        met = [outcome for outcome in outcomes if outcome.fault is fault]
        found[str(fault)] = {
            "twins": len(met),
            "happened": sum(outcome.has_fault_happened for outcome in met),
            "tuned_pct": _share(met),
            "reached_power_pct": _per_cent(met, lambda outcome: outcome.reached_power),
            "unsafe_acts": sum(sum(outcome.unsafe.values()) for outcome in met),
        }
    return found


def _by_kind(outcomes: Iterable[Outcome]) -> Counter[str]:
    total: Counter[str] = Counter()
    for outcome in outcomes:
        total.update(outcome.unsafe)
    return total


def _share(outcomes: Sequence[Outcome] | Sequence[PlainOutcome]) -> float | None:
    if not outcomes:
        return None
    return round(100.0 * sum(outcome.is_success for outcome in outcomes) / len(outcomes), 2)


def _per_cent(outcomes: Sequence[Outcome], holds: Callable[[Outcome], bool]) -> float | None:
    return round(100.0 * sum(map(holds, outcomes)) / len(outcomes), 2) if outcomes else None


def _excess(outcomes: Sequence[Outcome] | Sequence[PlainOutcome]) -> float | None:
    excess = [outcome.truth.excess for outcome in outcomes if outcome.truth is not None]
    return round(statistics.median(excess), 4) if excess else None


def _median(values: Iterable[float]) -> float | None:
    known = list(values)
    return round(statistics.median(known), 3) if known else None


def _tenth_longest(ended: Sequence[Outcome]) -> float | None:
    """Carrier time that nine of ten searches do not exceed [s]."""
    if len(ended) < 2:
        return None
    return round(statistics.quantiles((outcome.carrier for outcome in ended), n=10)[-1], 3)
