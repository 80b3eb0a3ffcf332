# SPDX-License-Identifier: BSD-3-Clause
"""`ringwright air`: who heard it, and which of two antennas is better."""

from pathlib import Path

import click

_COLUMN = (
    "In a table: the heading or number of a column, as in snr=4; time, date, frequency, band, receiver, locator, "
    "latitude, longitude, snr, power, mode, antenna, direction, own_locator; or frequency_unit=kHz, power_unit=dBm; "
    "repeatable. In a workspace it is remembered for tables with the same headings."
)


@click.command(
    epilog="""\b
Examples:
  ringwright air log.adi --locator JJ00aa
  ringwright air reports.csv --compare ring dipole
  ringwright air reports.csv --compare ring dipole --slots plan.csv
  ringwright air list.tsv --column receiver=2 --column frequency_unit=kHz --map world.svg
  ringwright air --workspace shack --antenna ring --since 2026-05-01
  ringwright air reports.csv --turned "north=0" --turned "east=90" --locator JJ00aa
  ringwright air reports.csv log.adi --compare ring dipole --json > air.json"""
)
@click.argument("reports", nargs=-1, type=click.Path(path_type=Path))
@click.option(
    "--compare",
    "compared",
    nargs=2,
    metavar="A B",
    help="Two antennas as the reports name them: how much A is better than B, at equal power.",
)
@click.option(
    "--slots",
    type=click.Path(path_type=Path),
    help="The plan that was kept (see `slots`): reports without antenna get that of their slot, and it is checked.",
)
@click.option(
    "--design",
    "designs",
    multiple=True,
    type=click.Path(path_type=Path),
    help="With --compare, twice: the designs of A and B, whose promise is set beside what was found. Once: the design "
    "whose predicted pattern is drawn and set beside the null.",
)
@click.option(
    "--turned",
    multiple=True,
    metavar="ANTENNA=DEG",
    help="True bearing of the ring's plane while the reports named it so; repeatable. Finds the null.",
)
@click.option(
    "--antenna", help="Look at the reports of this one alone; a comparison and a null still use all of them."
)
@click.option(
    "--since",
    metavar="DATE",
    help="Set reports from this date on against those before it; in a workspace, against all that it has recorded.",
)
@click.option(
    "--locator",
    metavar="LOCATOR",
    help="One's own, 4 to 10 characters; without it that of the log, then that of the workspace's designs.",
)
@click.option("--column", "columns", multiple=True, metavar="WHAT=HEADING", help=_COLUMN)
@click.option(
    "--workspace",
    type=click.Path(path_type=Path),
    help="The workspace that the reports are recorded in, and whose locator and memory of columns are used. Without "
    "REPORTS: all that it has recorded.",
)
@click.option(
    "--map",
    "drawing",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Draw the reports on a map round one, as .svg or .png.",
)
@click.option("--json", "as_json", is_flag=True, help="One JSON document.")
@click.pass_context
def air(
    context: click.Context,
    *,
    reports: tuple[Path, ...],
    compared: tuple[str, str] | None,
    slots: Path | None,
    designs: tuple[Path, ...],
    turned: tuple[str, ...],
    antenna: str | None,
    since: str | None,
    locator: str | None,
    columns: tuple[str, ...],
    workspace: Path | None,
    drawing: Path | None,
    as_json: bool,
) -> None:
    """Tell what reports of others say: how far, how loud, and which of two antennas is better.

    REPORTS are logs in ADIF (.adi, .adx) or tables (.csv, .tsv, .txt). A table headed
    time,frequency_mhz,receiver,locator,snr_db,power_w,antenna needs no telling. Rows that cannot be used are listed
    with the reason; a report that stands twice counts once.
    """
    if not reports and workspace is None:
        raise click.UsageError(
            "no report is named; give a log or a table, or --workspace for what it has recorded", context
        )
    from ringwright.cli.airing import Question, show_air

    question = Question(
        compared=compared,
        slots=slots,
        designs=designs,
        turned=turned,
        antenna=antenna,
        since=since,
        locator=locator,
        drawing=drawing,
    )
    show_air(reports, question, columns=columns, workspace=workspace, as_json=as_json)
