# SPDX-License-Identifier: BSD-3-Clause
"""What one sweep said when it was proved against one design, as plain numbers.

The document has the measured keys of an entry of `sweeps` in `ringwright.proof/1`, named and shaped as there.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from math import inf
from typing import Any, TypeGuard

from ringwright.errors import RecordEntryError
from ringwright.proof.comparison import Comparison
from ringwright.proof.estimate import Estimate, Flag

SCHEMA = "ringwright.record.result/1"

_KEYS = {
    "frequency": "frequency_hz",
    "q_unloaded": "q_unloaded",
    "q_loaded": "q_loaded",
    "coupling": "coupling",
    "swr_min": "swr_min",
    "bandwidth_half_power": "bandwidth_half_power_hz",
    "resistance_total": "resistance_total_ohm",
    "efficiency_pct": "efficiency_pct",
}
_MAY_LACK = {"swr_min"}  # a transmission has none
_ENDS = ("", "_low", "_high")


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """Names are the document's keys less their SI suffix; each with its 95 % interval."""

    frequency: Estimate
    q_unloaded: Estimate
    q_loaded: Estimate
    coupling: Estimate
    swr_min: Estimate | None
    bandwidth_half_power: Estimate
    resistance_total: Estimate
    efficiency_pct: Estimate
    flags: tuple[Flag, ...] = ()

    def __post_init__(self) -> None:
        for name, key in _KEYS.items():
            estimate = getattr(self, name)
            if estimate is None:
                if name not in _MAY_LACK:
                    raise RecordEntryError(f"{key} is missing")
            elif not 0.0 <= estimate.low <= estimate.value <= estimate.high < inf:
                raise RecordEntryError(
                    f"{key} is {estimate.value:.6g} ({estimate.low:.6g} to {estimate.high:.6g}); it must be finite, "
                    f"not negative, and lie in its interval"
                )
        if not all(flag.code.isprintable() and flag.text.isprintable() for flag in self.flags):
            raise RecordEntryError("a flag has characters that cannot be shown")
        for name in ("frequency", "q_unloaded"):
            if not getattr(self, name).low > 0.0:
                raise RecordEntryError(f"{_KEYS[name]} must be above 0, with its interval")

    @classmethod
    def of(cls, comparison: Comparison) -> "Result":
        """What a sweep that was set against its prediction said."""
        fit = comparison.fit
        return cls(
            frequency=fit.frequency,
            q_unloaded=fit.q_unloaded,
            q_loaded=fit.q_loaded,
            coupling=fit.coupling,
            swr_min=fit.swr_min,
            bandwidth_half_power=fit.bandwidth_half_power,
            resistance_total=comparison.resistance_total,
            efficiency_pct=comparison.efficiency_pct,
            flags=fit.flags,
        )

    @classmethod
    def from_document(cls, document: Mapping[str, Any]) -> "Result":
        """From the document.

        Raises
        ------
        RecordEntryError
            If a key is missing, unknown or of the wrong kind.
        """
        known = {f"{key}{end}" for key in _KEYS.values() for end in _ENDS} | {"flags", "notes"}
        unknown = document.keys() - known
        if unknown:
            raise RecordEntryError(
                f"{min(unknown)!r} is no key of a result; a newer program may have written it"
            )
        figures = {name: _estimate(document, key) for name, key in _KEYS.items()}
        return cls(**figures, flags=_flags(document.get("flags"), document.get("notes")))  # type: ignore[arg-type]  # None is refused above

    def to_document(self) -> dict[str, Any]:
        """Figures with their ends; `flags` are the words for programs, `notes` the sentences for people."""
        document: dict[str, Any] = {}
        for name, key in _KEYS.items():
            estimate = getattr(self, name)
            # float(): a whole number given as an int is written as what comes back.
            ends = (
                [None] * 3 if estimate is None else map(float, (estimate.value, estimate.low, estimate.high))
            )
            document |= {f"{key}{end}": value for end, value in zip(_ENDS, ends, strict=True)}
        flags, notes = [flag.code for flag in self.flags], [flag.text for flag in self.flags]
        return document | {"flags": flags, "notes": notes}

    def to_text(self) -> str:
        """The document in the one form in which it is kept."""
        return json.dumps(self.to_document(), allow_nan=False, ensure_ascii=False, separators=(",", ":"))


def _estimate(document: Mapping[str, Any], key: str) -> Estimate | None:
    ends = [document.get(f"{key}{end}") for end in _ENDS]
    if ends == [None] * 3:
        return None
    for end, value in zip(_ENDS, ends, strict=True):
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise RecordEntryError(f"{key}{end} is no number")
    try:
        value, low, high = map(float, ends)  # type: ignore[arg-type]  # all are numbers, see above
    except OverflowError as exc:
        raise RecordEntryError(f"{key} is larger than any number that is kept") from exc
    return Estimate(value=value, low=low, high=high)


def _flags(codes: object, texts: object) -> tuple[Flag, ...]:
    if isinstance(codes, list) and texts is None and all(map(_is_early_flag, codes)):
        return tuple(Flag(code=each["code"], text=each["text"]) for each in codes)
    if not (_are_texts(codes) and _are_texts(texts) and len(codes) == len(texts)):
        raise RecordEntryError("flags and notes must be two lists of texts, as long as each other")
    return tuple(Flag(code=code, text=text) for code, text in zip(codes, texts, strict=True))


def _is_early_flag(value: object) -> bool:
    """As the first records have it: word and sentence in one, no `notes`."""
    return isinstance(value, dict) and value.keys() == {"code", "text"} and _are_texts([*value.values()])


def _are_texts(values: object) -> TypeGuard[list[str]]:
    return isinstance(values, list) and all(isinstance(value, str) for value in values)
