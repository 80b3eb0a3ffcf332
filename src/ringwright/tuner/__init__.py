# SPDX-License-Identifier: BSD-3-Clause
"""Tuning a ring from a distance: a brain, the messages to a board, and a twin of both to learn on."""
