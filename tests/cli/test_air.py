# SPDX-License-Identifier: BSD-3-Clause
"""`ringwright air` and `ringwright slots`: the contract's document, the words, one sentence for bad input."""

import json

import numpy as np
import pytest

from ringwright.air.null_fit import figure_of_eight
from tests.air.campaigns import Campaign, made

HEADINGS = "time,frequency_mhz,receiver,locator,snr_db,power_w,antenna"
LOCATORS = ("JN58td", "FM18lw", "RE78ir", "GF15vc", "JO62qm", "PM95vq")


def table(path, rows):
    path.write_text("\n".join([HEADINGS, *rows, ""]), encoding="ascii")
    return path


def campaign(path, **changed):
    reports = made(
        Campaign(**({"reports": 1200, "true_db": -4.0, "slot": 120.0} | changed)), np.random.default_rng(1)
    )
    times = np.datetime_as_string(reports.time.astype("datetime64[s]"))
    return table(
        path,
        [
            f"{time}Z,7.04,QX{who:03},{LOCATORS[who % 6]},{snr:.0f},{power:g},{'ring' if which == 0 else 'dipole'}"
            for time, who, snr, power, which in zip(
                times, reports.receiver, reports.snr, reports.power, reports.antenna, strict=True
            )
        ],
    )


def test_the_document_is_the_contracts(call, tmp_path):
    path = campaign(tmp_path / "reports.csv")
    path.write_text(path.read_text() + "2026-01-01T00:00:00Z,7.04,QX001,J062QM,-9,5,ring\n", encoding="ascii")
    answer = call("air", path, "--compare", "ring", "dipole", "--locator", "JJ00aa", "--json")
    assert answer.code == 0
    document = json.loads(answer.out)
    assert document["schema"] == "ringwright.air/1"
    reports = document["reports"]
    assert reports["read"] == reports["kept"] + len(reports["rejected"])
    last = next(each for each in reports["rejected"] if each["row"] == reports["read"])
    assert '"J062QM" is no locator' in last["reason"]
    (band,) = document["bands"]
    assert set(band) >= {"band", "count", "distance_max_m", "distance_median_m", "snr_median_db"}
    assert (band["band"], band["count"]) == ("40m", reports["kept"])
    # Locators' towns from the Gulf of Guinea: none nearer than 5000 km, none at the point opposite.
    assert 5e6 < band["distance_median_m"] < band["distance_max_m"] < 2e7
    compared = document["comparison"]
    assert compared["low_db"] <= -4.0 <= compared["high_db"]
    assert compared["low_db"] < compared["difference_db"] < compared["high_db"]
    assert compared["pairs"] > 100
    assert compared["receivers"] > 10
    assert isinstance(compared["more_needed"], int)


def test_without_a_locator_distances_are_null_and_the_rest_is_answered(call, tmp_path):
    path = campaign(tmp_path / "reports.csv", reports=300)
    document = json.loads(call("air", path, "--compare", "dipole", "ring", "--json").out)
    assert document["locator"] is None
    assert document["bands"][0]["distance_max_m"] is None
    assert document["bands"][0]["snr_median_db"] is not None
    assert document["comparison"]["difference_db"] > 0.0
    assert json.loads(call("air", path, "--json").out)["comparison"] is None


def test_ones_own_place_comes_from_the_log_or_from_the_workspace(call, tmp_path):
    log = tmp_path / "log.adi"
    record = "<QSO_DATE:8>20260501<TIME_ON:4>1200<CALL:5>QX1AB<BAND:3>40m<GRIDSQUARE:4>JN58"
    log.write_text(f"{record}<MY_GRIDSQUARE:6>JJ00aa<EOR>", encoding="ascii")
    assert json.loads(call("air", log, "--json").out)["locator"] == "JJ00aa"
    log.write_text(f"{record}<EOR>", encoding="ascii")
    designs = tmp_path / "designs"
    designs.mkdir(exist_ok=True)
    (designs / "one.toml").write_text('[site]\nlocator = "JO62"\n', encoding="ascii")
    (designs / "bad.toml").write_text("[site", encoding="ascii")
    assert json.loads(call("air", log, "--json", "--workspace", tmp_path).out)["locator"] == "JO62"


def test_words_say_the_verdict_in_one_sentence_and_list_what_is_rejected(call, tmp_path):
    path = campaign(tmp_path / "reports.csv", true_db=-8.0, reports=3000)
    answer = call("air", path, "--compare", "ring", "dipole")
    words = " ".join(answer.out.split())
    assert "ring is worse than dipole by " in words
    assert "with 95 % confidence" in words
    assert "give it with --locator" in words


