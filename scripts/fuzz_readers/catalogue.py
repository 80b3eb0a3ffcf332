# SPDX-License-Identifier: BSD-3-Clause
"""Which module holds which reader, and which of our packages it is about; each is imported in its own process only."""

HOMES = {
    "design": "design_files",
    "brief": "design_files",
    "parts": "design_files",
    "calibration": "design_files",
    "touchstone": "sweeps",
    "table": "sweeps",
    "readings": "sweeps",
    "reports": "reports",
    "adif": "reports",
    "adx": "reports",
    "slots": "reports",
    "orders": "link",
    "statuses": "link",
    "tuning-table": "kept",
    "journal": "kept",
    "workspace": "kept",
    "record": "kept",
    "http": "web",
    "socket": "web",
}

COUNTED = {
    "design_files": ("units", "antenna.design_file", "antenna.calibration", "choose.rings"),
    "sweeps": ("units", "proof"),
    "reports": ("air",),
    "link": ("tuner.messages_text", "tuner.line_check", "tuner.links.lines"),
    "kept": ("tuner.table", "tuner.journal", "tuner.board_journal", "records", "desk.search_journal"),
    "web": ("web", "desk"),
}
"""What a module's readers run of ours, below `ringwright`: counting all of it takes a minute before the first input."""
