# SPDX-License-Identifier: BSD-3-Clause
"""Reports over HTTP: put on the table, looked at, taken off; what cannot be said says so and keeps the rest."""

import pytest

from ringwright.web.messages.air import AirSeen

HEADINGS = "time,frequency_mhz,receiver,locator,snr_db,power_w,antenna"
ROWS = [
    f"2026-05-01T{hour:02}:0{minute}:00Z,{band},QX{who},{square},{-10 - 3 * (minute % 2) - who},5,"
    + ("ring" if minute % 2 else "dipole")
    for hour in range(10, 20)
    for minute in range(8)
    for band in ("7.0386", "10.1387")
    for who, square in ((1, "JO62qm"), (2, "FM18lw"), (3, "RE78ir"))
]


@pytest.fixture(scope="module")
def client(shared):
    with shared.client() as client:
        yield client


@pytest.fixture(autouse=True)
def empty_table(client):
    yield
    for file in look(client).files:
        client.delete("/api/v1/air/reports", params={"name": file.name})


def put(client, name, rows, columns=()):
    return client.post(
        "/api/v1/air/reports",
        params={"name": name, "column": list(columns)},
        content="\n".join(rows).encode(),
    )


def look(client, **asked):
    answer = client.post("/api/v1/air/look", json=asked)
    assert answer.status_code == 200, answer.text
    return AirSeen.model_validate_json(answer.text)


def test_an_empty_table_is_seen_as_empty(client):
    seen = look(client)
    assert (seen.files, seen.read, seen.world, seen.times) == ([], 0, None, None)
    assert seen.pattern is not None
    assert len(seen.pattern.gain_dbi) == len(seen.pattern.bearing_deg) > 30


def test_reports_are_seen_from_ones_own_place(client):
    assert put(client, "log.csv", [HEADINGS, *ROWS]).status_code == 204
    seen = look(client, locator="JJ00aa")
    assert (seen.read, seen.kept, seen.shown) == (480, 480, 480)
    assert [band.band for band in seen.bands] == ["40m", "30m"]
    assert [(each.name, each.count) for each in seen.antennas] == [("dipole", 240), ("ring", 240)]
    world = seen.world
    assert world is not None
    assert world.count == [160, 160, 160]
    assert sum(world.by_distance) == sum(world.by_bearing) == 480
    # Berlin's square lies north by east of the Gulf of Guinea, 5.9 thousand km off.
    at = world.distance_m.index(min(world.distance_m))
    assert 5.5e6 < world.distance_m[at] < 6.2e6
    assert 5.0 < world.bearing_deg[at] < 15.0
    assert world.y[at] == pytest.approx(world.distance_m[at] / world.half_round_m, rel=0.03, abs=0)
    assert len(world.coast) > 100
    light = seen.light
    assert light is not None
    # May at the equator and Greenwich: the sun sets a little before 18 h UTC.
    assert light.day + light.grey_line + light.night == 480
    assert 280 < light.day < 400


def test_a_band_and_a_stretch_of_time_are_looked_at(client):
    put(client, "log.csv", [HEADINGS, *ROWS])
    seen = look(client, locator="JJ00aa", band="30m")
    assert seen.shown == 240
    assert seen.times is not None
    assert sum(seen.times.counts) == 240
    half = look(
        client, locator="JJ00aa", band="30m", start_s=seen.times.start_s, end_s=seen.times.start_s + 3600.0
    )
    assert half.shown == 27  # the first hour, and the minute that begins the next
    assert half.times == seen.times
    assert half.kept == 480


def test_two_antennas_are_compared_in_one_sentence(client):
    put(client, "log.csv", [HEADINGS, *ROWS])
    compared = look(client, compare=["dipole", "ring"]).compared
    assert compared is not None
    assert compared.difference_db == pytest.approx(3.0, abs=0.3)
    assert compared.verdict.startswith("dipole is better than ring by 3.0 dB (A minus B +")
    assert compared.pairs > 100