def test_columns_that_were_named_are_remembered_in_the_workspace(call, tmp_path):
    (tmp_path / "designs").mkdir()
    path = tmp_path / "list.csv"
    path.write_text("t,qrg,who\n2026-05-01T12:00,7038.6,QX1AB\n", encoding="ascii")
    names = ("time=t", "frequency=qrg", "receiver=who", "frequency_unit=kHz")
    assert "no column is known" in call("air", path, "--workspace", tmp_path).sentence
    columns = [word for name in names for word in ("--column", name)]
    assert call("air", path, *columns, "--workspace", tmp_path, "--json").code == 0
    assert json.loads(call("air", path, "--workspace", tmp_path, "--json").out)["reports"]["kept"] == 1


def test_the_map_is_a_picture_that_fetches_nothing(call, tmp_path):
    drawing = tmp_path / "map.svg"
    answer = call("air", campaign(tmp_path / "reports.csv"), "--locator", "JN58td", "--map", drawing)
    assert answer.code == 0
    text = drawing.read_text(encoding="utf-8")
    assert text.startswith("<svg")
    assert "http" not in text.replace("http://www.w3.org/2000/svg", "")
    assert "6 places" in text


def test_the_map_is_a_png_where_its_name_says_so_and_light_is_told(call, tmp_path):
    path, drawing = campaign(tmp_path / "reports.csv", reports=300), tmp_path / "map.png"
    answer = call("air", path, "--locator", "JN58td", "--map", drawing)
    assert drawing.read_bytes().startswith(b"\x89PNG\r\n\x1a\n")
    lines = [line.split() for line in answer.out.splitlines()]
    head = lines.index(["light", "here", "there:", "day", "grey", "line", "night"])
    told = [[int(word) for word in line if word.isdecimal()] for line in lines[head + 1 : head + 4]]
    document = json.loads(call("air", path, "--locator", "JN58td", "--json").out)
    assert document["light"]["both"] == told
    assert sum(map(sum, told)) == document["reports"]["kept"]
    assert list(document["light"]["here"]) == document["light"]["order"] == ["day", "grey_line", "night"]


def test_one_antenna_alone_is_set_against_all_that_was_recorded_of_it(call, tmp_path):
    (tmp_path / "designs").mkdir()
    days = [
        [
            f"2026-03-{day:02}T{hour:02}:{minute:02}:00Z,7.04,QX{who:03},,{-15 + who % 5 + louder},5,{antenna}"
            for day in range(first, first + 6)
            for hour in (8, 20)
            for minute, antenna in ((0, "ring"), (4, "dipole"))
            for who in range(12)
        ]
        for first, louder in ((1, 0), (7, 6))
    ]
    before, after = (table(tmp_path / f"{n}.csv", rows) for n, rows in enumerate(days))
    call("air", before, "--workspace", tmp_path)
    asked = ("--workspace", tmp_path, "--since", "2026-03-07", "--antenna", "ring", "--json")
    document = json.loads(call("air", after, *asked).out)
    assert document["history"]["difference_db"] == pytest.approx(6.0, abs=1e-6)
    # On table and map: the ring's reports of the file alone.
    assert document["bands"][0]["count"] == 6 * 2 * 12
    assert "cannot say" in document["history"]["does_not_say"]
    alone = json.loads(call("air", after, "--since", "2026-03-07", "--json").out)
    assert alone["history"]["difference_db"] is None
    assert " 576 reports of who heard whom, 2026-03-01 to " in f" {call('record', 'list', tmp_path).out}"
    assert 'made with the antenna "beam"' in call("air", after, "--antenna", "beam").sentence


def test_a_plan_gives_reports_their_antenna(call, tmp_path):
    plan = tmp_path / "plan.csv"
    assert (
        call(
            "slots",
            "ring",
            "dipole",
            "--start",
            "2026-01-01T00:00Z",
            "--count",
            40,
            "--seed",
            3,
            "--out",
            plan,
        ).code
        == 0
    )
    lines = plan.read_text().splitlines()[1:]
    assert len(lines) == 40
    rows = [
        f"{line.split(',')[0][:-3]}30Z,7.04,QX00{n},,{-10 - (4 if line.endswith('ring') else 0)},5,"
        for line in lines
        for n in range(5)
    ]
    path = table(tmp_path / "reports.csv", rows)
    document = json.loads(call("air", path, "--compare", "ring", "dipole", "--slots", plan, "--json").out)
    assert document["comparison"]["difference_db"] == pytest.approx(-4.0, abs=1e-6)
    assert document["fairness"] == []


def test_a_plan_is_never_written_over(call, tmp_path):
    plan = tmp_path / "plan.csv"
    assert call("slots", "ring", "dipole", "--out", plan).code == 0
    kept = plan.read_bytes()
    again = call("slots", "ring", "dipole", "--out", plan)
    assert again.code == 2
    assert "is there already" in again.err
    assert plan.read_bytes() == kept


