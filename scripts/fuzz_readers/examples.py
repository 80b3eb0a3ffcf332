# SPDX-License-Identifier: BSD-3-Clause
"""Values that a JSON schema admits, or nearly: seeds for what the API and its sockets take."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

_OF_TYPE: Mapping[str, Any] = {"integer": 1, "number": 1.5, "boolean": False, "null": None}
_CHOICES = ("oneOf", "anyOf", "allOf")
_DEEPEST = 6


@dataclass(frozen=True, slots=True)
class Examples:
    """`schemas` are those that others refer to, `texts` what a field of some name is best filled with."""

    schemas: Mapping[str, Any]
    texts: Mapping[str, str]

    def of(self, schema: Mapping[str, Any], *, name: str = "", depth: int = _DEEPEST) -> Any:
        """A value of a field called `name`."""
        schema = self._resolved(schema)
        if "const" in schema or "enum" in schema:
            return schema["const"] if "const" in schema else schema["enum"][0]
        kind = schema.get("type", "string")
        if kind == "object":
            fields = schema.get("properties", {}) if depth else {}
            return {key: self.of(inner, name=key, depth=depth - 1) for key, inner in fields.items()}
        if kind == "array":
            has_items = bool(depth) and "items" in schema
            return [self.of(schema["items"], name=name, depth=depth - 1)] if has_items else []
        return _OF_TYPE[kind] if kind in _OF_TYPE else self.texts.get(name, "x")

    def _resolved(self, schema: Mapping[str, Any]) -> Mapping[str, Any]:
        """What it refers to, the first of what it lets choose."""
        if "$ref" in schema:
            return self._resolved(self.schemas[schema["$ref"].rpartition("/")[2]])
        choice = next((word for word in _CHOICES if word in schema), None)
        return schema if choice is None else self._resolved(schema[choice][0])