def test_what_cannot_be_compared_or_placed_says_so_and_the_rest_is_seen(client):
    put(client, "log.csv", [HEADINGS, *ROWS])
    seen = look(client, locator="JJ00aa", compare=["ring", "beam"])
    assert seen.compared is None
    assert '"beam"' in str(seen.compare_problem)
    assert seen.world is not None
    lost = look(client, locator="ZZ99")
    assert "is no locator" in str(lost.locator_problem)
    assert (lost.world, lost.kept) == (None, 480)
    assert look(client, locator="ZZ99", compare=["ring", "dipole"]).compared is not None


def test_rejected_rows_are_one_step_away(client):
    put(client, "log.csv", [HEADINGS, *ROWS[:3], ROWS[0], "x,y"])
    seen = look(client)
    assert (seen.read, seen.kept, seen.rejected_count) == (5, 3, 2)
    assert [row.row for row in seen.rejected] == [4, 5]


def test_a_file_that_is_none_is_refused_and_what_lay_there_stays(client):
    put(client, "log.csv", [HEADINGS, *ROWS])
    answer = put(client, "log.csv", ["\0\0"])
    assert answer.status_code == 422
    assert answer.json()["text"].startswith("log.csv:1: ")
    assert look(client).kept == 480
    assert client.delete("/api/v1/air/reports", params={"name": "other.csv"}).status_code == 404


def test_columns_are_named_once(client, shared):
    rows = ["t,qrg,who", "2026-05-01T12:00,7038.6,QX1AB"]
    assert "no column is known" in put(client, "list.csv", rows).json()["text"]
    named = ("time=t", "frequency=qrg", "receiver=who", "frequency_unit=kHz")
    assert put(client, "list.csv", rows, named).status_code == 204
    assert put(client, "list 2.csv", [rows[0], rows[1].replace("QX1", "QX2")]).status_code == 204
    assert look(client).kept == 2
    (shared.desk.folder.workspace / "report-columns.json").unlink()


def test_the_whole_of_a_locator_comes_from_a_log(client):
    record = "<QSO_DATE:8>20260501<TIME_ON:4>1200<CALL:5>QX1AB<BAND:3>40m<MY_GRIDSQUARE:4>JN58<EOR>"
    put(client, "log.adi", [record])
    assert look(client).locator == "JN58"


def test_a_place_of_ones_own_is_asked_for_in_a_sentence(client):
    put(client, "log.csv", [HEADINGS, *ROWS])
    for address, more in (("null", {"turned": [{"bearing_deg": 90.0}]}), ("map", {})):
        answer = client.post(f"/api/v1/air/{address}", json=more)
        assert answer.status_code == 422
        assert "give your locator" in answer.json()["text"]


def test_light_is_told_at_both_ends(client):
    put(client, "log.csv", [HEADINGS, *ROWS])
    light = look(client, locator="JJ00aa").light
    assert light is not None
    assert sum(map(sum, light.both)) == sum(light.there) == 480
    assert [sum(row) for row in light.both] == [light.day, light.grey_line, light.night]
    # New Zealand has night and dawn while it is day at Greenwich: no report of it lies in daylight at both ends.
    only = [HEADINGS, *(row for row in ROWS if "RE78ir" in row and "T1" in row)]
    put(client, "log.csv", only)
    light = look(client, locator="JJ00aa", end_s=1_777_647_600.0).light  # 15 h UTC
    assert light is not None
    assert (light.both[0][0], light.there[0]) == (0, 0)


