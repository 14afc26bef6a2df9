"""The console: one person texts from a terminal. The end of the input leaves, and so does an empty line at the prompt."""

from __future__ import annotations

import sys
from collections.abc import Callable

from bot.message import Message, Reply


def chat(receive: Callable[[Message], list[Reply]], sender: str) -> None:
    """Talk until the input ends."""
    at_prompt = sys.stdin.isatty()
    if at_prompt:
        sys.stdout.write("Text as you would a neighbor: tomatoes 45 cb at 12 in. An empty line leaves.\n")
    while True:
        try:
            text = input("> " if at_prompt else "")
        except EOFError:
            return
        if at_prompt and not text.strip():
            return
        for reply in receive(Message(channel="console", sender=sender, text=text)):
            sys.stdout.write(reply.text + "\n")
        sys.stdout.flush()
