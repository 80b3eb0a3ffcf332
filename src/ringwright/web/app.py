# SPDX-License-Identifier: BSD-3-Clause
"""The web application of one desk: API, live socket and pages behind the gate."""

import asyncio
import secrets
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, suppress
from importlib.metadata import version

from fastapi import FastAPI, Request, Response
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException
from starlette.responses import JSONResponse

from ringwright.desk.desk import Desk
from ringwright.errors import RingwrightError
from ringwright.web.air_routes import AirApi
from ringwright.web.build_routes import BuildApi
from ringwright.web.calibration_routes import CalibrationApi
from ringwright.web.encode import own_fault, problem_of
from ringwright.web.gate import Admission, Gate
from ringwright.web.limits import BodyLimit, SecurityHeaders
from ringwright.web.live import LiveBench
from ringwright.web.live_tune import TunerDoor
from ringwright.web.messages.base import Problem
from ringwright.web.messages.designs import Health
from ringwright.web.messages.live import Hello
from ringwright.web.pages import built_client, page_response
from ringwright.web.record_routes import RecordApi
from ringwright.web.routes import Api

API_VERSION = 1
_STATUS = {"missing": 404, "stale": 412, "storage": 507}


def create_app(desk: Desk, admission: Admission) -> FastAPI:
    """Everything a server needs, for one desk; no port is opened here."""
    identity = {
        "api": API_VERSION,
        "version": version("ringwright"),
        "instance": secrets.token_hex(8),
        "workspace": desk.name,
    }
    bench = LiveBench(desk, Hello.model_validate(identity | {"type": "hello"}))

    tuner = TunerDoor(desk)

    @asynccontextmanager
    async def watching(_: FastAPI) -> AsyncIterator[None]:
        has_begun = asyncio.Event()
        watch = asyncio.create_task(bench.watch_files(has_begun))
        await has_begun.wait()  # what changes once somebody is served is a change
        yield
        watch.cancel()
        with suppress(asyncio.CancelledError):
            await watch
        await asyncio.to_thread(desk.drive.end)  # a drive never outlives its server

    app = FastAPI(
        title="Ringwright",
        version=str(API_VERSION),
        description="Small transmitting loops: designs, predictions and the live bench. See docs/reference/api.md.",
        openapi_url="/api/v1/openapi.json",
        docs_url=None,  # the ready-made pages load their scripts from another machine
        redoc_url=None,
        lifespan=watching,
    )
    app.include_router(Api(desk, Health.model_validate(identity | {"status": "ok"})).router())
    app.include_router(RecordApi(desk).router())
    app.include_router(CalibrationApi(desk).router())
    app.include_router(BuildApi(desk).router())
    app.include_router(tuner.router())
    app.include_router(AirApi(desk).router())
    app.add_api_websocket_route("/api/v1/live", bench.serve)
    app.add_api_websocket_route("/api/v1/tune", tuner.serve)
    _add_pages(app)
    _add_problem_answers(app)
    # The last one added stands outermost.
    app.add_middleware(BodyLimit)
    app.add_middleware(Gate, admission=admission)
    app.add_middleware(SecurityHeaders)
    return app


def _add_pages(app: FastAPI) -> None:
    assets = built_client()

    @app.get("/{path:path}", include_in_schema=False)
    async def get_page(path: str, request: Request) -> Response:
        if path.startswith("api/"):
            raise HTTPException(404, "There is no such address.")
        return page_response(assets, path, request)


def _add_problem_answers(app: FastAPI) -> None:
    """Every refusal has the same form."""

    @app.exception_handler(RingwrightError)
    async def on_own_error(_: Request, error: RingwrightError) -> JSONResponse:
        problem = problem_of(error)
        return JSONResponse(problem.model_dump(), status_code=_STATUS.get(problem.code, 422))

    @app.exception_handler(RequestValidationError)
    async def on_bad_request(_: Request, error: RequestValidationError) -> JSONResponse:
        first = error.errors()[0]
        where = ".".join(str(part) for part in first["loc"][1:]) or "body"
        problem = Problem(code="refused", key=None, text=f"{where}: {first['msg'][:200]}")
        return JSONResponse(problem.model_dump(), status_code=422)

    @app.exception_handler(HTTPException)
    async def on_http_error(_: Request, error: HTTPException) -> JSONResponse:
        code = "missing" if error.status_code == 404 else "refused"
        problem = Problem(code=code, key=None, text=str(error.detail))
        return JSONResponse(problem.model_dump(), status_code=error.status_code, headers=error.headers)

    @app.exception_handler(Exception)
    async def on_own_fault(_: Request, _error: Exception) -> JSONResponse:
        return JSONResponse(own_fault().model_dump(), status_code=500)  # the server writes the cause down
