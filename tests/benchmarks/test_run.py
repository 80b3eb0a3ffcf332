# SPDX-License-Identifier: BSD-3-Clause
"""The harness's own arithmetic, with a clock that reads what the test wrote. No test here or elsewhere is timed."""

import json
from itertools import cycle

import pytest

from benchmarks import run


@pytest.fixture
def clock(monkeypatch):
    """Calls take 1, 2, ... 21 ms in turn; the unit takes 2 ms before and 4 ms after, so 3 ms."""
    units = cycle([[0.002] * 5, [0.004] * 5])
    times = cycle([0.001 * n for n in range(1, 22)])
    monkeypatch.setattr(run, "unit_times", lambda **_: next(units))
    monkeypatch.setattr(run, "stopwatch", lambda call, _: (call(), next(times))[1])
    monkeypatch.setattr(run, "MOST", 21)


def test_a_figure_is_median_and_95th_percentile_over_the_unit(clock):
    calls: list[None] = []
    figure = run.measure("name", lambda: lambda: calls.append(None))
    # By hand: of 1 ... 21 the 11th is the median and the 20th has 95 % of the way below it.
    assert figure.median == pytest.approx(11.0 / 3.0, rel=1e-12, abs=0)
    assert figure.p95 == pytest.approx(20.0 / 3.0, rel=1e-12, abs=0)
    assert (figure.calls, len(calls)) == (21, 22)  # the first call is not counted


def test_the_figures_go_to_a_file_on_request(clock, monkeypatch, tmp_path, capsys):
    monkeypatch.setattr(run, "discover", lambda word: [(f"does {word}", lambda: lambda: None)])
    monkeypatch.setattr("sys.argv", ["run", "things", "--json", str(tmp_path / "figures.json")])
    run.main()
    written = json.loads((tmp_path / "figures.json").read_text())
    assert written["unit_s"] == pytest.approx(0.003, rel=1e-12, abs=0)
    assert [figure["name"] for figure in written["figures"]] == ["does things"]
    assert "does things" in capsys.readouterr().out


def test_every_module_of_benchmarks_offers_one():
    modules = {path.stem for path in run.BENCHMARKS.glob("bench_*.py")}
    assert modules
    assert all(list(run.discover(module)) for module in modules)
