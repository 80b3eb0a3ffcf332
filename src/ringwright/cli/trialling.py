# SPDX-License-Identifier: BSD-3-Clause
"""The trial as the terminal meets it: progress, Ctrl-C, a short table or one JSON document."""

import json
from collections.abc import Iterator, Mapping

import click

from ringwright.cli.progress import LongWait
from ringwright.cli.terminal import Terminal
from ringwright.tuner.trial.document import times_real_time, trial_document
from ringwright.tuner.trial.trial import run_trial

UNSAFE = 1
_COLUMNS = (
    ("success_pct", "within 0.1 of the best SWR [%]"),
    ("carrier_s_median", "carrier, median [s]"),
    ("readings_median", "readings used, median"),
    ("readings_keyed_median", "readings taken with carrier, median"),
    ("swr_excess_median", "SWR above the best, median"),
)


def show_trial(twins: int, *, seed: int, with_faults: bool, processes: int | None, as_json: bool) -> None:
    """Run a trial and print it; exit code 1 where anything unsafe was counted."""
    wait = LongWait()
    said = "nothing is done yet"

    def progress(done: int, unsafe: int) -> None:
        nonlocal said
        said = f"{done} of {twins} twins, {unsafe} unsafe acts"
        wait.tell(said)

    try:
        trial = run_trial(twins, seed=seed, with_faults=with_faults, processes=processes, progress=progress)
    except KeyboardInterrupt:
        click.echo(f"ringwright: stopped; {said}", err=True)
        raise click.Abort from None
    document = trial_document(trial)
    click.echo(f"ringwright: {times_real_time(trial):.0f} times real time on one processor", err=True)
    if as_json:
        click.echo(json.dumps(document, indent=2, allow_nan=False))
    else:
        terminal = Terminal.of_stdout()
        for line in _report(document):
            terminal.say(line)
    if document["unsafe_acts"]:
        click.get_current_context().exit(UNSAFE)


def _report(document: Mapping[str, object]) -> Iterator[str]:
    rows = [("tuner", document)]
    baselines = document["baselines"]
    assert isinstance(baselines, Mapping)
    rows += [(str(name).replace("_", " "), row) for name, row in baselines.items() if row is not None]
    yield f"{document['twins']} simulated antennas, seed {document['seed']}"
    yield ""
    yield " " * 36 + "".join(f"{name:>16}" for name, _ in rows)
    for key, label in _COLUMNS:
        yield f"{label:<36}" + "".join(f"{_shown(row[key]):>16}" for _, row in rows)
    yield ""
    yield f"most power in a search: {_shown(document['tuning_power_max_w'])} W"
    yield f"taken to full power: {_shown(document['reached_power_pct'])} %"
    faults = document["faults"]
    if isinstance(faults, Mapping):
        for name, row in faults.items():
            yield (
                f"{name}: {row['twins']} twins, {_shown(row['tuned_pct'])} % tuned all the same, "
                f"{row['unsafe_acts']} unsafe acts"
            )
    yield f"unsafe acts: {document['unsafe_acts']}"
    kinds = document["unsafe_acts_by_kind"]
    assert isinstance(kinds, Mapping)
    for kind, count in kinds.items():
        yield f"  {kind}: {count}"


def _shown(value: object) -> str:
    return "unknown" if value is None else str(value)
