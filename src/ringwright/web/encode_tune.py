# SPDX-License-Identifier: BSD-3-Clause
"""The drive as a page is told of it, and what a page asks as the brain is asked."""

from typing import Any

from ringwright.desk.tuning import AUTHORITY, NEVER_TOUCH, STOP_IS_NO_SWITCH, band_marks
from ringwright.tuner.brain import (
    Ask,
    ClearLock,
    FindReference,
    Follow,
    GoTo,
    Listen,
    LoudestNow,
    Nudge,
    NudgeOver,
    Release,
    Rise,
    Tune,
)
from ringwright.tuner.session import Session
from ringwright.web.messages.tune import TuneDo, TuneGo, TuneNudge, TuneRise

_DOING: dict[str, Ask] = {
    "release": Release(),
    "clear_lock": ClearLock(),
    "follow": Follow(is_on=True),
    "leave": Follow(is_on=False),
    "loudest": LoudestNow(),
    "reference": FindReference(),
}


def wanted_of(asked: TuneGo | TuneNudge | TuneRise | TuneDo) -> Ask:
    """What the brain is asked."""
    match asked:
        case TuneGo():
            return _go(asked)
        case TuneNudge():
            return Nudge(asked.change_hz) if asked.change_hz else NudgeOver()
        case TuneRise():
            return Rise(asked.power_w)
        case TuneDo():
            return _DOING[asked.what]


def _go(asked: TuneGo) -> Ask:
    match asked.how:
        case "tune":
            return Tune(asked.frequency_hz)
        case "place":
            return GoTo(asked.frequency_hz)
        case "listen":
            return Listen(asked.frequency_hz)


def drive_body(session: Session, *, name: str, viewer: int, key: str, line: str | None) -> dict[str, Any]:
    """The drive, its bands and its table."""
    twin, table = session.parts.twin, session.table
    return {
        "type": "drive",
        "viewer": viewer,
        "key": key,
        "design": name,
        "is_simulated": twin is not None,
        "line": line if twin is None else None,
        "is_pulled": twin is not None and twin.is_pulled,
        "last_steps": session.parts.law.last,
        "bands": [
            {
                "name": mark.name,
                "low_hz": mark.low,
                "high_hz": mark.high,
                "at_steps": round(mark.at, 1),
                "from_steps": round(mark.from_step, 1),
                "to_steps": round(mark.to_step, 1),
                "limit_w": round(mark.power_limit, 1),
            }
            for mark in band_marks(session)
        ],
        "site": table.site,
        "sites": list(table.sites),
        "pairs": [
            {
                "number": number,
                "position_steps": point.position,
                "frequency_hz": point.frequency,
                "temperature_degc": point.temperature,
                "at": point.at.isoformat(timespec="seconds"),
                "site": point.site,
            }
            for number, point in enumerate(table.points, start=1)
        ],
        "cautions": cautions_body(),
    }


def cautions_body() -> dict[str, str]:
    """What stands on the page in words."""
    return {"never_touch": NEVER_TOUCH, "stop_is_no_switch": STOP_IS_NO_SWITCH, "authority": AUTHORITY}
