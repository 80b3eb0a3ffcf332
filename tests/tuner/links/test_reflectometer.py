# SPDX-License-Identifier: BSD-3-Clause
"""A foreign reflectometer: simulated, over TCP, and through a VISA library's own simulator, held to the same tests."""

import contextlib
import socketserver
import threading
from typing import ClassVar

import pytest

from ringwright.errors import LinkError
from ringwright.tuner.links.reflectometer import Reflectometer, SimulatedReflectometer, open_reflectometer

FORWARD, REFLECTED = 4.25, 0.125
SIMULATION = """\
spec: "1.0"
devices:
  meter:
    eom:
      TCPIP SOCKET:
        q: "\\n"
        r: "\\n"
    error: ERROR
    dialogues:
      - q: "*IDN?"
        r: "QX,two-channel power meter,1,1.0"
      - q: "UNIT1:POW W"
      - q: "UNIT2:POW W"
      - q: "MEAS1:POW?"
        r: "4.25E+00"
      - q: "MEAS2:POW?"
        r: "+1.25E-01"
resources:
  TCPIP0::meter.example::5025::SOCKET:
    device: meter
"""


class Instrument(socketserver.StreamRequestHandler):
    """Answers as a power meter does."""

    answers: ClassVar[dict[bytes, bytes]] = {
        b"*IDN?": b"QX,two-channel power meter,1,1.0",
        b"MEAS1:POW?": b"4.25E+00",
        b"MEAS2:POW?": b"+1.25E-01",
    }

    def handle(self) -> None:
        for line in self.rfile:
            answer = self.answers.get(line.strip())
            if answer is not None:
                self.wfile.write(answer + b"\n")


class Strange(Instrument):
    """Has no reading."""

    answers = Instrument.answers | {b"MEAS2:POW?": b"9.91E+37"}  # SCPI's "not a number", from memory


@contextlib.contextmanager
def served(kind):
    with socketserver.ThreadingTCPServer(("127.0.0.1", 0), kind) as server:
        server.daemon_threads = True
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"scpi://127.0.0.1:{server.server_address[1]}"
        server.shutdown()


@pytest.fixture(params=["simulated", "tcp", "visa"])
def meter(request, tmp_path):
    made: Reflectometer
    with contextlib.ExitStack() as stack:
        if request.param == "simulated":
            made = SimulatedReflectometer(lambda: (FORWARD, REFLECTED))
        elif request.param == "tcp":
            made = open_reflectometer(stack.enter_context(served(Instrument)))
        else:
            pytest.importorskip("pyvisa_sim")
            (tmp_path / "meter.yaml").write_text(SIMULATION, encoding="utf-8")
            made = open_reflectometer(
                "visa:TCPIP0::meter.example::5025::SOCKET", visa_library=f"{tmp_path / 'meter.yaml'}@sim"
            )
        yield made
        made.close()


def test_it_gives_forward_and_reflected_power_again_and_again(meter):
    assert [meter.read() for _ in range(3)] == [(FORWARD, REFLECTED)] * 3
    assert meter.name


def test_what_is_no_power_is_told():
    with served(Strange) as address:
        meter = open_reflectometer(address)
        with pytest.raises(LinkError, match="channel 2 reads"):
            meter.read()
        meter.close()


@pytest.mark.parametrize(
    ("address", "words"),
    [
        ("scpi://127.0.0.1:9", "cannot be reached"),
        ("tcp://x", "is neither"),
        ("scpi://", "cannot be reached"),
    ],
)
def test_what_cannot_be_reached_is_told(address, words):
    with pytest.raises(LinkError, match=words):
        open_reflectometer(address)
