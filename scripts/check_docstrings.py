# SPDX-License-Identifier: BSD-3-Clause
"""Hold the docstrings of public physics functions to numpydoc with units: `python -m scripts.check_docstrings`.

Public is every function at a module's top level without a leading underscore; where the module has an `__all__`, what
that names. Each parameter stands under Parameters and each result under Returns, those that are numbers with a unit in
brackets ([Hz], [1] where there is none), and Notes or References tell where the formula holds or comes from.
"""

import ast
import re
import sys
from collections.abc import Iterator
from pathlib import Path

PHYSICS = Path("src/ringwright/physics")

_HEADING = re.compile(r"^(\w[\w ]*)\n-{3,}\n", re.MULTILINE)
_ENTRY = re.compile(r"^([*\w][*\w, ]*?)\s*:.*\n((?:(?:[ \t]+.*)?\n)*)", re.MULTILINE)
_UNIT = re.compile(r"\[[^\]]+\](?!_)")  # [m], not the citation [1]_
_NUMBER = re.compile(r"float|complex|Array")


def sections(docstring: str) -> dict[str, str]:
    """The text below each underlined heading."""
    parts = _HEADING.split(docstring + "\n")
    return dict(zip(parts[1::2], parts[2::2], strict=True))


def is_number(annotation: ast.expr | None) -> bool:
    """Whether a value so annotated has a unit: a number or an array, not a count, a choice or a function."""
    text = ast.unparse(annotation) if annotation else ""
    return bool(_NUMBER.search(text)) and "Callable" not in text


def public_functions(module: ast.Module) -> Iterator[ast.FunctionDef]:
    exported = None
    for node in module.body:
        if isinstance(node, ast.Assign | ast.AnnAssign) and node.value is not None:
            target = node.targets[0] if isinstance(node, ast.Assign) else node.target
            if ast.unparse(target) == "__all__":
                exported = ast.literal_eval(node.value)
    for node in module.body:
        if isinstance(node, ast.FunctionDef):
            is_public = not node.name.startswith("_") if exported is None else node.name in exported
            if is_public:
                yield node


def parameter_complaints(function: ast.FunctionDef, text: str) -> Iterator[str]:
    spec = function.args
    annotations = {a.arg: a.annotation for a in (*spec.posonlyargs, *spec.args, *spec.kwonlyargs)}
    described: set[str] = set()
    for entry in _ENTRY.finditer(text):
        names = {name.strip(" *") for name in entry[1].split(",")}
        described |= names
        for name in sorted(names & annotations.keys()):
            if is_number(annotations[name]) and not _UNIT.search(entry[2]):
                yield f"parameter {name} has no [unit]"
    yield from (f"parameter {name} is not described" for name in annotations if name not in described)
    extra = described - annotations.keys() - {a.arg for a in (spec.vararg, spec.kwarg) if a}
    yield from (f"describes {name}, which is no parameter" for name in sorted(extra))


def function_complaints(function: ast.FunctionDef) -> Iterator[str]:
    docstring = ast.get_docstring(function)
    if docstring is None:
        yield "has no docstring"
        return
    found = sections(docstring)
    yield from parameter_complaints(function, found.get("Parameters", ""))
    returns_nothing = function.returns is None or ast.unparse(function.returns) == "None"
    if "Returns" not in found and not returns_nothing:
        yield "has no Returns section"
    elif is_number(function.returns) and not _UNIT.search(found["Returns"]):
        yield "result has no [unit]"
    if not found.keys() & {"Notes", "References"}:
        yield "has neither Notes nor References"


def complaints(source: str, name: str) -> Iterator[str]:
    """One line for each thing amiss in the module `source`, which is called `name`."""
    for function in public_functions(ast.parse(source)):
        for complaint in function_complaints(function):
            yield f"{name}:{function.lineno}: {function.name}: {complaint}"


def main() -> int:
    modules = sorted(PHYSICS.rglob("*.py"))
    assert modules, f"run from the project's root: {PHYSICS} is not here"
    found = [
        line for path in modules for line in complaints(path.read_text(encoding="utf-8"), path.as_posix())
    ]
    for line in found:
        print(line)
    print(f"docstrings: {len(modules)} modules, {len(found)} complaints")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