def test_a_turned_ring_tells_its_null(call, tmp_path):
    rng = np.random.default_rng(2)
    bearings = {
        "JN58td": 8.7,
        "FM18lw": 305.0,
        "RE78ir": 168.0,
        "GF15vc": 230.0,
        "JO62qm": 9.5,
        "PM95vq": 44.0,
    }
    rows = []
    for antenna, plane in (("north", 0.0), ("diagonal", 45.0), ("east", 90.0), ("other", 135.0)):
        for n in range(240):
            who = n % 24
            gain = figure_of_eight(
                np.array([bearings[LOCATORS[who % 6]]]), np.array([plane]), depth_db=np.array([12.0])
            )[0]
            snr = who % 7 - 12.0 + gain + rng.normal()
            rows.append(
                f"2026-01-01T{n // 60:02}:{n % 60:02}:00Z,7.04,QX{who:03},{LOCATORS[who % 6]},{snr:.1f},5,{antenna}"
            )
    path = table(tmp_path / "reports.csv", rows)
    turned = [word for name, at in (("north", 0), ("diagonal", 45), ("east", 90), ("other", 135))
              for word in ("--turned", f"{name}={at}")]  # fmt: skip
    null = json.loads(call("air", path, "--locator", "JJ00aa", *turned, "--json").out)["null"]
    assert null["is_turned"]
    assert null["bearing_deg"] == pytest.approx(90.0, abs=8.0)
    assert null["depth_db"] == pytest.approx(12.0, abs=4.0)


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["nowhere.csv"], "cannot be read (no such file or directory)"),
        (["{folder}"], "cannot be read (is a directory)"),
        (["{reports}", "--compare", "ring", "beam"], 'made with the antenna "beam"; the reports name'),
        (["{reports}", "--locator", "XX"], '"XX" is no locator'),
        (["{reports}", "--map", "map.svg"], "give your locator with --locator"),
        (["{reports}", "--map", "map.jpg"], "ends neither in .svg nor in .png"),
        (["{reports}", "--column", "loudness=3"], 'column "loudness=3" is none'),
        (["{reports}", "--turned", "ring"], "write antenna=degrees"),
        (["{reports}", "--since", "spring"], '"spring" is no date'),
        (["{reports}", "--workspace", "{folder}/nowhere"], "there is no such folder"),
        ([], "no report is named"),
        (["--workspace", "{folder}"], "is no workspace"),
    ],
)
def test_bad_input_gets_one_sentence_and_code_2(call, tmp_path, arguments, words):
    reports = campaign(tmp_path / "reports.csv", reports=200)
    filled = [each.format(folder=tmp_path, reports=reports) for each in arguments]
    answer = call("air", *filled)
    assert answer.code == 2
    assert words in answer.sentence


def test_history_says_what_it_can_and_cannot(call, tmp_path):
    path = campaign(tmp_path / "reports.csv", reports=300)
    document = json.loads(call("air", path, "--since", "2026-01-02", "--json").out)["history"]
    assert document["difference_db"] is None
    assert "cannot say" in document["does_not_say"]


def test_the_promise_of_two_designs_stands_beside_what_was_found(call, tmp_path, octagon):
    path = campaign(tmp_path / "reports.csv", reports=400)
    text = octagon.read_text(encoding="utf-8")
    smaller = tmp_path / "smaller.toml"
    smaller.write_text(
        text.replace('joint_resistance = "0.1 mohm"', 'joint_resistance = "20 mohm"'), encoding="utf-8"
    )
    assert smaller.read_text(encoding="utf-8") != text
    asked = (
        "--compare",
        "ring",
        "dipole",
        "--design",
        smaller,
        "--design",
        octagon,
        "--locator",
        "JJ00aa",
        "--json",
    )
    promise = json.loads(call("air", path, *asked).out)["expected"]
    # The same shape with more loss: less by the same decibels at every angle, whatever the layer.
    assert promise["difference_db"] < -3.0
    # What the coupling loop itself radiates differs a little, hence not to the last digit.
    assert promise["low_db"] == pytest.approx(promise["high_db"], rel=1e-3, abs=0)
    assert promise["pairs"] > 20


def test_reports_are_recorded_once_and_answer_without_their_files(call, tmp_path):
    (tmp_path / "designs").mkdir()
    path = campaign(tmp_path / "reports.csv", reports=400)
    asked = ("--workspace", tmp_path, "--compare", "ring", "dipole", "--json")
    first = call("air", path, *asked)
    assert " reports recorded in " in first.err
    assert call("air", path, *asked).err == ""
    again, known = json.loads(call("air", *asked).out), json.loads(first.out)
    assert again["reports"]["kept"] == known["reports"]["kept"]
    assert again["comparison"]["difference_db"] == pytest.approx(
        known["comparison"]["difference_db"], rel=1e-9, abs=0
    )
