"""The errors of the agronomy. Expected outcomes (a CHECK, a missing forecast) are values, not errors."""


class RulesError(Exception):
    """Root of every error that the rules raise."""


class OutOfRange(RulesError):
    """A quantity lies outside what the equation or the table allows."""

    def __init__(self, name: str, value: float, low: float, high: float, unit: str) -> None:
        self.name, self.value, self.low, self.high, self.unit = name, value, low, high, unit
        super().__init__(f"{name} is {value:g} {unit}; it must lie between {low:g} and {high:g} {unit}")


class UnknownName(RulesError):
    """A soil, plant or instrument that no table has; `suggestions` are the nearest that one has."""

    def __init__(self, kind: str, given: str, suggestions: tuple[str, ...] = ()) -> None:
        self.kind, self.given, self.suggestions = kind, given, suggestions
        nearest = f"; did you mean {', '.join(suggestions)}?" if suggestions else ""
        super().__init__(f"no {kind} is called {given!r}{nearest}")


class TableError(RulesError):
    """A table row, or without a column a whole table, that cannot be used. Lines count from 1, the header included."""

    def __init__(self, file: str, line: int, column: str, problem: str) -> None:
        self.file, self.line, self.column, self.problem = file, line, column, problem
        place = f"{file}, line {line}, column {column}" if column else file
        super().__init__(f"{place}: {problem}")
