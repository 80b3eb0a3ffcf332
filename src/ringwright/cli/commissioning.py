# SPDX-License-Identifier: BSD-3-Clause
"""Bringing a drive up in the terminal: what is expected is printed, questions are asked, answers are lines."""

import json
import sys
from contextlib import closing
from dataclasses import dataclass
from typing import Any

import click

from ringwright.cli.terminal import Terminal
from ringwright.cli.tuning import Drive
from ringwright.tuner.commission import TITLES, Assistant, StepName
from ringwright.tuner.links.reflectometer import Reflectometer, open_reflectometer


def bring_up(drive: Drive, step: str | None, *, meter: str | None, as_json: bool) -> bool:
    """All steps that are not done; whether they are now. `meter`: where an instrument is that says the watts."""
    if meter is None:
        return _bring_up(drive, step, _Person(as_json=as_json, reflectometer=None))
    with closing(open_reflectometer(meter)) as reflectometer:
        return _bring_up(drive, step, _Person(as_json=as_json, reflectometer=reflectometer))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Person:
    """Who answers: lines of standard input, and an instrument for the watts, if there is one."""

    as_json: bool
    reflectometer: Reflectometer | None


def _bring_up(drive: Drive, step: str | None, person: _Person) -> bool:
    as_json, assistant = person.as_json, drive.assistant
    terminal = Terminal.of_stdout()
    again = None if step is None else StepName(step)
    while again is not None or not assistant.is_done:
        doing = again or assistant.found.next_step
        assert doing is not None
        if not as_json:
            terminal.say("")
            terminal.say(f"{TITLES[doing]}")
            terminal.say(terminal.wrapped(assistant.expects(doing), first="  ", rest="  "))
        assistant.begin(again)
        again = None
        drive.run(0.1)
        if not _do(drive, assistant, person):
            return False
    if not as_json:
        terminal.say("The drive is brought up.")
    return True


def _do(drive: Drive, assistant: Assistant, person: _Person) -> bool:
    """One step, to its end; whether it was done."""
    while True:
        drive.run_until_waits()
        document = assistant.document()
        if document["question"] is None:
            return document["refusal"] is None
        answer = _answer(document, person)
        if answer is None:
            assistant.leave()
            drive.run(0.1)
            return False
        assistant.answer(answer)
        drive.run(0.1)


def _answer(document: dict[str, Any], person: _Person) -> str | None:
    """A line of the person's; None where there are no more."""
    choices = document["choices"]
    if person.as_json:
        click.echo(json.dumps(document, ensure_ascii=False))
    else:
        numbered = ", ".join(f"{number} {choice}" for number, choice in enumerate(choices, 1))
        hint = f" ({numbered})" if choices else f" [{document['unit']}]"
        if document["refusal"]:
            click.echo(f"  {document['refusal']}")
        click.echo(f"? {document['question']}{hint} ", nl=False)
    if document["unit"] == "W" and person.reflectometer is not None:
        return f"{person.reflectometer.read()[0]:.4g}"
    line = sys.stdin.readline()
    if not sys.stdin.isatty() and not person.as_json:
        click.echo(line.strip())  # a terminal shows what is typed by itself
    return line.strip() if line else None
