# SPDX-License-Identifier: BSD-3-Clause
"""The trial: brain and plain methods set before thousands of random twins, a monitor beside them."""
