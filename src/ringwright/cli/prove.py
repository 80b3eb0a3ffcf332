# SPDX-License-Identifier: BSD-3-Clause
"""`ringwright prove`: what sweeps of the built ring say."""

from pathlib import Path

import click


@click.command(
    epilog="""\b
Examples:
  ringwright prove designs/first-ring.toml sweeps/40m.s1p sweeps/30m.s1p
  ringwright prove designs/first-ring.toml sweeps/40m.csv --frequency-unit MHz
  ringwright prove designs/first-ring.toml --swr "7.08 MHz 5.1; 7.09 MHz 2.6; 7.095 MHz 1.6; 7.1 MHz 1.3; 7.11 MHz 3"
  ringwright prove designs/first-ring.toml sweeps/*.s1p --json > proof.json
  ringwright prove designs/first-ring.toml sweeps/*.s1p --accept after-cure
  ringwright prove designs/first-ring.toml sweeps/40m.s1p --temperature "4 degC" --build "joint 5 remade"
"""
)
@click.argument("design", type=click.Path(path_type=Path))
@click.argument("sweeps", nargs=-1, type=click.Path(path_type=Path))
@click.option(
    "--swr",
    "readings",
    multiple=True,
    metavar="READINGS",
    help='SWR readings of one band: frequency with unit and SWR each, "7.05 MHz 1.8; 7.06 MHz 1.4"; repeatable.',
)
@click.option(
    "--column",
    "columns",
    multiple=True,
    metavar="WHAT=HEADING",
    help="In a table: the heading or number of a column, as in swr=3; frequency, resistance, reactance, real, "
    "imaginary, magnitude, phase, return_loss, swr; repeatable.",
)
@click.option(
    "--frequency-unit",
    type=click.Choice(["Hz", "kHz", "MHz", "GHz"]),
    help="In a table whose heading does not say it.",
)
@click.option(
    "--accept",
    metavar="NAME",
    help="Take these sweeps for the truth: write what they teach of capacitor, joints and earth as the calibration "
    "NAME, for predict --calibration NAME.",
)
@click.option(
    "--record/--no-record",
    default=None,
    help="Keep the sweeps in the workspace's record, or do not. Without either they are kept where there is a "
    "workspace.",
)
@click.option(
    "--workspace", type=click.Path(path_type=Path), help="Keep them in this one, wherever the design lies."
)
@click.option("--build", help='Name of the build, as in "joint 5 remade".')
@click.option("--temperature", metavar="QUANTITY", help='Outside, as in "4 degC".')
@click.option("--note", help="What else is to be remembered of these sweeps.")
@click.option(
    "--measured-at",
    metavar="MOMENT",
    help='As in "2026-05-01 18:30" in local time; when the files were last written if left out.',
)
@click.option("--json", "as_json", is_flag=True, help="One JSON document.")
@click.pass_context
def prove(
    context: click.Context,
    *,
    design: Path,
    sweeps: tuple[Path, ...],
    readings: tuple[str, ...],
    columns: tuple[str, ...],
    frequency_unit: str | None,
    accept: str | None,
    record: bool | None,
    workspace: Path | None,
    build: str | None,
    temperature: str | None,
    note: str | None,
    measured_at: str | None,
    as_json: bool,
) -> None:
    """Set sweeps of the built ring against its prediction.

    Says what Q, loss, efficiency and match the ring has, each with the interval that holds in 95 of 100 measurements;
    where watts are missing, where they most likely went and how sure that is; and what to measure or mend next.
    SWEEPS are Touchstone files (.s1p, .s2p, .ts) or tables (.csv, .tsv, .txt), one or more of each band. They are
    kept in the record where the design lies in a workspace; build, temperature, note and moment are kept with them.

    With --accept the exit code is 1 if the sweeps lie beyond the design's tolerances, so that nothing was accepted.
    """
    if not sweeps and not readings:
        raise click.UsageError("no sweep is named; give a sweep file, or readings with --swr", context)
    from ringwright.cli.prove_record import keeping
    from ringwright.cli.proving import show_proof

    kept = keeping(
        design,
        record=record,
        workspace=workspace,
        build=build,
        temperature=temperature,
        note=note,
        measured_at=measured_at,
    )
    is_done = show_proof(
        design,
        sweeps,
        readings=readings,
        columns=columns,
        frequency_unit=frequency_unit,
        accept=accept,
        keeping=kept,
        as_json=as_json,
    )
    if not is_done:
        context.exit(1)
