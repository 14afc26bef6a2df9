"""What the office's pages cost with a county of people. By hand:

    python tests/bench/bench_office.py [PEOPLE] [TEXTED]

TEXTED invented people text a real line (tests/office/county.py); their rows are then copied, each copy under numbers and
addresses of its own, until there are PEOPLE. Each page is asked for through the application, without a network.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path
from statistics import median, quantiles
from tempfile import TemporaryDirectory

sys.path.insert(0, str(Path(__file__).parents[1] / "office"))

from county import open_county
from office_desk import Browser, office_of

from bot.line import Line

ROUNDS = 40
# Columns that name a row of another table (or of their own), which a copy must have of its own too.
NUMBERS = {
    "people": {"id": "people"},
    "plots": {"id": "plots", "person": "people"},
    "messages": {"id": "messages", "person": "people"},
    "facts": {"id": "facts", "person": "people", "plot": "plots", "message": "messages", "retracted_by": "messages"},
    "observations": {
        "id": "observations", "person": "people", "plot": "plots", "message": "messages", "retracted_by": "messages",
    },
    "advices": {"id": "advices", "person": "people", "plot": "plots", "message": "messages"},
    "calls": {"id": "calls", "person": "people", "message": "messages"},
}  # fmt: skip


def multiply(line: Line, people: int) -> int:
    """Copy everybody until there are so many people; how many there are."""
    database = line.store._database
    size = {table: database.row(f"SELECT max(id) AS n FROM {table}")["n"] or 0 for table in NUMBERS}
    copies = -(-people // size["people"])
    with line.store.transaction():
        for number in range(1, copies):
            for table, numbers in NUMBERS.items():
                columns = [row["name"] for row in database.rows(f"SELECT name FROM pragma_table_info('{table}')")]
                copied = [
                    f"{name} + {size[numbers[name]] * number}" if name in numbers
                    else f"address || '{number:03d}'" if name == "address"
                    else name
                    for name in columns
                ]  # fmt: skip
                database.write(
                    f"INSERT INTO {table} ({', '.join(columns)}) SELECT {', '.join(copied)} FROM {table} WHERE id <= ?",
                    (size[table],),
                )
    return copies * size["people"]


def measure(browser: Browser, path: str) -> str:
    browser.get(path)
    assert browser.status == 200, path
    took = []
    for _ in range(ROUNDS):
        began = time.perf_counter()
        browser.get(path)
        took.append((time.perf_counter() - began) * 1000)
    return f"{path:42} median {median(took):6.1f} ms   p95 {quantiles(took, n=20)[-1]:6.1f} ms   most {max(took):6.1f} ms"


def main() -> None:
    people = int(sys.argv[1]) if len(sys.argv) > 1 else 20_000
    texted = int(sys.argv[2]) if len(sys.argv) > 2 else 500
    with TemporaryDirectory() as folder:
        began = time.perf_counter()
        line, clock = open_county(min(texted, people), database=Path(folder) / "county.sqlite")
        filled = time.perf_counter()
        count = multiply(line, people)
        print(f"{texted} people texted in {filled - began:.0f} s, copied to {count} in {time.perf_counter() - filled:.0f} s")  # noqa: T201
        browser = office_of(line, clock).browser("Ines")
        pages = (
            "", "/people", "/people?page=200", "/people?sort=place", "/people?q=tomatoes", "/people?q=dry+fork+lawn",
            "/people?q=0107", "/people/late", "/people/late?q=peaches&sort=place", "/people/check", "/desk", "/people/7",
            "/health", "/trail",
        )  # fmt: skip
        for page in pages:
            print(measure(browser, f"/office{page}"))  # noqa: T201
        line.store.close()


if __name__ == "__main__":
    main()
