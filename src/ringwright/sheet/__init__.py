# SPDX-License-Identifier: BSD-3-Clause
"""Pages to print and to keep."""
