"""Orders about the record itself, which are whole messages of a few fixed words: redo, pause, resume, rename, close,
share, join, unshare, unremind, on, off, done;
sources, and two about the person: language, privacy.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from bot.talk.setup import folded


@dataclass(frozen=True)
class Order:
    """What to do, with which plot (its name as written), the new name of a renaming, and what else the message says."""

    do: str
    plot: str | None = None
    name: str | None = None
    rest: str = ""


_NAME = r"(?:the |my |el |la |los |las |mi |mis )?(?P<plot>[^,.;:!?]{1,60}?)"
_VALVE = r"(?:el agua|la bomba|el riego|la llave(?: del agua)?)"
_TURN, _WATER = r"turn(?:ed|ing)", r"(?:the )?water"
_END = r"[ .!]*$"
_ORDERS = (
    ("language", r"(?:(?:change )?(?:my |the )?language|(?:cambiar )?(?:de |el )?idioma|lenguaje)"),
    ("privacy", r"(?:(?:my )?privacy(?: policy)?|(?:mi )?privacidad)"),
    ("redo", r"(?:redo|rehacer|rehaga)"),
    ("sources", r"(?:show |the |your |my )*sources?|(?:las |sus )?fuentes?"),
    (
        "quiet",
        r"(?:please )?(?:stop|quit) asking(?: me)?(?: so many)?(?: (?:questions|stuff|things))?|no more questions",
    ),
    (
        "quiet",
        r"(?:por favor )?(?:ya )?(?:no (?:me )?(?:pregunte|preguntes)|deje de preguntar)(?: mas| tanto| tantas cosas)?",
    ),
    (
        "unremind",
        r"(?:please )?(?:no (?:more )?reminders?|(?:stop|cancel|quit|end|delete|remove) (?:all |my )*remind(?:ers?|ing(?: me)?)"
        r"|(?:do not|don'?t) remind me(?: any ?more| again)?)(?: please)?",
    ),
    (
        "unremind",
        r"(?:por favor )?(?:ya )?(?:no me recuerdes?(?: mas| ya)?|(?:sin|no) (?:mas )?recordatorios?"
        r"|(?:cancel|quit|borr)(?:e|ar?) (?:los |el |mis |mi )?recordatorios?)",
    ),
    ("pause", rf"(?:pause|rest|pausa|pausar|pause) {_NAME}"),
    ("resume", rf"(?:resume|unpause|seguir|reanudar|reanude) {_NAME}"),
    (
        "rename",
        rf"(?:rename|renombrar|renombre|cambie el nombre de) {_NAME} (?:to|as|a|por) (?P<name>[^,.;:!?]{{1,40}})",
    ),
    ("join", r"(?:join|unir) (?P<name>[a-z0-9]{6})"),
    ("unshare", rf"(?:unshare|stop sharing|no compartir(?: mas)?|dejar de compartir)(?: {_NAME})?"),
    ("share", rf"(?:share|compartir|comparta)(?: {_NAME})?(?: (?:with|con) [^,.;:!?]{{1,40}})?"),
    ("delete", rf"(?:delete|remove|borrar|borre|quitar|quite) {_NAME}"),
    ("close", rf"(?:close|remove plot|delete plot|drop|cerrar|cierre|quitar parcela) {_NAME}"),
    (
        "on",
        r"(?:on|on now|(?:i am |i'?m )?watering (?:right )?now|(?:estoy )?regando(?: ahorita| ahora)?|"
        r"starting now|start(?:ing)? (?:the )?water(?:ing)? now|water(?:'s| is)? on|prendido|(?:prendi|abri)(?: ya)?"
        rf"(?: {_VALVE})?)",
    ),
    ("on", rf"{_TURN} (?:it|{_WATER}) on|{_TURN} on {_WATER}|just (?:turned it on|started {_WATER}(?:ing)?)"),
    ("on", rf"starting {_NAME} now"),
    ("on", rf"{_TURN} on {_NAME}"),
    ("on", rf"{_NAME} on now"),
    ("on", rf"(?:abri|prendi) {_NAME}"),
    (
        "off",
        rf"{_TURN} (?:it|{_WATER}) off|{_TURN} off {_WATER}|shut (?:it|{_WATER}) off|shut off {_WATER}|stop(?:ped)? the water",
    ),
    ("off", rf"off|off now|water(?:'s| is)? off|done watering|apagado|(?:ya )?(?:apague|cerre)(?: {_VALVE})?"),
    ("done", r"(?:all |im |i'm |i am |its |it's |it is |thats )?(?:done|finished)|done it|just (?:did it|finished)"),
    ("done", r"(?:i )?did (?:it|that|them|them all|as you said)"),
    ("done", r"(?:ya )?listo|ya (?:lo|los|la|las) (?:hice|regue)|ya (?:quedo|quedaron|estuvo)|hecho|ya termine"),
    ("done", rf"(?:done|finished)(?: with)? {_NAME}"),
    ("done", rf"{_NAME} (?:is |are )?(?:done|finished|watered)"),
)
_PATTERNS = tuple((do, re.compile(f"^ *(?:{pattern}){_END}", re.IGNORECASE)) for do, pattern in _ORDERS)
_LONGEST = 120
_REDO_FIRST = re.compile(r"^ *(?:redo|rehacer|rehaga)[.,;!] *(?P<rest>\S.*)$", re.IGNORECASE | re.DOTALL)


def order(text: str) -> Order | None:
    """The order that a message is, or None for any other message."""
    if len(text) > _LONGEST:
        return None
    redo = _REDO_FIRST.match(text)
    if redo:
        return Order("redo", rest=redo["rest"])
    bare = folded(text).strip()
    for do, pattern in _PATTERNS:
        found = pattern.match(bare)
        if found:
            groups = found.groupdict()
            return Order(do, _tidy(groups.get("plot")), _tidy(groups.get("name")))
    return None


def _tidy(name: str | None) -> str | None:
    return " ".join(name.strip(" \"'").lower().split()) or None if name else None
