# SPDX-License-Identifier: BSD-3-Clause
"""The record of an antenna: what was measured, of which design, what happened in between, and what it adds up to."""
