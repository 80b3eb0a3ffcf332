# SPDX-License-Identifier: BSD-3-Clause
"""A disk that is full, as the kernel has it: no file grows beyond so many bytes, what fits of a write is written."""

import resource
from collections.abc import Iterator
from contextlib import contextmanager

NEEDS = "left out: needs limits of a process as POSIX has them"


@contextmanager
def no_file_beyond(size: int) -> Iterator[None]:
    """Writes end at `size` bytes of any file: first cut short, then refused with EFBIG (POSIX.1-2017, write())."""
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(
        resource.RLIMIT_FSIZE, (size, before[1])
    )  # Python ignores the signal that comes with it
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
