# SPDX-License-Identifier: BSD-3-Clause
"""`ringwright serve`: the program's pages, for a browser on this machine or a phone beside it."""

from importlib import import_module
from pathlib import Path
from types import ModuleType

import click

from ringwright.cli.tune_link import link_options

port_option = click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=0,
    show_default=True,
    help="Port; 0 takes any that is free.",
)


def pages() -> ModuleType:
    """The other face, loaded only when asked for."""
    return import_module("ringwright.web.serve")


@click.command(
    epilog="""\b
Examples:
  ringwright serve
  ringwright serve terrace --port 8000
  ringwright serve terrace --host 0.0.0.0
  ringwright serve terrace --link serial:/dev/ttyACM0
"""
)
@click.argument("folder", default=".", type=click.Path(path_type=Path))
@port_option
@click.option(
    "--host",
    default="127.0.0.1",
    show_default=True,
    help="Address to listen at; 0.0.0.0 lets in other devices that have the token, as a phone by the QR code.",
)
@click.option("--tls-cert", type=click.Path(path_type=Path), help="Certificate, for https; with --tls-key.")
@click.option("--tls-key", type=click.Path(path_type=Path), help="The certificate's key.")
@click.option("--no-browser", is_flag=True, help="Open no browser.")
@link_options
def serve(
    folder: Path,
    *,
    port: int,
    host: str,
    tls_cert: Path | None,
    tls_key: Path | None,
    no_browser: bool,
    link: str | None,
    link_password: Path | None,
) -> None:
    """Open the live pages on a workspace.

    FOLDER is a workspace, this folder if left out; an empty one opens a ring to play with, no file needed. Prints its
    address when ready, and ends with Ctrl-C.
    """
    if (tls_cert is None) != (tls_key is None):
        raise click.UsageError("--tls-cert and --tls-key belong together; give both")
    server = pages()
    certificate = None if tls_cert is None else server.Certificate(cert=tls_cert, key=tls_key)
    access = None
    if link is not None:
        from ringwright.cli.linking import real_access

        access = real_access(link, link_password)
    server.serve(
        folder, host=host, port=port, certificate=certificate, opens_browser=not no_browser, access=access
    )
