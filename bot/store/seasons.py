"""The seasons of all plots in figures, a row a plot and year, so that the county's sums need no plot to be added up again.

Triggers blank a row whenever something that it hangs on changes; whoever finds a blank row adds it up.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, fields
from datetime import date
from typing import Any, NamedTuple

from bot.store.columns import Column, column
from bot.store.database import Database

_BLANK = "SET state = random(), made_by = NULL"
_MINE = "plot IN (SELECT id FROM plots WHERE person = new.id)"
_CHANGES = (
    ("a_plot_changes_its_seasons", "UPDATE ON plots", "plot = new.id"),
    ("a_home_changes_its_seasons", "UPDATE OF latitude, longitude, elevation_m ON people", _MINE),
    ("a_baseline_changes_seasons", "INSERT ON baselines", "plot = new.plot"),
)
# A step of the schema: it is never changed. `state` tells whether a row was blanked while it was being added up.
SEASONS = (
    """CREATE TABLE seasons (
        year INTEGER NOT NULL, plot INTEGER NOT NULL REFERENCES plots ON DELETE CASCADE, state INTEGER NOT NULL,
        made_by TEXT, first TEXT, last TEXT, waterings INTEGER, applied_mm REAL, needed_mm REAL, rain_mm REAL,
        applied_m3 REAL, needed_m3 REAL, baseline TEXT, saved_mm REAL, saved_m3 REAL, money REAL, energy_kwh REAL,
        PRIMARY KEY (year, plot)) STRICT, WITHOUT ROWID""",
    "CREATE INDEX seasons_of_plot ON seasons (plot)",
    """INSERT INTO seasons (year, plot, state)
        SELECT DISTINCT CAST(substr(day, 1, 4) AS INTEGER), plot, 0 FROM advices""",
    f"""CREATE TRIGGER an_advice_changes_its_season AFTER INSERT ON advices BEGIN
        INSERT INTO seasons (year, plot, state) VALUES (CAST(substr(new.day, 1, 4) AS INTEGER), new.plot, random())
        ON CONFLICT (year, plot) DO UPDATE {_BLANK}; END""",
    *(
        f"CREATE TRIGGER {name} AFTER {change} BEGIN UPDATE seasons {_BLANK} WHERE {which}; END"
        for name, change, which in _CHANGES
    ),
)


class Blank(NamedTuple):
    """A season to be added up."""

    year: int
    plot: int
    state: int


@dataclass(frozen=True, kw_only=True)
class Figures:
    """A season in figures; None: not known. Depths in mm, volumes in m3, money in the office's; `baseline` is its kind."""

    first: date
    last: date
    waterings: int
    applied_mm: float
    needed_mm: float
    rain_mm: float
    applied_m3: float | None
    needed_m3: float | None
    baseline: str | None
    saved_mm: float | None
    saved_m3: float | None
    money: float | None
    energy_kwh: float | None


class Seasons:
    """Verbs on them. `made_by` names the program and the tables by which figures are made: by others they are blank."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def blank(self, made_by: str, at_most: int) -> list[Blank]:
        """Seasons of any year that wait to be added up, the newest year first."""
        rows = self._database.rows(
            "SELECT year, plot, state FROM seasons WHERE made_by IS NOT ? ORDER BY year DESC LIMIT ?",
            (made_by, at_most),
        )
        return [Blank(*row) for row in rows]

    def add_up(self, season: Blank, made_by: str, figures: Figures | None) -> None:
        """What the season comes to; None: nothing can be said of it. Nothing is kept if it was blanked since."""
        told: Mapping[str, Any] = asdict(figures) if figures else dict.fromkeys(_FIGURES)
        names = ", ".join(f"{name} = ?" for name in told)
        self._database.write(
            f"UPDATE seasons SET made_by = ?, {names} WHERE year = ? AND plot = ? AND state = ?",
            (made_by, *map(column, told.values()), *season),
        )

    def waiting(self, year: int, made_by: str) -> int:
        """How many seasons of the year wait to be added up."""
        row = self._database.row(
            "SELECT count(*) AS n FROM seasons WHERE year = ? AND made_by IS NOT ?", (year, made_by)
        )
        return int(row["n"]) if row else 0

    def sums(self, year: int) -> dict[str, Any]:
        """The year's figures summed, and of how many people and plots they are; `savers` have a saving in it."""
        row = self._database.row(
            """SELECT count(DISTINCT person) AS people, count(*) AS plots, sum(waterings) AS waterings,
            total(applied_m3) AS applied_m3, total(needed_m3) AS needed_m3, count(saved_m3) AS with_baseline,
            count(DISTINCT iif(saved_m3 IS NULL, NULL, person)) AS savers,
            total(saved_m3) AS saved_m3, total(money) AS money, total(energy_kwh) AS energy_kwh
            FROM seasons JOIN plots ON plots.id = plot WHERE year = ? AND seasons.first IS NOT NULL""",
            (year,),
        )
        return dict(row) if row else {}

    def each(self, year: int, least_people: int) -> list[tuple[Column, ...]]:
        """The plant and the figures of each plot of the year, as `EACH` names them; no plant where fewer people have it."""
        rows = self._database.rows(
            """WITH common AS (SELECT plant FROM seasons JOIN plots ON plots.id = plot
                WHERE year = ? AND seasons.first IS NOT NULL GROUP BY plant HAVING count(DISTINCT person) >= ?)
            SELECT common.plant, seasons.first, seasons.last, waterings, round(applied_mm), round(needed_mm), round(rain_mm),
                round(saved_mm, 1), round(saved_m3, 1), baseline
            FROM seasons JOIN plots ON plots.id = plot LEFT JOIN common ON common.plant = plots.plant
            WHERE year = ? AND seasons.first IS NOT NULL ORDER BY plot""",
            (year, least_people, year),
        )
        return [tuple(row) for row in rows]


_FIGURES = tuple(field.name for field in fields(Figures))
EACH = (
    "plant", "first", "last", "waterings", "put_on_mm", "needed_mm", "rain_mm", "saved_mm", "saved_m3", "baseline",
)  # fmt: skip
