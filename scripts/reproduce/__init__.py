# SPDX-License-Identifier: BSD-3-Clause
"""Published figures and tables computed again: the pages and pictures of docs/reproductions/."""
