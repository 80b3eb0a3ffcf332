# SPDX-License-Identifier: BSD-3-Clause
"""One reader in this process: `python -m scripts.fuzz_readers.one READER CORPUS [-max_total_time=600 ...]`.

The words after the corpus are those of the fuzzer (libFuzzer). Warnings are errors here as in the tests: what prints
one at a user's terminal was not read well.
"""

import random
import sys
import warnings
from collections.abc import Sequence
from importlib import import_module
from pathlib import Path

import atheris  # type: ignore[import-not-found, import-untyped, unused-ignore] # published without types, for Linux

import ringwright
from scripts.fuzz_readers.catalogue import COUNTED, HOMES
from scripts.fuzz_readers.mutations import changed
from scripts.fuzz_readers.reader import Reader, look


def load(name: str) -> Reader:
    """A reader, and what it runs of ours counted."""
    home = HOMES[name]
    with atheris.instrument_imports(include=["ringwright"], exclude=uncounted(COUNTED[home])):
        module = import_module(f"scripts.fuzz_readers.{home}")
    readers: tuple[Reader, ...] = module.READERS
    return next(reader for reader in readers if reader.name == name)


def uncounted(counted: Sequence[str]) -> list[str]:
    """All our modules but those under some names."""
    source = Path(ringwright.__file__).parent
    names = (path.relative_to(source).with_suffix("") for path in source.rglob("*.py"))
    modules = (".".join(part for part in name.parts if part != "__init__") for name in names)
    return [f"ringwright.{module}".rstrip(".") for module in modules if not module.startswith(tuple(counted))]


def main() -> None:
    name, corpus, *words = sys.argv[1:]
    reader = load(name)
    for number, seed in enumerate(reader.seeds):
        (Path(corpus) / f"seed-{number}").write_bytes(seed)
    warnings.simplefilter("error")

    def change(data: bytes, most: int, seed: int) -> bytes:
        rng = random.Random(seed)  # noqa: S311 -- no secret
        if rng.random() < 0.3:
            return bytes(atheris.Mutate(data, most))
        return changed(reader, data, rng)[:most]

    arguments = [sys.argv[0], corpus, *words, f"-max_len={reader.longest}", "-len_control=0"]
    atheris.Setup(arguments, lambda data: look(reader, data), custom_mutator=change)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
