# SPDX-License-Identifier: BSD-3-Clause
"""The tables of a record, step by step. A step that was ever released is never changed: what is new is a new step.

The number of steps taken stands in the file as `PRAGMA user_version`, set in the step's own transaction.
"""

APPLICATION = 0x52696E67
"""`PRAGMA application_id` of a record: "Ring" in ASCII."""

_MOMENT = "GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T[0-9][0-9]:[0-9][0-9]:[0-9][0-9]Z'"

_MEASUREMENTS = (
    """CREATE TABLE design (
        sha256 TEXT PRIMARY KEY CHECK (length(sha256) = 64),
        text TEXT NOT NULL
    ) STRICT, WITHOUT ROWID""",
    f"""CREATE TABLE sweep (
        id INTEGER PRIMARY KEY,
        sha256 TEXT NOT NULL UNIQUE CHECK (length(sha256) = 64),
        file TEXT NOT NULL UNIQUE CHECK (file <> ''),
        name_given TEXT NOT NULL,
        size INTEGER NOT NULL CHECK (size >= 0),
        measured_at TEXT NOT NULL CHECK (measured_at {_MOMENT}),
        band TEXT,
        build TEXT CHECK (build <> ''),
        temperature REAL,
        note TEXT NOT NULL
    ) STRICT""",
    "CREATE INDEX sweep_by_band ON sweep (band, measured_at)",
    """CREATE TABLE result (
        id INTEGER PRIMARY KEY,
        sweep INTEGER NOT NULL REFERENCES sweep (id),
        design TEXT NOT NULL REFERENCES design (sha256),
        schema TEXT NOT NULL,
        document TEXT NOT NULL,
        UNIQUE (sweep, design)
    ) STRICT""",
    f"""CREATE TABLE note (
        id INTEGER PRIMARY KEY,
        at TEXT NOT NULL CHECK (at {_MOMENT}),
        kind TEXT NOT NULL,
        text TEXT NOT NULL CHECK (text <> ''),
        UNIQUE (at, kind, text)
    ) STRICT""",
)

_TUNINGS = (
    """CREATE TABLE tuning_table (
        name TEXT PRIMARY KEY CHECK (name <> ''),
        site TEXT NOT NULL CHECK (site <> '')
    ) STRICT, WITHOUT ROWID""",
    f"""CREATE TABLE tuning_pair (
        table_name TEXT NOT NULL REFERENCES tuning_table (name),
        number INTEGER NOT NULL CHECK (number >= 1),
        position INTEGER NOT NULL,
        frequency REAL NOT NULL CHECK (frequency > 0),
        spread REAL NOT NULL CHECK (spread > 0),
        temperature REAL,
        measured_at TEXT NOT NULL CHECK (measured_at {_MOMENT}),
        site TEXT NOT NULL CHECK (site <> ''),
        PRIMARY KEY (table_name, number)
    ) STRICT, WITHOUT ROWID""",
    f"""CREATE TABLE tuning (
        id INTEGER PRIMARY KEY,
        sha256 TEXT NOT NULL UNIQUE CHECK (length(sha256) = 64),
        at TEXT NOT NULL CHECK (at {_MOMENT}),
        design TEXT NOT NULL REFERENCES design (sha256),
        table_name TEXT NOT NULL CHECK (table_name <> ''),
        band TEXT,
        frequency REAL NOT NULL CHECK (frequency > 0),
        outcome TEXT NOT NULL,
        schema TEXT NOT NULL,
        document TEXT NOT NULL
    ) STRICT""",
    "CREATE INDEX tuning_by_time ON tuning (at)",
)

_REPORTS = (
    f"""CREATE TABLE report (
        id INTEGER PRIMARY KEY,
        at TEXT NOT NULL CHECK (at {_MOMENT}),
        frequency REAL NOT NULL CHECK (frequency > 0),
        band TEXT NOT NULL CHECK (band <> ''),
        receiver TEXT NOT NULL CHECK (receiver <> ''),
        latitude REAL,
        longitude REAL,
        uncertainty REAL,
        snr REAL,
        power REAL CHECK (power > 0),
        mode TEXT NOT NULL,
        antenna TEXT NOT NULL,
        heard_me INTEGER NOT NULL CHECK (heard_me IN (0, 1)),
        own_locator TEXT NOT NULL,
        CHECK ((latitude IS NULL) = (longitude IS NULL) AND (latitude IS NULL) = (uncertainty IS NULL))
    ) STRICT""",
    """CREATE UNIQUE INDEX report_once ON report
        (at, receiver, band, mode, antenna, heard_me, ifnull(snr, -999.0), ifnull(power, -1.0))""",
)

MIGRATIONS: tuple[tuple[str, ...], ...] = (_MEASUREMENTS, _TUNINGS, _REPORTS)
"""Step n leads from version n - 1 to n; its statements run singly, in one transaction."""
