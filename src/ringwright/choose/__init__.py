# SPDX-License-Identifier: BSD-3-Clause
"""What to build: searches that set many predictions beside each other."""
