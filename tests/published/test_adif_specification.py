# SPDX-License-Identifier: BSD-3-Clause
"""ADIF 3.1.7 (2026): files in the form of the specification's examples of ADI and ADX, callsigns made up."""

from datetime import UTC, datetime

import pytest

from ringwright.air.files import Delivered, read_reports

NOW = datetime(2026, 6, 1, tzinfo=UTC)
ADI = """Generated on 2011-11-22 at 02:15:23Z for QX4AZY

<adif_ver:5>3.1.7
<USERDEF1:8:N>QRP_ARCI
<USERDEF2:19:E>SweaterSize,{S,M,L}
<EOH>

<qso_date:8>19900620
<time_on:4>1523
<call:5>QX9NS
<band:3>20M
<mode:4>RTTY
<sweatersize:1>M
<app_something_compression:3>off
<eor>

<qso_date:8>20101022 a comment <time_on:4>0111 <call:5>QX4UN <band:3>40M
<mode:3>PSK <submode:5>PSK63 <qrp_arci:1>1 <eor>
"""
ADX = """<?xml version="1.0" encoding="UTF-8"?>
<ADX>
  <HEADER>
    <!--Generated on 2011-11-22 at 02:15:23Z for QX4AZY -->
    <ADIF_VER>3.1.7</ADIF_VER>
    <USERDEF FIELDID="1" TYPE="N">EPC</USERDEF>
  </HEADER>
  <RECORDS>
    <RECORD>
      <QSO_DATE>19900620</QSO_DATE><TIME_ON>1523</TIME_ON><CALL>QX9NS</CALL><BAND>20M</BAND><MODE>RTTY</MODE>
      <USERDEF FIELDNAME="SWEATERSIZE">M</USERDEF>
      <APP PROGRAMID="SOMETHING" FIELDNAME="COMPRESSION" TYPE="s">off</APP>
      <APP PROGRAMID="SOMETHING" FIELDNAME="OTHER" TYPE="s">on</APP>
    </RECORD>
    <RECORD>
      <QSO_DATE>20101022</QSO_DATE><TIME_ON>0111</TIME_ON><CALL>QX4UN</CALL><BAND>40M</BAND>
      <MODE>PSK</MODE><SUBMODE>PSK63</SUBMODE>
    </RECORD>
  </RECORDS>
</ADX>
"""


@pytest.mark.parametrize(("name", "text"), [("log.adi", ADI), ("log.adx", ADX)])
def test_the_example_is_read(name, text):
    reading = read_reports([Delivered(name, text.encode())], now=NOW)
    assert (reading.read, reading.rejected) == (2, ())
    reports = reading.reports
    assert reports.receivers == ("QX9NS", "QX4UN")
    assert reports.bands() == ["40m", "20m"]
    assert reports.modes == ("RTTY", "PSK63")
    assert datetime.fromtimestamp(reports.time[0], UTC) == datetime(1990, 6, 20, 15, 23, tzinfo=UTC)


def test_fields_of_one_own_station_and_the_other():
    fields = {
        "QSO_DATE": "20260501", "TIME_ON": "123456", "CALL": "QX1ABC", "FREQ": "7.0386", "BAND": "40m", "MODE": "DATA",
        "RST_RCVD": "-12", "TX_PWR": "5", "GRIDSQUARE": "JN58td12", "GRIDSQUARE_EXT": "AB12", "MY_GRIDSQUARE": "JJ00",
        "MY_ANTENNA": "ring",
    }  # fmt: skip
    record = "".join(f"<{name}:{len(value)}>{value}" for name, value in fields.items()) + "<EOR>"
    reading = read_reports([Delivered("log.adi", record.encode())], now=NOW)
    reports = reading.reports
    assert (reports.snr[0], reports.power[0], reports.frequency[0]) == (-12.0, 5.0, 7.0386e6)
    assert (reports.antennas, reports.own_locator, bool(reports.heard_me[0])) == (("ring",), "JJ00", True)
    # Ten characters: 1.25 by 0.625 seconds of arc, half a diagonal of some 20 m.
    assert reports.places[0].uncertainty < 25.0


def test_a_location_of_the_specification():
    # "XDDD MM.MMM", type Location.
    record = "<QSO_DATE:8>20260501<TIME_ON:4>1200<CALL:5>QX1AB<BAND:3>40m<LAT:11>S033 30.000<LON:11>W070 45.000<EOR>"
    (place,) = read_reports([Delivered("log.adi", record.encode())], now=NOW).reports.places
    assert (place.latitude, place.longitude) == (-33.5, -70.75)


def test_a_report_in_readability_and_strength_is_no_snr():
    record = "<QSO_DATE:8>20260501<TIME_ON:4>1200<CALL:5>QX1AB<BAND:3>40m<RST_RCVD:3>599<EOR>"
    reports = read_reports([Delivered("log.adi", record.encode())], now=NOW).reports
    assert len(reports) == 1
    assert str(reports.snr[0]) == "nan"


def test_only_a_report_given_is_one_heard_by_me():
    record = "<QSO_DATE:8>20260501<TIME_ON:4>1200<CALL:5>QX1AB<BAND:3>40m<RST_SENT:3>-07<RX_PWR:2>10<EOR>"
    reports = read_reports([Delivered("log.adi", record.encode())], now=NOW).reports
    assert (bool(reports.heard_me[0]), reports.snr[0], reports.power[0]) == (False, -7.0, 10.0)
