"""Fuel: what a machine burns, how long a tank lasts, what to keep in store."""

import math
from collections.abc import Sequence
from typing import Literal

from siteplan.power._checks import within
from siteplan.units import KG_PER_LB, L_PER_GAL, M_PER_FT, W_PER_HP, fahrenheit

FuelModel = Literal["conservative", "optimistic"]

NO_LOAD_SHARE = 0.36
"""Fuel without load over fuel at full load. Source: gaseous-set-fuel-table (read: 35.7 and
37.0 %); published figures run from 30 to 60 %."""
INVERTER_NO_LOAD_SHARE = 0.25
"""The same for sets that throttle down, 0.2 to 0.3 (common practice, no source)."""

G2_CYCLE: tuple[tuple[float, float], ...] = (
    (1.00, 0.09),
    (0.75, 0.20),
    (0.50, 0.29),
    (0.25, 0.30),
    (0.10, 0.07),
    (0.00, 0.05),
)
"""Load and weight of each mode for small engines. Source: cfr-40-1039-appendix-ii (read)."""
D2_CYCLE: tuple[tuple[float, float], ...] = (
    (1.00, 0.05),
    (0.75, 0.25),
    (0.50, 0.30),
    (0.25, 0.30),
    (0.10, 0.10),
)
"""The same for constant-speed engines. Source: cfr-40-1039-appendix-ii (read)."""

BSFC_LB_PER_HP_H = 0.735
"""Gasoline overhead-valve engine of 6 to 25 hp, phase 3. Source: epa-nonroad-bsfc (read; the
unit from memory)."""
GASOLINE_LB_PER_GAL = 6.17
"""Source: epa-nonroad-bsfc (from memory)."""
ALTERNATOR_EFFICIENCY = 0.82
"""Of a small alternator (common practice, no source)."""

GASOLINE_HHV_BTU_PER_GAL = 120_214.0
"""Gasoline with a tenth of ethanol. Source: eia-units-and-calculators (read)."""
PROPANE_HHV_BTU_PER_GAL = 91_333.0
"""Source: eia-units-and-calculators, 2012 (read)."""
NATURAL_GAS_HHV_BTU_PER_FT3 = 1_036.0
"""Source: eia-units-and-calculators, 2022 (from memory); 1025 in 2012 (read)."""
GASOLINE_LHV_BTU_PER_GAL, PROPANE_LHV_BTU_PER_GAL = 116_090.0, 84_250.0
"""Source: afdc-fuel-properties (read second-hand)."""
PROPANE_LB_PER_GAL = 4.24
PROPANE_BTU_PER_LB = 21_591.0
"""Source: propane-data-page (read)."""
J_PER_BTU = 1055.05585262
"""International table. Source: nist-sp-811 appendix B.8 (from memory)."""

PROPANE_PER_GASOLINE = GASOLINE_LHV_BTU_PER_GAL / PROPANE_LHV_BTU_PER_GAL
"""Volume of propane that does the work of one of gasoline, by lower heating values."""

_HIGHEST_W = 1_000_000.0

# Pounds left in a 100 lb cylinder: Btu/h it can give off at each of the temperatures.
_VAPOUR_F = (0.0, 20.0, 40.0, 60.0, 70.0)
_VAPOUR_BTU_PER_H: dict[float, tuple[float, ...]] = {
    100.0: (113e3, 167e3, 214e3, 277e3, 300e3),
    50.0: (64e3, 94e3, 125e3, 154e3, 167e3),
    20.0: (36e3, 51e3, 68e3, 83e3, 92e3),
}


def straight_line(no_load: float, full_load: float, load_fraction: float) -> float:
    """Return the fuel use between no load and full load, in the unit given.

    Parameters
    ----------
    no_load, full_load : float
        Fuel use at these, in any unit, 0 <= no_load <= full_load.
    load_fraction : float
        Load over rating, 0 to 1.1.

    Raises
    ------
    OutOfRangeError
        Outside these ranges.

    Notes
    -----
    The Willans line: fuel grows in a straight line with load. Source: gaseous-set-fuel-table
    (read), whose three points lie on a line.
    """
    within("fuel use at full load", full_load, 0.0, 1e12)
    within("fuel use without load", no_load, 0.0, full_load)
    return no_load + (full_load - no_load) * within("load over rating", load_fraction, 0.0, 1.1)


