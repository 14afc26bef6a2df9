"""The web chat: one page for people with a browser, with script or without; and the page that a link to a graph opens."""

from __future__ import annotations

from bot.channels.web.chat import chat_pages
from bot.channels.web.graph import graph_pages
from bot.channels.web.post import Pages

__all__ = ["Pages", "chat_pages", "graph_pages"]
