# SPDX-License-Identifier: BSD-3-Clause
"""Where the antenna of a workspace stands, as its design files say."""

import tomllib
from pathlib import Path

from ringwright.air.locator import place_of
from ringwright.desk.design_folder import DESIGNS
from ringwright.errors import LocatorError


def own_locator(workspace: Path) -> str | None:
    """The locator in the designs' `[site]`; None where they name none, or more than one."""
    found = {_stated(path) for path in sorted((workspace / DESIGNS).glob("*.toml"))} - {None}
    return found.pop() if len(found) == 1 else None


def _stated(path: Path) -> str | None:
    """What one file states; a file that cannot be read is another verb's to complain of."""
    try:
        site = tomllib.loads(path.read_text(encoding="utf-8")).get("site")
        locator = site.get("locator") if isinstance(site, dict) else None
        if isinstance(locator, str):
            place_of(locator)
            return locator
    except (OSError, ValueError, LocatorError):
        pass
    return None
