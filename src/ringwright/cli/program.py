# SPDX-License-Identifier: BSD-3-Clause
"""The program with its verbs, and the one place where an error becomes a sentence and an exit code."""

import errno
import os
import sys
from collections.abc import Sequence

import click

from ringwright.cli.air import air
from ringwright.cli.demo import demo
from ringwright.cli.directions import directions
from ringwright.cli.fields import fields
from ringwright.cli.keepout import keepout
from ringwright.cli.match import match
from ringwright.cli.new import new
from ringwright.cli.predict import predict
from ringwright.cli.prove import prove
from ringwright.cli.record import record
from ringwright.cli.search import search
from ringwright.cli.serve import serve
from ringwright.cli.sheet import sheet
from ringwright.cli.slots import slots
from ringwright.cli.tune import tune
from ringwright.errors import LinkError, RingwrightError, StorageError

DONE, BAD_INPUT, DEVICE_FAILS = 0, 2, 3  # 1, the answer "no", is given by the verbs
INTERRUPTED, READER_GONE = 130, 141  # as shells count: 128 + SIGINT, 128 + SIGPIPE

_DISK = (errno.ENOSPC, errno.EDQUOT, errno.EIO)


@click.group(
    context_settings={"help_option_names": ["-h", "--help"]},
    invoke_without_command=True,
    epilog="""\b
Examples:
  ringwright demo --no-serve
  ringwright new terrace
  ringwright predict terrace/designs/first-ring.toml

Exit codes: 0 done; 1 the answer is "no"; 2 bad input; 3 a device, link or disk fails;
130 interrupted; 141 the reader of the output went away.

A small transmitting loop has kilovolts across its capacitor at a few watts and strong fields close by: never touch or
adjust it while transmitting. Limits and codes differ by country; your licence and your local codes decide.""",
)
@click.version_option(package_name="ringwright", message="%(prog)s %(version)s")
@click.pass_context
def program(context: click.Context) -> None:
    """Small transmitting loops, from first thought to proof."""
    if context.invoked_subcommand is None:
        click.echo(context.get_help())


for verb in (
    demo,
    new,
    predict,
    search,
    match,
    directions,
    fields,
    keepout,
    sheet,
    prove,
    tune,
    air,
    slots,
    record,
    serve,
):
    program.add_command(verb)


def main() -> None:
    """The program as the shell starts it."""
    if sys.stdout is None:  # closed by the shell, as in >&-
        sys.exit(_fail("standard output is closed, so that no answer can be given; leave it open", BAD_INPUT))
    sys.exit(run(sys.argv[1:]))


def run(arguments: Sequence[str]) -> int:
    """Run the program; return its exit code. Only what is raised on purpose is caught: a fault of ours is shown."""
    try:
        code = program.main(arguments, prog_name="ringwright", standalone_mode=False)
        sys.stdout.flush()
    except click.Abort:
        return INTERRUPTED
    except click.ClickException as exc:
        return _fail(_usage(exc), BAD_INPUT)
    except RingwrightError as exc:
        return _fail(str(exc), DEVICE_FAILS if isinstance(exc, StorageError | LinkError) else BAD_INPUT)
    except (BrokenPipeError, SystemExit):  # SystemExit is how click answers to a broken pipe
        _let_go_of_stdout()
        return READER_GONE
    except OSError as exc:
        if exc.errno not in _DISK:
            raise
        _let_go_of_stdout()
        return _fail(f"writing failed ({exc.strerror}); make room and try again", DEVICE_FAILS)
    return code if isinstance(code, int) else DONE


def _fail(sentence: str, code: int) -> int:
    line = "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in sentence)
    click.echo(f"ringwright: {line}", err=True)
    return code


def _usage(error: click.ClickException) -> str:
    context = getattr(error, "ctx", None)
    where = f" ({context.command_path} --help says more)" if context is not None else ""
    return f"{error.format_message().rstrip('.')}{where}"


def _let_go_of_stdout() -> None:
    """Else the interpreter would try to write what is left, and complain, at its end."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
