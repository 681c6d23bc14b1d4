"""Water into a sheet, and how warmth speeds it: against Crank's solutions and others of the literature."""

import math

import numpy as np
import pytest
from scipy.integrate import quad

from easelside.soak.jar import (
    ACTIVATION_KJ_MOL,
    ACTIVATION_SD_KJ_MOL,
    GAS_CONSTANT,
    ZERO_C,
    arrhenius_ratio,
)
from easelside.soak.uptake import (
    concentration_fraction,
    film_roots,
    long_time,
    short_time,
    time_to_fraction,
    uptake_fraction,
    uptake_of_block,
)
from tests.published.reference import reference, references

A_MM = 2.0  # a sheet of 2 mm has a = 1 mm, so with D = 1e-6 m2/s a second is one a^2/D
D = 1e-6


def agrees(name: str, found: object) -> bool:
    return reference(name, "1-water-uptake").agrees_with(found)


def test_uptake_by_half_thickness() -> None:
    name = "sheet uptake Mt/Minf, both faces open, a = half-thickness"
    times = reference(name).inputs["Dt_over_a2"]
    assert agrees(name, uptake_fraction(times, D, A_MM))


def test_uptake_by_whole_thickness() -> None:
    name = "same uptake written with full thickness L (Dt/L^2 = Dt/a^2 / 4)"
    times = reference(name).inputs["Dt_over_L2"]
    assert agrees(name, uptake_fraction(times, D, 1.0))


def test_half_time_lies_beside_cranks_approximation() -> None:
    name = "Crank closed approximation for the half-time, D*t/L^2 = -(1/pi^2) ln(pi^2/16 - (1/9)(pi^2/16)^9)"
    square = math.pi**2 / 16
    assert agrees(name, -math.log(square - square**9 / 9) / math.pi**2)
    # the reference's own remark: it is 0.0097 % above the exact half-time
    assert reference(name).expected / time_to_fraction(0.5, D, 1.0) == pytest.approx(1.000097, abs=1e-6)


def test_short_time_law_errs_as_told() -> None:
    name = "short-time law 2*sqrt(Dt/(pi a^2)) against exact: relative error"
    times = reference(name).inputs["Dt_over_a2"]
    law = [2 * math.sqrt(each / math.pi) for each in times]
    exact = uptake_fraction(times, D, A_MM)
    assert agrees(name, [simple / true - 1 for simple, true in zip(law, exact, strict=True)])


@pytest.mark.parametrize(
    "name",
    [
        "concentration profile (C-C0)/(Cs-C0) at Dt/a^2 = 0.05",
        "concentration profile (C-C0)/(Cs-C0) at Dt/a^2 = 0.25",
        "concentration profile (C-C0)/(Cs-C0) at Dt/a^2 = 1.0",
    ],
)
def test_how_wet_it_is_at_each_depth(name: str) -> None:
    given = reference(name).inputs
    assert agrees(name, [concentration_fraction(x, given["Dt_over_a2"], D, A_MM) for x in given["x_over_a"]])


def test_a_librarys_printed_example() -> None:
    name = "printed library example: uptake of a sheet"
    given = reference(name).inputs
    assert agrees(name, uptake_fraction(given["t_s"], given["D_m2_s"], 2000 * given["half_thickness_m"]))


def test_a_sealed_face_is_half_of_a_sheet_twice_as_thick() -> None:
    name = (
        "one face sealed: sheet of thickness L behaves as half of a sheet of thickness 2L; "
        "half-time ratio sealed/open"
    )
    assert agrees(name, time_to_fraction(0.5, D, 1.3, open_faces=1) / time_to_fraction(0.5, D, 1.3))
    assert uptake_fraction(0.2, D, 1.3, open_faces=1) == uptake_fraction(0.2, D, 2.6)


def test_half_times_of_cane() -> None:
    name = "illustration, half-time in s for cane 1.25 mm thick (D assumed, not measured)"
    given = reference(name).inputs
    assert agrees(name, [time_to_fraction(0.5, d, 1000 * given["thickness_m"]) for d in given["D_m2_s"]])


def test_mean_time_of_uptake() -> None:
    name = "mean uptake time, integral of (1-Mt/Minf)dt in units a^2/D"

    def still_out(t: float) -> float:
        return 1 - uptake_fraction(t, D, A_MM)

    parts = [quad(still_out, a, b, epsabs=1e-13, epsrel=1e-13)[0] for a, b in ((0, 0.05), (0.05, 1), (1, 20))]
    # the reference is printed with ten digits: 1/3 to its last one
    assert sum(parts) == pytest.approx(reference(name).expected, abs=1e-10)
    assert sum(parts) == pytest.approx(1 / 3, abs=1e-11)


def test_ends_add_to_faces() -> None:
    name = "block (three pairs of faces): product rule 1-(1-F1)(1-F2)(1-F3)"
    assert agrees(name, uptake_of_block(reference(name).inputs["F"]))


@pytest.mark.parametrize(
    "name",
    ["uptake with a surface film (Biot number L = 1)", "uptake with a surface film (Biot number L = 10)"],
)
def test_uptake_through_a_film(name: str) -> None:
    given = reference(name).inputs
    assert agrees(name, uptake_fraction(given["Dt_over_a2"], D, A_MM, biot=given["L"]))


