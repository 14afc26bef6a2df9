"""The specialist's tables: what they hold, how an office lays its own over them, and what is refused."""

import csv
from pathlib import Path

import pytest

import rules.tables
from rules.errors import TableError
from rules.tables import Soil, base, overlay
from rules.tables.rows import SETTLED, rows

BASE = base()
NUMBERS = (BASE.soils, BASE.plants, BASE.limits, BASE.delivery, BASE.instruments, BASE.feel)
FOLDER = Path(rules.tables.__file__).parent


def test_the_tables_are_opened_once() -> None:
    assert base() is base()


def test_there_are_twelve_soils_and_over_a_hundred_plants() -> None:
    assert len(BASE.soils) == 12
    assert len(BASE.plants) >= 100


def test_every_number_tells_its_source_or_that_it_has_none() -> None:
    for table in NUMBERS:
        for row in table.values():
            assert row.evidence
            for column, evidence in row.evidence.items():
                assert evidence.source or evidence.status not in SETTLED, (row.id, column)


def test_no_source_that_was_not_seen_settles_a_number() -> None:
    for table in NUMBERS:
        for row in table.values():
            for column, evidence in row.evidence.items():
                seen = not evidence.source or BASE.sources[evidence.source.split()[0]].seen != "no"
                assert seen or not evidence.settled, (row.id, column)


def test_nothing_from_memory_sets_a_limit_without_saying_so() -> None:
    for row in BASE.limits.values():
        column = "low_kpa" if row.kind == "tension" else "depletion"
        if row.use and not row.evidence[column].settled:
            assert row.evidence[column].status in row.cite(column)


def test_a_citation_names_table_row_column_value_and_source() -> None:
    assert BASE.plants["tomato"].cite("p") == "plants:tomato:p=0.4 (FAO56 T22)"
    assert BASE.soils["loam"].cite("psi_fc") == "soils:loam:psi_fc=22 (working value)"
    assert BASE.delivery["drip.efficiency"].cite("value") == "delivery:drip.efficiency:value=0.9 (FAOEFF, from memory)"


def test_an_offices_cell_lies_over_the_base_and_the_other_cells_stay() -> None:
    laid = overlay(BASE, {"soils.csv": "id,fc,source\nsandy_loam,0.21,county sheet 2026 (invented)\n"})
    row = laid.soils["sandy_loam"]
    assert (row.fc, row.wp) == (0.21, BASE.soils["sandy_loam"].wp)
    assert row.cite("fc") == "soils:sandy_loam:fc=0.21 (office: county sheet 2026 (invented))"
    assert row.cite("wp") == BASE.soils["sandy_loam"].cite("wp")
    assert (row.origin, laid.soils["loam"].origin) == ("office", "base")
    assert BASE.soils["sandy_loam"].fc == 0.23


@pytest.mark.parametrize("status", ["draft", "withdrawn"])
def test_a_row_taken_back_gives_the_base(status: str) -> None:
    laid = overlay(BASE, {"soils.csv": f"id,fc,source,status\nsandy_loam,0.21,sheet,{status}\n"})
    assert laid.soils["sandy_loam"] is BASE.soils["sandy_loam"]


def test_an_office_can_add_a_plant_by_a_row_alone() -> None:
    columns = "id,category,name_en,name_es,root_seedling_cm,root_young_cm,root_cm,p,kc_ini,kc_mid,kc_end,source"
    row = "saffron,herb,saffron,azafrán,10,15,20,0.4,0.4,0.8,0.5,trial plot (invented)"
    plant = overlay(BASE, {"plants.csv": f"{columns}\n{row}\n"}).plants["saffron"]
    assert (plant.origin, plant.root_cm, plant.name_es) == ("office", 20, "azafrán")


def test_an_office_can_lay_a_limit_of_its_own() -> None:
    text = "id,plant,stage,kind,depletion,use,source\nmine,tomato,fruit_set,depletion,0.3,yes,trial (invented)\n"
    laid = overlay(BASE, {"limits.csv": text})
    assert laid.limits_in_use["tomato"][-1].depletion == 0.3


def test_spreadsheet_marks_line_ends_and_breaks_in_cells_are_taken() -> None:
    text = '\ufeffid,fc,source,note\r\nloam,0.26,"sheet, page 2","two\r\nlines"\r\n\r\n'
    row = overlay(BASE, {"soils.csv": text}).soils["loam"]
    assert (row.fc, row.note) == (0.26, "two\r\nlines")