def mean_load(cycle: Sequence[tuple[float, float]]) -> float:
    """Return the mean load over rating of a duty cycle of (load, weight)."""
    return sum(load * weight for load, weight in cycle)


def full_load_kwh_per_l(model: FuelModel = "conservative") -> float:
    """Return the electric energy from a litre of gasoline at full load [kWh/L].

    Parameters
    ----------
    model : str
        "conservative" takes the published consumption as that of full load: for planning.
        "optimistic" takes it as the average of the G2 cycle: a lower bound of the fuel only.

    Notes
    -----
    Derived from epa-nonroad-bsfc, cfr-40-1039-appendix-ii and the no-load share. 5.13 and
    7.24 kWh/gal; published figures of machines lie on the conservative one.
    """
    bsfc = BSFC_LB_PER_HP_H
    if model == "optimistic":
        load = mean_load(G2_CYCLE)
        # On a straight line the cycle's average per work is (a + (1 - a) x) / x of full load's.
        bsfc *= load / (NO_LOAD_SHARE + (1.0 - NO_LOAD_SHARE) * load)
    shaft_kwh_per_gal = GASOLINE_LB_PER_GAL / bsfc * W_PER_HP / 1000.0
    return shaft_kwh_per_gal * ALTERNATOR_EFFICIENCY / L_PER_GAL


def gasoline_l_per_h(
    load_w: float,
    rated_w: float,
    model: FuelModel = "conservative",
    no_load_share: float = NO_LOAD_SHARE,
) -> float:
    """Return the gasoline a machine burns [L/h].

    Parameters
    ----------
    load_w : float
        Drawn from it [W], 0 to 1.1 times its rating.
    rated_w : float
        Running rating on the label [W], 1 to 1e6.
    model : str
        As in `full_load_kwh_per_l`.
    no_load_share : float
        Fuel without load over fuel at full load, 0.1 to 0.7.

    Raises
    ------
    OutOfRangeError
        Outside these ranges.

    Notes
    -----
    The maker's own figure governs where there is one: pass it to `straight_line`.
    """
    within("rated power [W]", rated_w, 1.0, _HIGHEST_W)
    within("load [W]", load_w, 0.0, 1.1 * rated_w)
    within("share of fuel without load", no_load_share, 0.1, 0.7)
    full = rated_w / 1000.0 / full_load_kwh_per_l(model)
    return straight_line(no_load_share * full, full, load_w / rated_w)


def gasoline_saved_l(
    load_w: float,
    hours: float,
    model: FuelModel = "optimistic",
    no_load_share: float = NO_LOAD_SHARE,
) -> float:
    """Return the gasoline saved by leaving a load off [L].

    Parameters
    ----------
    load_w : float
        What is left off [W], 0 to 1e6.
    hours : float
        For how long [h], 0 to 1440.
    model, no_load_share
        As in `gasoline_l_per_h`; the optimistic model promises the smaller saving.

    Raises
    ------
    OutOfRangeError
        Outside these ranges.

    Notes
    -----
    The slope of the straight line does not depend on the machine's size (derived).
    """
    within("load [W]", load_w, 0.0, _HIGHEST_W)
    within("share of fuel without load", no_load_share, 0.1, 0.7)
    kwh = load_w / 1000.0 * within("hours", hours, 0.0, 1440.0)
    return (1.0 - no_load_share) * kwh / full_load_kwh_per_l(model)


def propane_l_per_h(gasoline_l_per_h: float) -> float:
    """Return the liquid propane [L/h] that does the work of so much gasoline [L/h], 0 to 1e5.

    Raises
    ------
    OutOfRangeError
        Outside that range.

    Notes
    -----
    1.38 to 1 by lower heating values. Source: afdc-fuel-properties (read second-hand).
    """
    return PROPANE_PER_GASOLINE * within("fuel use [L/h]", gasoline_l_per_h, 0.0, 1e5)