def test_a_plan_gives_antennas_and_checks_the_comparison(client):
    plan = client.post(
        "/api/v1/air/slots",
        json={
            "antennas": ["ring", "dipole"],
            "start_s": 1_777_629_600.0,
            "length_s": 60.0,
            "count": 600,
        },
    )
    assert plan.headers["content-type"].startswith("text/csv")
    lines = plan.text.splitlines()
    assert lines[0] == "start,end,antenna"
    assert len(lines) == 601
    rows = [",".join([*row.split(",")[:-1], ""]) for row in ROWS]
    put(client, "log.csv", [HEADINGS, *rows])
    assert look(client).antennas == []
    assert put(client, "plan.csv", lines).status_code == 204
    seen = look(client, compare=["ring", "dipole"])
    assert seen.plan is not None
    assert (seen.plan.slots, len(seen.files)) == (600, 1)
    assert sum(each.count for each in seen.antennas) == 480
    assert seen.fairness == []
    assert client.delete("/api/v1/air/reports", params={"name": "plan.csv"}).status_code == 204
    assert look(client).plan is None


def test_reports_are_kept_in_the_record_and_seen_without_their_file(client, shared):
    put(client, "log.csv", [HEADINGS, *ROWS])
    assert (look(client).recorded, look(client).unkept) == (0, 480)
    try:
        assert client.post("/api/v1/air/keep", params={"locator": "ZZ99"}).status_code == 422
        assert client.post("/api/v1/air/keep", params={"locator": "JN58"}).json() == {"new": 480}
        assert client.post("/api/v1/air/keep").json() == {"new": 0}
        client.delete("/api/v1/air/reports", params={"name": "log.csv"})
        seen = look(client, since_s=1_777_642_200.0, antenna="ring")
        assert (seen.kept, seen.total, seen.recorded, seen.unkept) == (0, 480, 480, 0)
        assert seen.locator == "JN58"
        assert seen.history is not None
        assert "cannot say" in seen.history.words[1]
        assert look(client, with_record=False).total == 0
        later = ROWS[0].replace("2026-05-01", "2026-05-02")
        put(client, "more.csv", [HEADINGS, later, ROWS[5]])
        seen = look(client)
        assert (seen.kept, seen.total, seen.unkept) == (2, 481, 1)
        assert '"beam"' in str(look(client, since_s=0.0, antenna="beam").history_problem)
    finally:
        shared.desk.record.file.unlink()


def test_the_null_and_the_promise_stand_beside_the_reports(client):
    put(client, "log.csv", [HEADINGS, *ROWS])
    asked = {"locator": "JJ00aa", "compare": ["dipole", "ring"]}
    few = client.post("/api/v1/air/null", json=asked | {"turned": [{"antenna": "ring", "bearing_deg": 90.0}]})
    assert "a null needs 8 receivers" in few.json()["text"]
    answer = client.post("/api/v1/air/promise", json=asked | {"designs": [None, None]})
    assert answer.status_code == 200, answer.text
    # One design against itself: nothing at any angle.
    assert answer.json()["difference_db"] == 0.0
    assert "The two do not agree." in answer.json()["words"]
    assert client.post("/api/v1/air/promise", json=asked | {"designs": [None, "none"]}).status_code == 404


@pytest.mark.parametrize(("kind", "begins"), [("svg", b"<svg"), ("png", b"\x89PNG")])
def test_the_map_is_a_file(client, kind, begins):
    put(client, "log.csv", [HEADINGS, *ROWS])
    answer = client.post("/api/v1/air/map", json={"locator": "JJ00aa", "kind": kind})
    assert answer.content.startswith(begins)
    assert f"heard.{kind}" in answer.headers["content-disposition"]


def test_headings_are_told_so_that_columns_can_be_named(client):
    rows = "call;QRG [kHz];dB\nQX1AB;7038,6;-12\n"
    told = client.post("/api/v1/air/headings", params={"name": "a.csv"}, content=rows.encode()).json()
    assert told["headings"] == ["call", "QRG [kHz]", "dB"]
    assert told["sample"] == ["QX1AB", "7038,6", "-12"]
    assert told["told"] == {"receiver": 1, "snr": 3}
    refused = client.post("/api/v1/air/headings", params={"name": "a.csv"}, content=b"\0\1")
    assert refused.status_code == 422
