# SPDX-License-Identifier: BSD-3-Clause
"""What the fields of a log record say of a report: ADIF 3.1.7 (2026), section "QSO fields"."""

import re
from collections.abc import Mapping

from ringwright.air.reports import RawReport
from ringwright.units import shown

_DECIBELS = re.compile(r"([+-]\d{1,2}(?:\.\d+)?)(?: ?dB)?", re.ASCII | re.IGNORECASE)
_LOCATION = re.compile(r"([NSEWnsew])(\d{3}) (\d{2}\.\d{3})", re.ASCII)
_DATE, _TIME = re.compile(r"\d{8}", re.ASCII), re.compile(r"\d{4}(?:\d{2})?", re.ASCII)


def report_of(fields: Mapping[str, str]) -> RawReport | str:
    """The report in a record, or why there is none.

    What the other station gave counts; where only the report given to it stands there, it is one heard by us. A report
    in readability and strength (599) is no SNR: such a row counts on the map and not in a comparison.
    """
    date, time = fields.get("QSO_DATE", ""), fields.get("TIME_ON", "")
    if not _DATE.fullmatch(date) or not _TIME.fullmatch(time):
        told = [shown(text) if text else "missing" for text in (date, time)]
        return f"QSO_DATE {told[0]} and TIME_ON {told[1]} are no YYYYMMDD and HHMM or HHMMSS"
    heard_by_me = not fields.get("RST_RCVD") and bool(fields.get("RST_SENT"))
    given = _DECIBELS.fullmatch(fields.get("RST_SENT" if heard_by_me else "RST_RCVD", ""))
    latitude, longitude = fields.get("LAT", ""), fields.get("LON", "")
    locator = fields.get("GRIDSQUARE", "")
    return RawReport(
        time=f"{date[:4]}-{date[4:6]}-{date[6:]}T{time[:2]}:{time[2:4]}:{time[4:] or '00'}Z",
        frequency=fields.get("FREQ", ""),
        band=fields.get("BAND", ""),
        receiver=fields.get("CALL", ""),
        locator=locator + (fields.get("GRIDSQUARE_EXT", "")[:2] if len(locator) == 8 else ""),
        latitude="" if locator else _degrees(latitude),
        longitude="" if locator else _degrees(longitude),
        snr=given[1] if given else "",
        power=fields.get("RX_PWR" if heard_by_me else "TX_PWR", ""),
        mode=fields.get("SUBMODE") or fields.get("MODE", ""),
        antenna=fields.get("MY_ANTENNA", ""),
        direction="heard by me" if heard_by_me else "heard me",
        own_locator=fields.get("MY_GRIDSQUARE", ""),
    )


def _degrees(location: str) -> str:
    """A place's angle from the standard's "N052 26.592"; other text is left as it is, to be refused later."""
    found = _LOCATION.fullmatch(location)
    if found is None:
        return location
    sign = -1.0 if found[1] in "SWsw" else 1.0
    return repr(sign * (int(found[2]) + float(found[3]) / 60.0))
