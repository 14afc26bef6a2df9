"""The words by which the office seeks a person, a row each, kept by triggers: narrow enough to be read through at each search."""

from __future__ import annotations

from collections.abc import Sequence

from bot.store.columns import Column

# The place, and the open plots' names, places and plants.
_WORDS = """SELECT people.id, coalesce(people.place, '') || char(10) ||
        coalesce(group_concat(plots.name || char(10) || coalesce(plots.place, ''), char(10)), ''),
        ' ' || coalesce(group_concat(plots.plant, ' '), '') || ' '
    FROM people LEFT JOIN plots ON plots.person = people.id AND plots.name IS NOT NULL AND plots.closed IS NOT 1"""
_CHANGES = (
    ("a_person_is_sought", "INSERT ON people", "new.id"),
    ("a_person_is_sought_elsewhere", "UPDATE OF place ON people", "new.id"),
    ("a_plot_is_sought", "INSERT ON plots WHEN new.name IS NOT NULL", "new.person"),
    ("a_plot_is_sought_otherwise", "UPDATE OF person, name, place, plant, closed ON plots", "new.person"),
)
# A step of the schema: it is never changed.
SOUGHT = (
    """CREATE TABLE sought (
        person INTEGER PRIMARY KEY REFERENCES people ON DELETE CASCADE, words TEXT NOT NULL, plants TEXT NOT NULL) STRICT""",
    f"INSERT INTO sought {_WORDS} GROUP BY people.id",
    *(
        f"""CREATE TRIGGER {name} AFTER {change} BEGIN
            INSERT INTO sought {_WORDS} WHERE people.id = {person} GROUP BY people.id
            ON CONFLICT (person) DO UPDATE SET words = excluded.words, plants = excluded.plants; END"""
        for name, change, person in _CHANGES
    ),
)


def is_sought(word: str, plants: Sequence[str]) -> tuple[str, list[Column]]:
    """A condition on `people`, that this word names them, and its values.

    Args:
        plants: the ids of the plants that the word may name.
    """
    like = "%" + word.replace("\\", "\\\\").replace("%", "\\%").replace("_", "\\_") + "%"
    condition = f"""EXISTS (SELECT 1 FROM sought WHERE sought.person = people.id AND (words LIKE ? ESCAPE '\\'
        {"OR instr(plants, ?)" * len(plants)} {"OR people.address LIKE ?" if word.isdigit() else ""}))"""
    return condition, [like, *(f" {plant} " for plant in plants), *([f"%{word}"] if word.isdigit() else [])]
