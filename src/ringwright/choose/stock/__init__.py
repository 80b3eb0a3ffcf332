# SPDX-License-Identifier: BSD-3-Clause
"""What can be bought everywhere: sizes from published standards, and generic capacitors."""

from ringwright.choose.stock.read import STOCK_FILES, stock_source, stock_tables

__all__ = ["STOCK_FILES", "stock_source", "stock_tables"]
