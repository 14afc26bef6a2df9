"""Taking back and bringing back. What one message stored, observations and facts, goes and comes as one group.

UNDO takes back the group of the last message, by the time it was written, that still has something in force. REDO
brings back what the last retraction took, and so on backwards; anything stored since then leaves nothing to bring back,
so that a value which was corrected can't return beside its correction. STOP and START are no part of a group, and what came
from a logger's file is taken back on the office's pages.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from bot.store.database import Database
from bot.store.facts import Facts, stored_fact
from bot.store.held import Item, Kept, Person, StoredFact, StoredMessage, StoredObservation
from bot.store.log import stored_observation

_TABLES = (("observations", ""), ("facts", " AND about <> 'stopped'"))


class Corrections:
    """Verbs on what was stored."""

    def __init__(self, database: Database, facts: Facts) -> None:
        self._database, self._facts = database, facts

    def last_kept(self, person: Person) -> Kept | None:
        """What UNDO would take back."""
        last = self._last_message(person, "{table}.message = messages.id AND {table}.retracted_by IS NULL")
        return last and self._group(last[1], "message", " AND retracted_by IS NULL")

    def last_retracted(self, person: Person) -> Kept | None:
        """What REDO would bring back."""
        retracting = self._last_message(person, "{table}.retracted_by = messages.id")
        storing = self._last_message(person, "{table}.message = messages.id")
        if retracting is None or (storing and storing >= retracting):
            return None
        return self._group(retracting[1], "retracted_by", "")

    def undo(self, person: Person, by: StoredMessage) -> Kept | None:
        """Take back the last group in force; None: there is nothing to take back."""
        with self._database.transaction():
            kept = self.last_kept(person)
            if kept:
                self.retract(kept.items, by)
            return kept

    def kept_of(self, messages: Sequence[StoredMessage]) -> Kept | None:
        """What these messages stored and is in force, as one group, that of the last; None: nothing is."""
        groups = [self._group(each.id, "message", " AND retracted_by IS NULL") for each in messages]
        items = tuple(item for group in groups for item in group.items)
        return Kept(message=groups[-1].message, items=items) if items else None

    def redo(self, person: Person) -> Kept | None:
        """Bring back what was taken back last; None: there is nothing to bring back."""
        with self._database.transaction():
            retracted = self.last_retracted(person)
            if retracted:
                self.restore(retracted.items)
            return retracted

    def retract(self, items: Iterable[Item], by: StoredMessage) -> None:
        """These count no more, because of this message. What is retracted already stays as it was."""
        self._set_retracted(items, "retracted_by = ? WHERE id = ? AND retracted_by IS NULL", by.id)

    def restore(self, items: Iterable[Item]) -> None:
        """These count again."""
        self._set_retracted(items, "retracted_by = ? WHERE id = ?", None)

    def observation(self, person: Person, id: int) -> StoredObservation | None:
        """One observation of this person, to be retracted by its id."""
        row = self._database.row("SELECT * FROM observations WHERE id = ? AND person = ?", (id, person.id))
        return stored_observation(row) if row else None

    def _set_retracted(self, items: Iterable[Item], change: str, by: int | None) -> None:
        with self._database.transaction():
            self._database.changed("log")
            for item in items:
                table = "facts" if isinstance(item, StoredFact) else "observations"
                self._database.write(f"UPDATE {table} SET {change}", (by, item.id))
                if isinstance(item, StoredFact):
                    self._facts.put_in_force(item.person, item.plot, item.about)

    def _last_message(self, person: Person, holds: str) -> tuple[str, int] | None:
        """The last message, as its place in the order written, for which a row of either table holds."""
        some = " OR ".join(
            f"EXISTS (SELECT 1 FROM {table} WHERE {holds.format(table=table)}{part})" for table, part in _TABLES
        )
        row = self._database.row(
            f"""SELECT written_at, id FROM messages WHERE person = ? AND author NOT IN ('logger', 'left') AND ({some})
            ORDER BY written_at DESC, id DESC LIMIT 1""",
            (person.id,),
        )
        return (row["written_at"], row["id"]) if row else None

    def _group(self, message: int, link: str, part: str) -> Kept:
        observations, facts = (
            self._database.rows(f"SELECT * FROM {table} WHERE {link} = ?{part}{rest} ORDER BY id", (message,))
            for table, rest in _TABLES
        )
        items: list[Item] = [stored_observation(row) for row in observations]
        items += [stored_fact(row) for row in facts]
        return Kept(message=message, items=tuple(items))
