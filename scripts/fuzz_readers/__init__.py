# SPDX-License-Identifier: BSD-3-Clause
"""Everything that reads what others wrote, under coverage-guided fuzzing: `python -m scripts.fuzz_readers`.

The property tests of the suite make inputs from what their authors thought of; here the reader's own branches say which
input was new, and the next ones start from there. One reader runs in one process, so that a crash, a memory limit or an
endless loop is that reader's alone. It is a find when a reader lets anything out but one of our own sentences, when the
rows that it kept and those that it refused are not all rows, or when it takes too long or too much memory.
`scripts.fuzz_board` does the same for the firmware's loop, where time and power cuts count more than text.
"""