@pytest.mark.parametrize(
    "name", ["first six roots of beta tan beta = L, L = 5", "first six roots of beta tan beta = L, L = 10"]
)
def test_roots_of_the_film(name: str) -> None:
    assert agrees(name, film_roots(float(reference(name).inputs["L"]), 6))


@pytest.mark.parametrize(
    "name",
    [
        "Arrhenius speed-up relative to 20 C, Ea = 25 kJ/mol",
        "Arrhenius speed-up relative to 20 C, Ea = 30 kJ/mol",
        "Arrhenius speed-up relative to 20 C, Ea = 40 kJ/mol",
    ],
)
def test_warmth_speeds_it(name: str) -> None:
    given = reference(name).inputs
    assert agrees(name, [arrhenius_ratio(t, given["Tref_C"], given["Ea_kJ_mol"]) for t in given["T_C"]])


def activation_of(ratio: float, from_c: float, to_c: float) -> float:
    """kJ/mol that makes arrhenius_ratio(to_c, from_c, ...) this ratio."""
    return GAS_CONSTANT * math.log(ratio) / (1 / (from_c + ZERO_C) - 1 / (to_c + ZERO_C)) / 1000


def test_the_starting_activation_energy_lies_about_that_of_wood_and_above_that_of_free_water() -> None:
    # Siau's formula for the cell wall, 38.5 - 0.29 M kJ/mol at M percent of moisture, both ways round
    siau = "wood cell-wall bound-water D = 7e-6 exp(-(38500-290M)/RT) m2/s, M in percent"
    given = reference(siau).inputs
    warm = given["T_C"] + ZERO_C
    assert agrees(
        siau, [7e-6 * math.exp(-(38500 - 290 * m) / GAS_CONSTANT / warm) for m in given["M_percent"]]
    )
    spread = 1.645 * ACTIVATION_SD_KJ_MOL
    assert ACTIVATION_KJ_MOL - spread < 38.5 - 0.29 * 25 < 38.5 - 0.29 * 5 < ACTIVATION_KJ_MOL + spread
    # free water, Holz and others: D0 (T / 215.05 K - 1)^2.063 with D0 = 1.635e-8 m2/s (from memory)
    holz = "self-diffusion of liquid water, 1e-9 m2/s"
    temperatures = reference(holz).inputs["T_C"]
    diffusion = {t: 16.35 * ((t + ZERO_C) / 215.05 - 1) ** 2.063 for t in (*temperatures, 20, 40)}
    assert agrees(holz, [diffusion[t] for t in temperatures])
    assert activation_of(diffusion[40] / diffusion[20], 20, 40) == pytest.approx(18.0, abs=0.1)
    assert activation_of(diffusion[40] / diffusion[20], 20, 40) < ACTIVATION_KJ_MOL - ACTIVATION_SD_KJ_MOL


NOT_COMPUTED = {
    "aspen at 110 F: ratio of D at 18 % to D at 2.5 % moisture content": "D is taken as constant: "
    "it is fitted to whole soaks, from dry to ready, never to a part of one",
    "IAPWS 2008 viscosity verification points, micro-Pa s": "no vessels are computed",
    "density of water at 1 atm, kg/m3": "weighings are compared with each other, never with a volume",
    "surface tension of water, mN/m": "no vessels are computed",
    "Washburn depth L = sqrt(sigma r cos(theta) t/(2 mu)), m": "no vessels are computed",
}


def test_those_that_nothing_here_computes_are_told_with_the_reason() -> None:
    names = {each.name for each in references("1-water-uptake")}
    assert NOT_COMPUTED.keys() <= names
    with open(__file__, encoding="utf-8") as source:
        written = source.read().replace('"\n        "', "")
    assert [name for name in names if name not in written] == []


@pytest.mark.parametrize("tau", np.geomspace(0.05, 1.2, 12))
def test_the_short_and_the_long_series_agree(tau: float) -> None:
    assert short_time(tau) == pytest.approx(long_time(tau), abs=2e-13)


@pytest.mark.parametrize("biot", [None, 0.3, 4.0, 60.0])
@pytest.mark.parametrize("faces", [1, 2])
def test_finite_differences_find_the_same(biot: float | None, faces: int) -> None:
    """An independent sum: the scheme of Crank and Nicolson on 400 layers, face to middle (or sealed face)."""
    layers, steps, thickness = 400, 4000, 1.3
    a = thickness / faces
    dx = 1.0 / layers
    end = 0.6
    dt = end / steps
    r = dt / dx**2 / 2
    main = np.full(layers, 1 + 2 * r)
    main[-1] = 1 + r  # nothing passes the middle
    face = 2.0 if biot is None else 2 * biot / (2 + biot * dx) * dx  # half a layer, and the film before it
    main[0] = 1 + r * (1 + face)
    matrix = np.diag(main) + np.diag(np.full(layers - 1, -r), 1) + np.diag(np.full(layers - 1, -r), -1)
    explicit = 2 * np.eye(layers) - matrix
    step = np.linalg.solve(matrix, explicit)
    source = np.linalg.solve(matrix, np.eye(layers)[:, 0] * 2 * r * face)
    wet = np.zeros(layers)
    for _ in range(steps):
        wet = step @ wet + source
    time_s = end * (a * 1e-3) ** 2 / 1e-10
    assert uptake_fraction(time_s, 1e-10, thickness, faces, biot) == pytest.approx(wet.mean(), abs=2e-5)