@pytest.mark.parametrize(
    ("text", "line", "column", "said"),
    [
        ('id,fc,source\nloam,"0,26",sheet\n', 2, "fc", "point, not a comma"),
        ("id,fc,source\nloam,0,26,sheet\n", 2, "source", "point, not a comma"),
        ("id;fc;source\nloam;0,26;sheet\n", 1, "id;fc;source", "semicolons"),
        ("id,fc,source\nloam,0.9,sheet\n", 2, "fc", "outside 0.03 to 0.6"),
        ("id,fc,source\nloam,nan,sheet\n", 2, "fc", "outside"),
        ("id,fc,source\nloam,wet,sheet\n", 2, "fc", "must be a number"),
        ("id,fc\nloam,0.26\n", 2, "water_source", "where fc comes from"),
        ("id,fc,source,status\nloam,0.26,sheet,sure\n", 2, "water_status", "none of"),
        ("id,fc,source\nloam,0.26,a\nclay,0.37,b\nloam,0.27,c\n", 4, "id", "already on line 2"),
        ("id,field_capacity,source\nloam,0.26,a\n", 1, "field_capacity", "no such column"),
        ("fc,source\n0.26,a\n", 1, "id", "must be id"),
        ("id,fc,source\n,0.26,a\n", 2, "id", "no id"),
        ("id,fc,source\nlaom,0.26,a\n", 2, "wp", "needs a number"),
        ("id,wp,source\nloam,0.3,a\n", 2, "wp", "below field capacity"),
        ("id,neighbours,source\nloam,mud,a\n", 2, "neighbours", "no soil is called"),
        ("id,feel_group,source\nloam,soft,a\n", 2, "feel_group", "none of"),
    ],
)
def test_a_broken_office_table_is_refused_with_line_column_and_a_plain_sentence(
    text: str, line: int, column: str, said: str
) -> None:
    with pytest.raises(TableError) as refused:
        overlay(BASE, {"soils.csv": text})
    assert (refused.value.file, refused.value.line, refused.value.column) == ("soils.csv", line, column)
    assert said in refused.value.problem


@pytest.mark.parametrize(
    ("file", "text", "column"),
    [
        ("plants.csv", "id,calendar,source\npear,spring budbreak,a\n", "calendar"),
        ("plants.csv", "id,calendar,source\npear,04-40,a\n", "calendar"),
        ("plants.csv", "id,root_young_cm,source\npear,120,a\n", "root_cm"),
        ("plants.csv", "id,generic\npear,maybe\n", "generic"),
        ("limits.csv", "id,plant,kind,low_kpa,high_kpa,source\nx,pear,tension,60,40,a\n", "low_kpa"),
        ("limits.csv", "id,plant,kind,source\nx,pear,depletion,a\n", "depletion"),
        ("limits.csv", "id,plant,kind,depletion,source\nx,pare,depletion,0.5,a\n", "plant"),
        ("limits.csv", "id,plant,stage,kind,depletion,source\nx,pear,party,depletion,0.5,a\n", "stage"),
        ("shoes.csv", "id\nx\n", ""),
    ],
)
def test_rows_that_do_not_fit_together_are_refused(file: str, text: str, column: str) -> None:
    with pytest.raises(TableError) as refused:
        overlay(BASE, {file: text})
    assert refused.value.column == column


def test_a_base_row_must_name_a_source_of_the_source_table() -> None:
    text = (FOLDER / "soils.csv").read_text(encoding="utf-8").replace("FAOMAN5", "NOBODY", 1)
    with pytest.raises(TableError, match="NOBODY"):
        rows(Soil, text, file="soils.csv", sources=frozenset(BASE.sources))


def test_the_readme_explains_every_table() -> None:
    said = (FOLDER / "README.md").read_text(encoding="utf-8")
    for file in FOLDER.glob("*.csv"):
        assert f"**{file.name}**" in said


def test_every_table_opens_in_a_spreadsheet_with_rows_of_one_width() -> None:
    for file in FOLDER.glob("*.csv"):
        with file.open(encoding="utf-8", newline="") as opened:
            widths = {len(row) for row in csv.reader(opened)}
        assert len(widths) == 1, file.name
