"""What was stored is read back in one line: plot, day, amount."""

from datetime import date

import pytest

from bot.understand.statements import Fact, Rain, Reading, Request, Sign, Watering
from bot.word.say import Words

MON, TUE = date(2026, 7, 13), date(2026, 7, 14)
EN, ES = Words("en", "us", "sms", TUE), Words("es", "metric", "sms", TUE)
WATERED = Watering(on=TUE, minutes=120.0, depth_mm=12.7, plot="peaches")


@pytest.mark.parametrize(
    ("statement", "english", "spanish"),
    [
        (WATERED, "peaches on Tue Jul 14: 2 h of water (0.5 in)", "peaches el mar 14 jul: riego de 2 h (12.7 mm)"),
        (
            Watering(on=MON, plot="apples"),
            "apples on Mon Jul 13: watered, no amount",
            "apples el lun 13 jul: riego, sin cantidad",
        ),
        (Watering(on=MON, litres_each=18.93, plot="apples"), "5 gal of water each", "riego de 19 L por planta"),
        (
            Reading(on=TUE, quantity="tension", value=45.0, depth_cm=30.48, plot="peaches"),
            "45 cb at 12 in",
            "45 cb a 30 cm",
        ),
        (Reading(on=TUE, quantity="resistance", value=2100.0), "2100 ohms", "2100 ohms"),
        (Reading(on=TUE, quantity="percent", value=28.5), "28.5%", "28.5%"),
        (Reading(on=TUE, quantity="dial", value=3.0), "3 of 10", "3 de 10"),
        (Reading(on=TUE, quantity="feel", value="moist"), "feels moist (B)", "tierra humeda (B)"),
        (Reading(on=TUE, quantity="rod", value=10.16), "rod in 4 in", "varilla hasta 10 cm"),
        (Reading(on=TUE, quantity="bare", value=25.0), "Tue Jul 14: 25", "mar 14 jul: 25"),
        (Rain(on=MON, depth_mm=10.16), "0.4 in of rain", "10.2 mm de lluvia"),
        (Rain(on=MON, depth_mm=0.0), "no rain", "sin lluvia"),
        (Rain(on=MON, depth_mm=-127.0), "-5 in of rain", "-127 mm de lluvia"),
        (Rain(on=MON), "rain, no amount", "lluvia, sin cantidad"),
        (Sign(sign="runoff", plot="lawn", on=TUE), "lawn on Tue Jul 14: water runs off", "el agua se escurre"),
        (
            Fact(about="soil", value="sandy_loam", plot="peaches"),
            "peaches: soil sandy loam",
            "peaches: tierra franco arenosa",
        ),
        (Fact(about="root_depth_cm", value=45.72, plot="peaches"), "root depth 18 in", "raiz 46 cm"),
        (Fact(about="rate_mm_h", value=16.9), "water rate 0.67 in/h", "agua por hora 16.9 mm/h"),
        (Fact(about="container_litres", value=18.93), "pot size 5 gal", "maceta 19 L"),
        (Fact(about="water_days", value=["mon", "thu"]), "water days Mon, Thu", "dias de riego lun, jue"),
        (Fact(about="planted_on", value="2026-05-12"), "planted Tue May 12", "siembra mar 12 may"),
        (Fact(about="place", value="74059"), "place 74059", "lugar 74059"),
        (Fact(about="count", value=40.0), "number of plants 40", "plantas 40"),
        (Fact(about="stress", value=True, plot="cab"), "cab: kept dry on purpose", "cab: riego recortado a proposito"),
        (Fact(about="new_plot", value="pears", plot="pears"), "new plot pears", "parcela nueva pears"),
        (Fact(about="units", value="metric"), "units mm and liters", "medidas mm y litros"),
        (Fact(about="soil", value="unknown"), "soil not known", "tierra no se sabe"),
    ],
)
def test_each_thing_is_read_back(statement, english, spanish):
    assert english in EN.kept([statement])
    assert spanish in ES.kept([statement])


def test_the_whole_line_with_its_way_back():
    assert EN.kept([WATERED]) == "Saved: peaches on Tue Jul 14: 2 h of water (0.5 in). UNDO takes it back."
    assert ES.kept([WATERED], undo=False) == "Anotado: peaches el mar 14 jul: riego de 2 h (12.7 mm)."


def test_what_shares_plot_and_day_is_said_together():
    readings = [Reading(on=TUE, quantity="tension", value=value, depth_cm=depth, plot="peaches")
                for value, depth in ((45.0, 30.48), (30.0, 60.96))]  # fmt: skip
    assert EN.kept(readings, undo=False) == "Saved: peaches on Tue Jul 14: 45 cb at 12 in, 30 cb at 24 in."


def test_a_request_is_nothing_to_keep():
    assert "Saved: lawn on" in EN.kept([Request(want="why"), Sign(sign="puddles", plot="lawn", on=TUE)])


def test_all_plots_are_named_as_such():
    assert "all plots on Tue Jul 14: 45 min of water" in EN.kept([Watering(on=TUE, minutes=45.0, plot="*")])


def test_undo_redo_and_repeats_name_the_thing():
    left = [Watering(on=date(2026, 7, 7), minutes=240.0, plot="peaches")]
    assert EN.undone([WATERED], left) == (
        "Taken back: peaches on Tue Jul 14: 2 h of water (0.5 in). REDO puts it back. "
        "Last one kept: peaches on Tue Jul 7: 4 h of water."
    )
    assert EN.redone([WATERED]).startswith("Back in: peaches on Tue Jul 14")
    assert EN.repeated([WATERED]).endswith("Was it done twice? Reply YES to add it.")
    assert EN.fixed([WATERED]).startswith("Fixed: peaches")
    assert (EN.undone([]), EN.redone([])) == ("There is nothing to take back.", "There is nothing to put back.")


def test_a_long_list_is_counted_not_cut():
    many = [Reading(on=TUE, quantity="tension", value=40.0 + n, depth_cm=30.0, plot=f"block {n}") for n in range(30)]
    said = EN.kept(many)
    assert EN.segments(said) <= 2
    assert said.rstrip(".").endswith("more")
    assert "block 29" in Words("en", "us", "web", TUE).kept(many)


def test_what_is_taken_untold_says_how_to_set_it_right():
    assert (
        EN.assumed("soil", "loam", "peaches")
        == "peaches: I take loam for the soil. Text SOIL and the right one to fix it."
    )


def test_a_long_list_of_one_plot_and_day_still_names_its_first():
    said = EN.kept([Reading(on=TUE, quantity="tension", value=float(value)) for value in range(1, 1600)])
    assert said.startswith("Saved: Tue Jul 14: 1 cb, 2 cb")
    assert said.rstrip(" .").split("; ")[-1].split(". ")[0].endswith("more")
    assert EN.segments(said) <= 2


def test_the_same_reading_is_named_once_and_two_waterings_are_two():
    reading = Reading(on=TUE, quantity="tension", value=45.0)
    assert EN.kept([reading, reading], undo=False) == "Saved: Tue Jul 14: 45 cb."
    assert EN.kept([WATERED, WATERED], undo=False).count("2 h of water") == 2
