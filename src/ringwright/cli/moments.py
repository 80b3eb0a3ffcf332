# SPDX-License-Identifier: BSD-3-Clause
"""Moments as they are typed."""

from datetime import datetime

from ringwright.errors import RecordEntryError
from ringwright.units import shown


def moment(text: str) -> datetime:
    """A moment as people write it; without a zone it is the local time."""
    try:
        return datetime.fromisoformat(text).astimezone()
    except (ValueError, OverflowError, OSError) as exc:
        raise RecordEntryError(f'{shown(text)} is no date; write one as in "2026-05-01 18:30"') from exc
