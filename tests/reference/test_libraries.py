"""Two independent public libraries, refet 0.5 and pyet 1.x, hold our reference evapotranspiration on random days."""

import math
import warnings
from datetime import date, timedelta

import numpy as np
import pandas as pd
import pytest
import refet

from rules import evapotranspiration as et
from rules.terms import Day

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import pyet

ELEVATION_M = 350.0
LATITUDES = [-35.0, 5.0, 25.0, 38.0, 48.0]


def random_days(latitude: float) -> pd.DataFrame:
    """120 days through a year, drawn wide: dry and damp, still and windy, dull and clear."""
    rng = np.random.default_rng(20260701)
    on = pd.to_datetime([date(2025, 1, 1) + timedelta(days=3 * n) for n in range(120)])
    tmin = rng.uniform(-8, 22, 120)
    clear = et.clear_sky_radiation(
        et.extraterrestrial_radiation(math.radians(latitude), on.dayofyear.to_numpy()), ELEVATION_M
    )
    return pd.DataFrame(
        {
            "tmin": tmin,
            "tmax": tmin + rng.uniform(3, 20, 120),
            "tdew": tmin - rng.uniform(0, 8, 120),
            "solar": clear * rng.uniform(0.15, 1.0, 120),
            "wind_10_m": rng.uniform(0.3, 9, 120),
        },
        index=on,
    )


def ours(days: pd.DataFrame, latitude: float) -> np.ndarray:
    said = [
        et.reference_et_mm(
            Day(
                on=on.date(),
                tmax_c=day.tmax,
                tmin_c=day.tmin,
                dewpoint_c=day.tdew,
                solar_mj_m2=day.solar,
                wind_m_s=day.wind_10_m,
            ),
            latitude,
            ELEVATION_M,
        )
        for on, day in days.iterrows()
    ]
    return np.array(said, dtype=float)


@pytest.mark.parametrize("latitude", LATITUDES)
def test_a_day_of_penman_monteith_is_within_one_percent_of_refet(latitude: float) -> None:
    days = random_days(latitude)
    theirs = refet.Daily(
        tmin=days.tmin.to_numpy(),
        tmax=days.tmax.to_numpy(),
        ea=et.saturation_vapour_pressure_kpa(days.tdew.to_numpy()),
        rs=days.solar.to_numpy(),
        uz=days.wind_10_m.to_numpy(),
        zw=10,
        elev=ELEVATION_M,
        lat=latitude,
        doy=days.index.dayofyear.to_numpy(),
        method="asce",
        input_units={"lat": "deg"},
    ).eto()
    assert ours(days, latitude) == pytest.approx(np.maximum(theirs, 0), rel=0.01, abs=0.02)


@pytest.mark.parametrize("latitude", LATITUDES)
def test_a_day_of_penman_monteith_is_within_one_percent_of_pyet(latitude: float) -> None:
    days = random_days(latitude)
    theirs = pyet.pm_fao56(
        tmean=(days.tmax + days.tmin) / 2,
        wind=et.wind_at_2_m(days.wind_10_m, 10.0),
        rs=days.solar,
        elevation=ELEVATION_M,
        lat=math.radians(latitude),
        tmax=days.tmax,
        tmin=days.tmin,
        ea=et.saturation_vapour_pressure_kpa(days.tdew),
    )
    assert ours(days, latitude) == pytest.approx(np.maximum(theirs.to_numpy(), 0), rel=0.01, abs=0.02)


@pytest.mark.parametrize("latitude", LATITUDES)
def test_a_day_of_hargreaves_is_within_one_percent_of_pyet(latitude: float) -> None:
    """pyet divides by the latent heat at the day's temperature (FAO-56 Eq. 3-1) where Eq. 52 takes the same for all."""
    days = random_days(latitude)
    mean_c = (days.tmax + days.tmin) / 2
    theirs = pyet.hargreaves(tmean=mean_c, tmax=days.tmax, tmin=days.tmin, lat=math.radians(latitude))
    radiation = et.extraterrestrial_radiation(math.radians(latitude), days.index.dayofyear.to_numpy())
    mine = et.reference_et_hargreaves(mean_c.to_numpy(), (days.tmax - days.tmin).to_numpy(), radiation)
    latent_heat = 2.501 - 0.002361 * mean_c.to_numpy()
    assert mine * 2.45 / latent_heat == pytest.approx(theirs.to_numpy(), rel=0.002)
