# SPDX-License-Identifier: BSD-3-Clause
"""Lines to real boards: a serial port, a message broker. Ports are opened here and nowhere else."""
