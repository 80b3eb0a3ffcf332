# SPDX-License-Identifier: BSD-3-Clause
"""Bringing a drive up in the terminal: what is expected is printed, questions are asked, answers are lines."""

import json
import sys
from typing import Any

import click

from ringwright.cli.terminal import Terminal
from ringwright.cli.tuning import Drive
from ringwright.tuner.commission import EXPECTED, TITLES, Assistant, StepName


def bring_up(drive: Drive, step: str | None, *, as_json: bool) -> bool:
    """All steps that are not done; whether they are now."""
    assistant = drive.assistant
    terminal = Terminal.of_stdout()
    again = None if step is None else StepName(step)
    while again is not None or not assistant.is_done:
        doing = again or assistant.found.next_step
        assert doing is not None
        if not as_json:
            terminal.say("")
            terminal.say(f"{TITLES[doing]}")
            terminal.say(terminal.wrapped(EXPECTED[doing], first="  ", rest="  "))
        assistant.begin(again)
        again = None
        drive.run(0.1)
        if not _do(drive, assistant, as_json=as_json):
            return False
    if not as_json:
        terminal.say("The drive is brought up.")
    return True


def _do(drive: Drive, assistant: Assistant, *, as_json: bool) -> bool:
    """One step, to its end; whether it was done."""
    while True:
        drive.run_until_waits()
        document = assistant.document()
        if document["question"] is None:
            return document["refusal"] is None
        answer = _answer(document, as_json=as_json)
        if answer is None:
            assistant.leave()
            drive.run(0.1)
            return False
        assistant.answer(answer)
        drive.run(0.1)


def _answer(document: dict[str, Any], *, as_json: bool) -> str | None:
    """A line of the person's; None where there are no more."""
    choices = document["choices"]
    if as_json:
        click.echo(json.dumps(document, ensure_ascii=False))
    else:
        hint = f" ({', '.join(choices)})" if choices else f" [{document['unit']}]"
        if document["refusal"]:
            click.echo(f"  {document['refusal']}")
        click.echo(f"? {document['question']}{hint}")
    line = sys.stdin.readline()
    return line.strip() if line else None
