# SPDX-License-Identifier: BSD-3-Clause
"""The API fuzzed from its own description: whatever is sent, the answer has a status and a body that are stated."""

import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings
from schemathesis import GenerationMode
from schemathesis.checks import not_a_server_error
from schemathesis.core.result import Ok
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from ringwright.desk.desk import Desk
from ringwright.web.app import create_app
from ringwright.web.gate import Admission
from tests.web.running import running_server

CHECKS = [not_a_server_error, status_code_conformance, content_type_conformance, response_schema_conformance]
PLAIN = [
    "GET /api/v1/health",
    "GET /api/v1/start",
    "GET /api/v1/figures",
    "GET /api/v1/designs",
    "GET /api/v1/site",
    "GET /api/v1/match",
    "GET /api/v1/proof",
    "GET /api/v1/sweeps",
    "GET /api/v1/stock",
    "GET /api/v1/brief",
    "GET /api/v1/build",
    "GET /api/v1/calibrations",
    "GET /api/v1/record",
    "GET /api/v1/record/archive",
    "GET /api/v1/record/table",
    "DELETE /api/v1/air/reports",
    "POST /api/v1/air/keep",
    "POST /api/v1/tune/stop",
]
WITH_VALUES = [
    "GET /api/v1/designs/{name}",
    "PUT /api/v1/designs/{name}",
    "POST /api/v1/predict",
    "POST /api/v1/calibrations",
    "GET /api/v1/record/designs/{sha256}",
    "GET /api/v1/record/trend",
    "POST /api/v1/record/compare",
    "POST /api/v1/record/notes",
    "POST /api/v1/record/sweeps",
    "POST /api/v1/air/look",
    "POST /api/v1/air/reports",
    "POST /api/v1/air/null",
    "POST /api/v1/air/promise",
    "POST /api/v1/air/map",
    "POST /api/v1/air/slots",
    "POST /api/v1/air/headings",
]
ELSEWHERE = ["GET /api/v1/tune/events", "POST /api/v1/record/archive"]
"""A stream without end and an archive: tests/web/test_live_tune.py and test_record_routes.py."""
PRINTED = ["POST /api/v1/build", "POST /api/v1/build/sheet"]
"""A right request is answered by drawings or pages, which takes its time: few of them."""
EXAMPLES = settings().max_examples // 2  # each is a request to a real server
RIGHT, WRONG = GenerationMode.POSITIVE, GenerationMode.NEGATIVE


@pytest.fixture(scope="module")
def fuzzed(tmp_path_factory):
    with running_server(Desk(tmp_path_factory.mktemp("fuzzed"))) as running:
        yield running


@pytest.fixture(scope="module")
def described(fuzzed):
    schema = schemathesis.openapi.from_dict(create_app(fuzzed.desk, Admission()).openapi())
    schema.config.update(base_url=fuzzed.address)
    return {
        result.ok().label: result.ok() for result in schema.get_all_operations() if isinstance(result, Ok)
    }


def test_every_address_of_the_api_is_described(described):
    assert set(described) == {*PLAIN, *WITH_VALUES, *PRINTED, *ELSEWHERE}


@pytest.mark.hypothesis
@pytest.mark.parametrize(
    ("label", "mode"),
    [
        *((label, RIGHT) for label in PLAIN),
        *((label, mode) for label in (*WITH_VALUES, *PRINTED) for mode in (RIGHT, WRONG)),
    ],
    ids=lambda value: getattr(value, "value", value),
)
def test_every_answer_is_one_that_is_stated(described, label, mode):
    @given(described[label].as_strategy(generation_mode=mode))
    @settings(max_examples=EXAMPLES if label in WITH_VALUES else 5, suppress_health_check=list(HealthCheck))
    def send(case):
        case.call_and_validate(checks=CHECKS)

    send()
