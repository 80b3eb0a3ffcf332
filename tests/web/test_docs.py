# SPDX-License-Identifier: BSD-3-Clause
"""What the documentation of the server says is so: its examples run, its limits are the program's."""

import re
from pathlib import Path

from ringwright.antenna.design_file import read
from ringwright.web.limits import BODY_TIME, LARGEST_ARCHIVE, LARGEST_BODY
from ringwright.web.live import MOST_SOCKETS
from ringwright.web.serve import LARGEST_MESSAGE, MOST_CONNECTIONS

API = (Path(__file__).parents[2] / "docs" / "reference" / "api.md").read_text(encoding="utf-8")


def test_the_examples_run_as_they_stand(shared, capsys):
    blocks = re.findall(r"```python\n(.*?)```", API, re.DOTALL)
    for block in blocks:
        exec(block.replace("localhost:8000", f"localhost:{shared.port}"), {})
    lines = capsys.readouterr().out.splitlines()
    assert [line.split()[0] for line in lines] == ["40m", "30m", "20m", "hello", "prediction"]


def test_every_address_of_the_api_is_listed(shared):
    with shared.client() as client:
        description = client.get("/api/v1/openapi.json").json()
    stated = {
        f"{method.upper()} {path.removeprefix('/api/v1')}"
        for path, methods in description["paths"].items()
        for method in methods
    }
    assert stated == set(re.findall(r"^\| `([A-Z]+ /[^`]*)` \|", API, re.MULTILINE))


def test_the_limits_are_the_programs():
    table = API[API.index("| Limit |") :]
    assert f"{LARGEST_BODY:,} bytes, {BODY_TIME:g} s to arrive" in table
    assert f"| an archive of a record | {LARGEST_ARCHIVE:,} bytes" in table
    assert f"{LARGEST_MESSAGE:,} bytes" in table
    assert f"{MOST_SOCKETS}, {MOST_CONNECTIONS}" in table
    assert f"{read._LARGEST:,} characters" in table
