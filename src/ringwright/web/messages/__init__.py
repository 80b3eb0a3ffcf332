# SPDX-License-Identifier: BSD-3-Clause
"""The typed, versioned messages between server and client: the one place where they are stated."""
