# SPDX-License-Identifier: BSD-3-Clause
"""Which of two copies of the firmware starts. `main.py` calls `choose` before anything else, the firmware `confirm`.

Three small files: `use` names the copy that is known to be good; `trial` a new one and how often it was begun; a copy
confirmed moves from the one to the other. Two starts on trial without a confirmation, and the good one is back.
"""

import os

COPIES = ("a", "b")
TRIES = 2


def choose(folder: str) -> str:
    """The copy to start now; a start on trial is counted before it is made."""
    good = _text(folder + "/use")
    if good not in COPIES:
        good = "a"
    tried = _text(folder + "/trial")
    if len(tried) == 2 and tried[0] in COPIES and tried[1].isdigit() and int(tried[1]) < TRIES:
        _replace(folder + "/trial", tried[0] + str(int(tried[1]) + 1))
        return tried[0]
    if tried:
        reject(folder)
    return good


def other(copy: str) -> str:
    """The other copy."""
    return "b" if copy == "a" else "a"


def reject(folder: str) -> None:
    """No more trial."""
    try:
        os.remove(folder + "/trial")
    except OSError:
        pass


def confirm(folder: str, copy: str) -> None:
    """This copy is good."""
    if _text(folder + "/use") != copy:
        _replace(folder + "/use", copy)
    if _text(folder + "/trial")[:1] == copy:
        reject(folder)


def _text(name: str) -> str:
    try:
        with open(name) as file:
            return file.read(8).strip()
    except (OSError, ValueError):
        return ""


def _replace(name: str, text: str) -> None:
    """Write beside it and rename, so that a cut leaves the one before."""
    with open(name + ".new", "w") as file:
        file.write(text)
    os.rename(name + ".new", name)
