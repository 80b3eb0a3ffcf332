# SPDX-License-Identifier: BSD-3-Clause
"""What a dragged slider waits for: one message to a server on this machine and its answer back, three bands."""

import itertools
import json
import threading
import time
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

import uvicorn
from websockets.sync.client import connect
from websockets.typing import Origin

from ringwright.desk.desk import Desk
from ringwright.web.address import listen
from ringwright.web.app import create_app
from ringwright.web.gate import Admission

Values = Mapping[str, str]


def bench_live_perimeter() -> Callable[[], object]:
    """Slider to answer, perimeter, three bands, free space."""
    return _drag({"site.earth": "free space"}, ({"ring.perimeter": length} for length in _new_lengths()))


def bench_live_perimeter_over_earth() -> Callable[[], object]:
    """Slider to answer, perimeter, three bands, average earth."""
    return _drag({"site.earth": "average"}, ({"ring.perimeter": length} for length in _new_lengths()))


def bench_live_height_over_earth() -> Callable[[], object]:
    """Slider to answer, height, three bands, average earth."""
    heights = (f"{1.5 + number * 1e-3:.3f} m" for number in itertools.count())
    return _drag({"site.earth": "average"}, ({"site.height": height} for height in heights))


def bench_live_power() -> Callable[[], object]:
    """Slider to answer, power, three bands, average earth."""
    powers = (f"{1 + number * 0.01:.2f} W" for number in itertools.count())
    return _drag({"site.earth": "average"}, ({"power": power} for power in powers))


def _new_lengths() -> Iterator[str]:
    return (f"{3.0 + number * 1e-3:.3f} m" for number in itertools.count())


def _drag(common: Values, values: Iterator[Values]) -> Callable[[], object]:
    """A call that sends the next of `values` and waits for its prediction."""
    address = _start_server()
    socket = connect(
        f"ws://{address}/api/v1/live", origin=Origin(f"http://{address}"), compression=None, proxy=None
    )
    socket.recv()  # the greeting
    numbers = itertools.count()

    def once() -> object:
        number = next(numbers)
        socket.send(json.dumps({"type": "predict", "seq": number, "edits": {**common, **next(values)}}))
        answer = json.loads(socket.recv())
        assert (answer["type"], answer["seq"]) == ("prediction", number), answer
        return answer

    return once


def _start_server() -> str:
    """A server that ends with this process; its host and port."""
    listener = listen("127.0.0.1", 0)
    desk = Desk(Path(__file__).parent)  # holds no designs, and none is saved
    config = uvicorn.Config(create_app(desk, Admission()), log_level="error", ws_per_message_deflate=False)
    server = uvicorn.Server(config)
    threading.Thread(target=server.run, kwargs={"sockets": [listener]}, daemon=True).start()
    while not server.started:
        time.sleep(0.005)
    return f"localhost:{listener.getsockname()[1]}"
