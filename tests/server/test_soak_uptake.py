"""Water into a piece, a jar that cools, cane that dries in air: what must hold whatever the figures."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from easelside.errors import NotPossible
from easelside.soak.drying import Drying, equilibrium_moisture_percent
from easelside.soak.jar import Jar, arrhenius_ratio
from easelside.soak.uptake import concentration_fraction, time_to_fraction, uptake_fraction

times = st.floats(0, 1e6)
diffusivities = st.floats(1e-12, 1e-8)
thicknesses = st.floats(0.3, 6)
faces = st.sampled_from([1, 2])
films = st.one_of(st.none(), st.floats(1e-3, 1e4))
degrees = st.floats(1, 60)
energies = st.floats(0, 80)


@given(times, times, diffusivities, thicknesses, faces, films)
def test_water_only_comes_in_and_never_more_than_all(
    a: float, b: float, d: float, thick: float, open_faces: int, biot: float | None
) -> None:
    first, later = sorted((a, b))
    before, after = uptake_fraction([first, later], d, thick, open_faces, biot)
    assert 0 <= before <= after + 1e-12 <= 1 + 2e-12


@given(times, diffusivities, thicknesses, faces, st.floats(0.01, 100))
def test_a_film_only_delays(time: float, d: float, thick: float, open_faces: int, biot: float) -> None:
    assert (
        uptake_fraction(time, d, thick, open_faces, biot)
        <= uptake_fraction(time, d, thick, open_faces) + 1e-12
    )


def test_a_film_that_is_no_hindrance_is_none() -> None:
    assert uptake_fraction(700, 1e-10, 1.25, biot=1e7) == pytest.approx(
        uptake_fraction(700, 1e-10, 1.25), abs=1e-6
    )
    assert uptake_fraction(700, 1e-10, 1.25, biot=math.inf) == uptake_fraction(700, 1e-10, 1.25)


@given(st.floats(0, 0.999999), diffusivities, thicknesses, faces, films)
def test_the_time_to_a_share_is_when_that_share_is_in(
    share: float, d: float, thick: float, open_faces: int, biot: float | None
) -> None:
    time = time_to_fraction(share, d, thick, open_faces, biot)
    assert uptake_fraction(time, d, thick, open_faces, biot) == pytest.approx(share, abs=1e-9)


@given(st.floats(0.01, 0.99), diffusivities, thicknesses, st.floats(0.5, 3))
def test_time_goes_by_the_square_of_the_thickness(share: float, d: float, thick: float, more: float) -> None:
    ratio = time_to_fraction(share, d, thick * more) / time_to_fraction(share, d, thick)
    assert ratio == pytest.approx(more**2, rel=1e-9)


@given(st.floats(0, 1), times, diffusivities, thicknesses)
def test_it_is_wetter_towards_the_face(depth: float, time: float, d: float, thick: float) -> None:
    middle, here, face = (concentration_fraction(x, time, d, thick) for x in (0, depth, 1))
    assert -1e-12 <= middle <= here + 1e-9 <= face + 2e-9
    assert face == pytest.approx(1, abs=1e-9)


@pytest.mark.parametrize("time", [30.0, 300.0, 3000.0])
def test_the_layers_add_up_to_what_is_in(time: float) -> None:
    mean = quad(lambda x: concentration_fraction(x, time, 1e-10, 1.25), 0, 1, epsabs=1e-11, limit=200)[0]
    assert mean == pytest.approx(uptake_fraction(time, 1e-10, 1.25), abs=1e-9)


@given(degrees, degrees, energies)
def test_speeds_at_two_temperatures_are_each_others_inverse(a: float, b: float, energy: float) -> None:
    assert arrhenius_ratio(a, b, energy) * arrhenius_ratio(b, a, energy) == pytest.approx(1, rel=1e-12)


@settings(max_examples=60)
@given(st.floats(0, 50_000), degrees, degrees, energies, st.floats(200, 8000))
def test_an_effective_time_is_the_integral_of_the_speed(
    time: float, poured: float, room: float, energy: float, cooling: float
) -> None:
    jar = Jar(poured, room, cooling)

    def speed(t: float) -> float:
        return arrhenius_ratio(jar.water_c(t), 20, energy)

    edges = [0, *(edge for edge in (cooling, 4 * cooling, 10 * cooling, 20 * cooling) if edge < time), time]
    whole = sum(
        quad(speed, a, b, epsrel=1e-9, epsabs=0, limit=200)[0] if b > a else 0.0 for a, b in pairwise(edges)
    )
    assert jar.effective_s(time, 20, energy) == pytest.approx(whole, rel=2e-5, abs=1e-9)


@given(st.floats(0, 50_000), degrees, st.one_of(st.none(), degrees), energies)
def test_the_time_for_an_effective_time_leads_back(
    time: float, poured: float, room: float | None, energy: float
) -> None:
    jar = Jar(poured, room)
    dose = jar.effective_s(time, 20, energy)
    assert jar.time_s(dose, 20, energy) == pytest.approx(time, rel=1e-6, abs=1e-3)


def test_a_warm_jar_left_to_cool_does_less_than_one_kept_warm() -> None:
    kept, cooling = (Jar(38, room).effective_s(1800, 38, 45) for room in (None, 20))
    assert kept == pytest.approx(1800)
    assert 1100 < cooling < 1400  # by the integral above


@given(st.floats(-30, 110), st.floats(0, 100), st.floats(0, 100))
def test_damper_air_leaves_more_water_in_wood(t: float, a: float, b: float) -> None:
    low, high = sorted((a, b))
    assert 0 <= equilibrium_moisture_percent(t, low) <= equilibrium_moisture_percent(t, high) + 1e-9


@given(st.floats(40, 150), st.floats(0.05, 0.95), st.floats(0.05, 50))
def test_drying_back_leads_where_it_says(wet: float, way: float, biot: float) -> None:
    air = equilibrium_moisture_percent(20, 50)
    wanted = wet + (air - wet) * way
    drying = Drying(wet, air, 1e-10, 1.25, biot=biot)
    time = drying.seconds_to(wanted)
    assert drying.percent_after(time) == pytest.approx(wanted, abs=1e-6)


nan = math.nan


@pytest.mark.parametrize(
    "asked",
    [
        lambda: uptake_fraction(-1, 1e-10, 1),
        lambda: uptake_fraction(nan, 1e-10, 1),
        lambda: uptake_fraction(1, 1e-10, 1e-200),
        lambda: uptake_fraction(1, 1e-10, 1e300),
        lambda: uptake_fraction(1, 0, 1),
        lambda: uptake_fraction(1, nan, 1),
        lambda: uptake_fraction(1, 1e-10, 0),
        lambda: uptake_fraction(1, 1e-10, 1, open_faces=3),
        lambda: uptake_fraction(1, 1e-10, 1, biot=0),
        lambda: uptake_fraction(1, 1e-10, 1, biot=nan),
        lambda: uptake_fraction(1, 1e-10, 1, biot=np.array([1.0, 2.0])),  # type: ignore[call-overload]
        lambda: time_to_fraction(1, 1e-10, 1),
        lambda: time_to_fraction(-0.1, 1e-10, 1),
        lambda: time_to_fraction(nan, 1e-10, 1),
        lambda: arrhenius_ratio(-300, 20, 40),
        lambda: arrhenius_ratio(nan, 20, 40),
        lambda: arrhenius_ratio(60, -272, 40),
        lambda: arrhenius_ratio(20, 20, -1),
        lambda: Jar(20).effective_s(-1, 20, 40),
        lambda: Jar(20, nan).effective_s(1, 20, 40),
        lambda: Jar(nan, 20).effective_s(1, 20, 40),
        lambda: equilibrium_moisture_percent(20, 101),
        lambda: equilibrium_moisture_percent(20, nan),
        lambda: equilibrium_moisture_percent(nan, 50),
        lambda: equilibrium_moisture_percent(400, 50),
        lambda: Drying(80, 9.2, 1e-10, 1.25).seconds_to(5),
        lambda: Drying(80, 9.2, 1e-10, 1.25).seconds_to(90),
    ],
)
def test_what_cannot_be_is_refused_in_words(asked: object) -> None:
    with pytest.raises(NotPossible):
        asked()  # type: ignore[operator]
