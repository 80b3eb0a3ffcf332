# SPDX-License-Identifier: BSD-3-Clause
"""A tapped ring and one with a transformer through every verb that solves."""

import json

import pytest

BUILD = """format = 1
name = "Ring"
bands = ["40m"]
power = "{power}"
[ring]
shape = "octagon"
perimeter = "3.2 m"
[coupling]
{coupling}
[capacitor]
kind = "vacuum"
minimum = "10 pF"
maximum = "300 pF"
[site]
{site}
"""
TAPPED = 'kind = "tapped"\ntap_at = "0.2 m"'
WOUND = 'kind = "transformer"\nturns = 24\ninductance_factor = "0.9 uH"\ncore_q = 12'
KINDS = {"tapped": TAPPED, "transformer": WOUND}


@pytest.fixture(params=KINDS)
def kind(request):
    return request.param


@pytest.fixture
def build(tmp_path):
    def written(coupling, *, power="400 W", site='earth = "free space"'):
        path = tmp_path / "ring.toml"
        path.write_text(BUILD.format(coupling=coupling, power=power, site=site), encoding="utf-8")
        return path

    return written


def test_predict_says_what_is_built_and_the_watts_add_up(call, build, kind):
    path = build(KINDS[kind])
    outcome = call("predict", path)
    assert outcome.code == 0
    assert {"tapped": "tapped 200 mm along", "transformer": "transformer of 24 to 1 turns"}[
        kind
    ] in outcome.out
    (band,) = json.loads(call("predict", path, "--json").out)["bands"]
    assert band["watts_pct"]["sum"] == pytest.approx(100.0, rel=1e-3, abs=0)  # the promise
    assert band["watts_pct"]["coupling"] > 0.01
    assert band["match"]["swr_min"] < 1.6


def test_explain_lists_the_kind_s_own_keys_and_no_other_s(call, build, kind):
    out = " ".join(call("predict", build(KINDS[kind]), "--explain").out.split())
    assert f"coupling.kind = {kind}" in out or "coupling.kind" not in out
    assert "coupling.squash = 1 (" not in out
    assert ("coupling.coupling_factor = 0.98" in out) == (kind == "transformer")
    assert ("coupling.clearance = 15 mm" in out) == (kind == "tapped")


@pytest.mark.parametrize(
    ("coupling", "remedy"),
    [
        (TAPPED.replace("0.2 m", "0.08 m"), "tap the ring further from the point opposite the gap"),
        (TAPPED.replace("0.2 m", "0.9 m"), "tap the ring nearer to the point opposite the gap"),
        (WOUND.replace("24", "8"), "wind more primary turns"),
        (WOUND.replace("24", "50"), "wind fewer primary turns"),
    ],
)
def test_a_coupling_that_does_not_match_is_told_which_way(call, build, coupling, remedy):
    out = " ".join(call("predict", build(coupling)).out.split())
    assert f"never below 2: {remedy}" in out


def test_what_is_not_computed_and_what_gets_hot_is_said(call, build):
    warnings = json.loads(call("predict", build(WOUND), "--json").out)["warnings"]
    codes = {warning["code"] for warning in warnings}
    assert {"core-small-signal", "core-heats"} <= codes
    (hot,) = [warning for warning in warnings if warning["code"] == "core-heats"]
    assert hot["band"] == "40m"
    assert "400 W" in hot["text"]
    cool = json.loads(call("predict", build(WOUND, power="10 W"), "--json").out)["warnings"]
    assert "core-heats" not in {warning["code"] for warning in cool}
    tapped = json.loads(call("predict", build(TAPPED), "--json").out)["warnings"]
    assert "tap-is-a-joint" in {warning["code"] for warning in tapped}


def test_average_power_heats_the_core(call, build):
    """20 % of the time at 400 W is an average of a fifth: 1 W of five and a half."""
    path = build(WOUND)
    path.write_text(
        path.read_text(encoding="utf-8").replace("[ring]", "duty = 0.1\n[ring]"), encoding="utf-8"
    )
    codes = {warning["code"] for warning in json.loads(call("predict", path, "--json").out)["warnings"]}
    assert "core-heats" not in codes


RAIL = """earth = "average"
height = "1.8 m"
[[site.metal]]
from = ["-1 m", "1 m", "0.9 m"]
to = ["1 m", "1 m", "0.9 m"]
diameter = "40 mm"
[[site.people]]
name = "chair"
at = ["3 m", "0 m", "1.2 m"]
"""


def test_fields_keepout_and_directions_follow(call, build, kind):
    path = build(KINDS[kind], site=RAIL)
    (band,) = json.loads(call("predict", path, "--json").out)["bands"]
    assert band["watts_pct"]["sum"] == pytest.approx(100.0, rel=1e-3, abs=0)
    assert band["watts_pct"]["metal"] > 0.0
    verbs = (("fields", "--at", "0 m, 2 m, 1.95 m"), ("keepout",), ("directions",))
    for verb, *options in verbs:
        path = build(KINDS[kind], site=RAIL)
        mine = json.loads(call(verb, path, *options, "--json").out)
        loop = build('diameter = "0.16 m"', site=RAIL)
        other = json.loads(call(verb, loop, *options, "--json").out)
        assert numbers_of(mine).keys() == numbers_of(other).keys()
        if verb == "fields":
            (point,), (usual,) = (document["bands"][0]["points"] for document in (mine, other))
            # The same ring at the same power: what couples changes its current by its own loss only.
            assert point["h_rms_a_per_m"] == pytest.approx(usual["h_rms_a_per_m"], rel=0.05, abs=0)


def numbers_of(document, path=""):
    """Dotted path -> value of every leaf, list indices left out."""
    if isinstance(document, dict):
        return {
            k: v for key, value in document.items() for k, v in numbers_of(value, f"{path}.{key}").items()
        }
    if isinstance(document, list):
        return {k: v for value in document for k, v in numbers_of(value, path).items()}
    return {path: document}
