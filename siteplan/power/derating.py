"""What is left of a machine's rating at altitude, in heat and on another fuel."""

from typing import Literal, NamedTuple

from siteplan.power._checks import within
from siteplan.units import feet

Fuel = Literal["gasoline", "propane", "natural-gas"]

FUEL_FACTORS: dict[Fuel, float] = {"gasoline": 1.0, "propane": 0.79, "natural-gas": 0.80}
"""Power over power on gasoline (natural gas: over propane or gasoline).

Propane: one dual-fuel label, 1200 W to 950 W (dual-fuel-label, read); 0.90 is common practice.
Natural gas: 10 to 20 % less (genset-makers-gas, read); the larger loss is kept. A rating for
the fuel in use on the label governs; pass it with the factor of gasoline.
"""
FUEL_START_FACTORS: dict[Fuel, float] = {"gasoline": 1.0, "propane": 0.68, "natural-gas": 0.68}
"""The same of the power for a start, which falls more: 1750 W to 1200 W on that label (read). For
natural gas no figure was found; it gives no more than propane (common practice, no source)."""


class DeratingRule(NamedTuple):
    """A straight-line rule for altitude and temperature.

    Attributes
    ----------
    per_m : float
        Share lost for each metre above from_m [1/m].
    from_m : float
        Altitude up to which nothing is lost [m].
    per_k : float
        Share lost for each kelvin above from_c [1/K].
    from_c : float
        Temperature up to which nothing is lost [°C].
    """

    per_m: float
    from_m: float
    per_k: float
    from_c: float


_PER_10_F = 10.0 / 1.8

SMALL_ENGINE = DeratingRule(0.035 / feet(1000.0), 0.0, 0.01 / _PER_10_F, 25.0)
"""3.5 % per 1000 ft above the sea, 1 % per 10 °F above 77 °F. Source: genset-makers-derating
(read); another maker prints 3 %."""
CONTRACTOR = DeratingRule(0.03 / 500.0, 1000.0, 0.03 / 5.0, 40.0)
"""A contractor's set rated with reserve. Source: contractor-set-derating (read)."""
ARMY_2_KW = DeratingRule(0.013 / feet(328.0), feet(4000.0), 0.03 / 10.0, 35.0)
"""A 2 kW diesel set. Source: army-tm-9-6115-673 table 2-3 (read); the print gives the interval
of 10 °C as 50 °F, a slip."""


def derating_factor(
    altitude_m: float, ambient_c: float, rule: DeratingRule = SMALL_ENGINE
) -> float:
    """Return what altitude and heat leave of the rating, 0 to 1.

    Parameters
    ----------
    altitude_m : float
        Above the sea [m], -450 to 5000; below the sea nothing is gained.
    ambient_c : float
        Air at the machine [°C], -50 to 60; cold air gains nothing.
    rule : DeratingRule
        Which rule; the small engine's by default.

    Raises
    ------
    OutOfRangeError
        Outside these ranges.
    """
    within("altitude [m]", altitude_m, -450.0, 5000.0)
    within("air temperature [°C]", ambient_c, -50.0, 60.0)
    high = 1.0 - rule.per_m * max(0.0, altitude_m - rule.from_m)
    hot = 1.0 - rule.per_k * max(0.0, ambient_c - rule.from_c)
    return max(0.0, high) * max(0.0, hot)


def derated_w(
    rated_w: float,
    altitude_m: float = 0.0,
    ambient_c: float = 25.0,
    fuel: Fuel = "gasoline",
    rule: DeratingRule = SMALL_ENGINE,
) -> float:
    """Return what a machine still gives [W].

    Parameters
    ----------
    rated_w : float
        On its label [W], 1 to 1e6; running or starting power alike.
    altitude_m, ambient_c, rule
        As in `derating_factor`.
    fuel : str
        "gasoline" where the label's figure is for the fuel in use.

    Raises
    ------
    OutOfRangeError
        Outside these ranges.

    Notes
    -----
    A carburettor jetted for altitude does not give the lost air back (common practice).
    """
    within("rated power [W]", rated_w, 1.0, 1e6)
    return rated_w * derating_factor(altitude_m, ambient_c, rule) * FUEL_FACTORS[fuel]
