# SPDX-License-Identifier: BSD-3-Clause
"""From bands, a room and parts to the handful of rings worth building."""
