"""How dry wood becomes in air: against the Wood Handbook's equation and its table."""

import pytest

from easelside.soak import drying
from easelside.soak.drying import equilibrium_moisture_percent
from tests.published.reference import reference, references

ROWS = [each.name for each in references("2-emc") if each.name.startswith("Table 4-2 row")]


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


def test_the_table_is_here() -> None:
    assert len(ROWS) == 12


@pytest.mark.parametrize("name", ROWS)
def test_a_row_of_the_table(name: str) -> None:
    row = reference(name)
    humid = row.inputs["RH"]
    assert row.agrees_with([equilibrium_moisture_percent(celsius(t), humid) for t in row.inputs["T_F"]])


@pytest.mark.parametrize("name", ["Eq. 4-5 constants, T in C"])
def test_the_constants(name: str) -> None:
    ours = {"W": drying.W, "K": drying.K, "K1": drying.K1, "K2": drying.K2}
    assert reference(name).agrees_with(ours)


@pytest.mark.parametrize("name", ["Eq. 4-5 constants, T in F"])
def test_the_constants_for_fahrenheit_give_the_same(name: str) -> None:
    """The reference tells how far the two sets lie apart: 0.015 % over 30 to 140 °F (to 90 % humidity)."""
    sets = reference(name).expected
    for t in range(30, 141, 10):
        for humid in range(5, 91, 5):
            w, k, k1, k2 = (
                c0 + c1 * t + c2 * t * t for c0, c1, c2 in (sets[s] for s in ("W", "K", "K1", "K2"))
            )
            kh = k * humid / 100
            theirs = (
                1800 / w * (kh / (1 - kh) + (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2))
            )
            assert equilibrium_moisture_percent(celsius(t), humid) == pytest.approx(theirs, abs=0.0155)


@pytest.mark.parametrize("name", ["independent worked use: 65 F with 60 % and 30 % RH"])
def test_a_worked_use_by_others(name: str) -> None:
    given = reference(name)
    found = [equilibrium_moisture_percent(celsius(given.inputs["T_F"]), h) for h in given.inputs["RH"]]
    assert given.agrees_with(found)


@pytest.mark.parametrize("name", ["equation value at 140 F, 55 % RH"])
def test_hot_and_humid(name: str) -> None:
    given = reference(name)
    assert given.agrees_with(equilibrium_moisture_percent(celsius(given.inputs["T_F"]), given.inputs["RH"]))
