# SPDX-License-Identifier: BSD-3-Clause
"""`ringwright serve` hands over what was typed, and starts nothing from half a certificate."""

from pathlib import Path
from types import SimpleNamespace

import pytest
from click.testing import CliRunner

from ringwright.cli import serve as verb
from ringwright.cli.program import program
from ringwright.web.serve import Certificate


@pytest.fixture
def called(monkeypatch):
    calls = []

    def serve(folder, **options):
        calls.append((folder, options))

    monkeypatch.setattr(verb, "pages", lambda: SimpleNamespace(serve=serve, Certificate=Certificate))
    return calls


def test_without_options_it_serves_this_folder_to_this_machine_alone(called):
    assert CliRunner().invoke(program, ["serve"]).exit_code == 0
    assert called == [
        (
            Path(),
            {"host": "127.0.0.1", "port": 0, "certificate": None, "opens_browser": True, "access": None},
        ),
    ]


def test_everything_typed_is_handed_over(called):
    words = "terrace --port 8000 --host 0.0.0.0 --tls-cert c.pem --tls-key k.pem --no-browser"
    assert CliRunner().invoke(program, f"serve {words}").exit_code == 0
    certificate = Certificate(cert=Path("c.pem"), key=Path("k.pem"))
    assert called == [
        (
            Path("terrace"),
            {
                "host": "0.0.0.0",
                "port": 8000,
                "certificate": certificate,
                "opens_browser": False,
                "access": None,
            },
        ),
    ]


@pytest.mark.parametrize("half", ["--tls-cert", "--tls-key"])
def test_half_a_certificate_is_refused(called, half):
    result = CliRunner().invoke(program, ["serve", half, "x.pem"])
    assert result.exit_code == 2
    assert "belong together" in result.output
    assert called == []