def natural_gas_m3_per_h(gasoline_l_per_h: float) -> float:
    """Return the natural gas [m³/h] with the heat of so much gasoline [L/h], 0 to 1e5.

    Raises
    ------
    OutOfRangeError
        Outside that range.

    Notes
    -----
    116 ft³ to the gallon by higher heating values (derived from eia-units-and-calculators).
    The maker's figure governs.
    """
    within("fuel use [L/h]", gasoline_l_per_h, 0.0, 1e5)
    ft3_per_gal = GASOLINE_HHV_BTU_PER_GAL / NATURAL_GAS_HHV_BTU_PER_FT3
    return gasoline_l_per_h / L_PER_GAL * ft3_per_gal * M_PER_FT**3


def propane_volume_l(mass_kg: float) -> float:
    """Return the volume of so much liquid propane [L], mass 0 to 1e5 kg.

    Raises
    ------
    OutOfRangeError
        Outside that range.

    Notes
    -----
    4.24 lb/gal, the denser of two figures. Source: propane-data-page (read).
    """
    within("propane [kg]", mass_kg, 0.0, 1e5)
    return mass_kg / KG_PER_LB / PROPANE_LB_PER_GAL * L_PER_GAL


def propane_heat_j(mass_kg: float) -> float:
    """Return the higher heating value of so much propane [J], mass 0 to 1e5 kg.

    Raises
    ------
    OutOfRangeError
        Outside that range.

    Notes
    -----
    21,591 Btu/lb. Source: propane-data-page (read).
    """
    within("propane [kg]", mass_kg, 0.0, 1e5)
    return mass_kg / KG_PER_LB * PROPANE_BTU_PER_LB * J_PER_BTU


def propane_demand_w(propane_l_per_h: float) -> float:
    """Return the heat a machine takes in as vapour [W] at so much liquid propane [L/h].

    Raises
    ------
    OutOfRangeError
        If the fuel use is not 0 to 1e5 L/h.

    Notes
    -----
    91,333 Btu/gal. Source: eia-units-and-calculators (read).
    """
    within("fuel use [L/h]", propane_l_per_h, 0.0, 1e5)
    return propane_l_per_h / L_PER_GAL * PROPANE_HHV_BTU_PER_GAL * J_PER_BTU / 3600.0


def vapour_draw_w(mass_left_kg: float, ambient_c: float) -> float:
    """Return the heat a 100 lb propane cylinder can give off as vapour [W].

    Parameters
    ----------
    mass_left_kg : float
        Propane left [kg], 0 to 50. Between two rows the emptier holds; under 20 lb, nothing
        is promised: 0. A 20 lb cylinder gives clearly less than this at any content.
    ambient_c : float
        Air [°C], -50 to 60; under 0 °F nothing is promised: 0. Above 70 °F no more is given.

    Raises
    ------
    OutOfRangeError
        Outside these ranges.

    Notes
    -----
    Source: cylinder-vapour-table (read; the first column's temperature from memory).
    """
    within("propane left [kg]", mass_left_kg, 0.0, 50.0)
    within("air temperature [°C]", ambient_c, -50.0, 60.0)
    pounds = mass_left_kg / KG_PER_LB * (1.0 + 1e-9)
    air_f = min(fahrenheit(ambient_c) + 1e-9, _VAPOUR_F[-1])
    row = next((draw for left, draw in _VAPOUR_BTU_PER_H.items() if pounds >= left), None)
    if row is None or air_f < _VAPOUR_F[0]:
        return 0.0
    place = max(index for index, known in enumerate(_VAPOUR_F) if air_f >= known)
    if place == len(row) - 1:
        btu_per_h = row[place]
    else:
        part = (air_f - _VAPOUR_F[place]) / (_VAPOUR_F[place + 1] - _VAPOUR_F[place])
        btu_per_h = row[place] + part * (row[place + 1] - row[place])
    return btu_per_h * J_PER_BTU / 3600.0


def cans_needed(volume_l: float, can_l: float = 5.0 * L_PER_GAL) -> int:
    """Return how many cans hold so much fuel.

    Parameters
    ----------
    volume_l : float
        Fuel to keep [L], 0 to 1e5.
    can_l : float
        One can [L], 0.5 to 60; 5 US gallons by default.

    Raises
    ------
    OutOfRangeError
        Outside these ranges.
    """
    within("fuel [L]", volume_l, 0.0, 1e5)
    # A volume computed to fill a can exactly fills one can.
    return math.ceil(volume_l / within("can [L]", can_l, 0.5, 60.0) - 1e-9)
