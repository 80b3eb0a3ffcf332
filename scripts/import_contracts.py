# SPDX-License-Identifier: BSD-3-Clause
"""Two import rules that import-linter does not bring: an allow-list for a package, and a door for a library."""

import abc
from typing import Any

from grimp import ImportGraph
from importlinter import Contract, ContractCheck, fields, output


def _is_within(module: str, packages: list[str]) -> bool:
    return any(module == package or module.startswith(f"{package}.") for package in packages)


class _EachImport(Contract):
    """A rule that can be judged one direct import at a time; its options are plain names."""

    @abc.abstractmethod
    def is_allowed(self, importer: str, imported: str) -> bool: ...

    def option(self, name: str) -> Any:
        return self.contract_options[name]

    def check(self, graph: ImportGraph, verbose: bool) -> ContractCheck:  # noqa: ARG002 -- the base's signature
        broken = [
            (importer, imported)
            for importer in sorted(graph.modules)
            for imported in sorted(graph.find_modules_directly_imported_by(importer))
            if not self.is_allowed(importer, imported)
        ]
        return ContractCheck(kept=not broken, metadata={"broken": broken})

    def render_broken_contract(self, check: ContractCheck) -> None:
        for importer, imported in check.metadata["broken"]:
            output.print_error(f"{importer} must not import {imported}")
        output.new_line()


class ImportsOnly(_EachImport):
    """Modules of `package` import each other and what is in `allowed`, nothing else."""

    package = fields.StringField()
    allowed = fields.ListField(subfield=fields.StringField())

    def is_allowed(self, importer: str, imported: str) -> bool:
        package = self.option("package")
        return not _is_within(importer, [package]) or _is_within(imported, [package, *self.option("allowed")])


class Doors(_EachImport):
    """Each of `libraries` is imported by modules of `packages` only; it need not be imported at all."""

    libraries = fields.ListField(subfield=fields.StringField())
    packages = fields.ListField(subfield=fields.StringField())

    def is_allowed(self, importer: str, imported: str) -> bool:
        is_guarded = _is_within(imported, self.option("libraries"))
        return not is_guarded or _is_within(importer, self.option("packages"))
