# SPDX-License-Identifier: BSD-3-Clause
"""The settings file of the board: what is wired where, and how it is reached. Nothing here needs a board."""

PIN_USES = (
    "step", "direction", "enable", "permit", "low_stop", "high_stop", "forward", "reflected", "thermistor",
)  # fmt: skip
MAY_BE_ABSENT = ("low_stop", "high_stop", "thermistor")
_NAME_LETTERS = "abcdefghijklmnopqrstuvwxyz0123456789-"


def trouble(found) -> str | None:
    """What is wrong with the settings, in one sentence; None where they fit."""
    if not isinstance(found, dict) or not isinstance(found.get("pins"), dict):
        return "settings.json must be an object with pins"
    return _pins_trouble(found["pins"]) or _rest_trouble(found)


def _pins_trouble(pins) -> str | None:
    seen = []
    for use in PIN_USES:
        number = pins.get(use, "")
        if number is None and use in MAY_BE_ABSENT:
            continue
        if isinstance(number, bool) or not isinstance(number, int) or number < 0:
            otherwise = " or null" if use in MAY_BE_ABSENT else ""
            return f"pins.{use} must be a pin number{otherwise}"
        if number in seen:
            return f"pins.{use} is a pin that has another use already"
        seen.append(number)
    for use in pins:
        if use not in PIN_USES:
            return f"pins.{use} is none of the board's pins"
    return None


def _rest_trouble(found) -> str | None:
    reading = found.get("reading_ms", 50)
    if isinstance(reading, bool) or not isinstance(reading, int) or not 20 <= reading <= 100:
        return "reading_ms must be a whole number from 20 to 100"
    if found.get("driver_on", 0) not in (0, 1):
        return "driver_on must be 0 or 1"
    if not isinstance(found.get("drive", {}), dict):
        return "drive must be an object"
    if not _has_texts(found.get("wireless"), ("name", "password")):
        return "wireless must be null or have a name and a password"
    return _broker_trouble(found.get("broker"))


def _broker_trouble(broker) -> str | None:
    if not _has_texts(broker, ("address",)):
        return "broker must be null or have an address and a port"
    if broker is not None and not _is_broker(broker):
        return "broker.port must be a whole number, broker.name of lower-case letters, digits and hyphens"
    return None


def _has_texts(found, keys) -> bool:
    if found is None:
        return True
    return isinstance(found, dict) and all(isinstance(found.get(key), str) for key in keys)


def _is_broker(broker) -> bool:
    port, name = broker.get("port", 1883), broker.get("name", "ring")
    if isinstance(port, bool) or not isinstance(port, int) or not 0 < port < 65536:
        return False
    return isinstance(name, str) and 0 < len(name) <= 32 and all(letter in _NAME_LETTERS for letter in name)
