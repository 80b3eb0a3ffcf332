# SPDX-License-Identifier: BSD-3-Clause
"""The simulated twin: ring, drive, meter, transmitter, operator and link as they are, not as the brain believes."""
