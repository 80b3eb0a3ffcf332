# SPDX-License-Identifier: BSD-3-Clause
"""What runs on the board at the mast beside `tuner.board`: pins, links, flash. MicroPython only."""
