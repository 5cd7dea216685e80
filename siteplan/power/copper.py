"""Copper wire: American wire gauge, resistance, reactance.

Sizes are AWG numbers; 1/0, 2/0, 3/0 and 4/0 are 0, -1, -2 and -3.
"""

import math

from siteplan.power._checks import listed, within
from siteplan.units import M_PER_FT, M_PER_IN

THICKEST_AWG = -3
THINNEST_AWG = 40
COLDEST_C, HOTTEST_C = -50.0, 150.0

RESISTIVITY_20C_OHM_M = 1.7241e-8
"""Annealed copper of 100 % IACS at 20 °C. Source: iec-60028 (from memory)."""
COEFFICIENT_20C_PER_K = 0.00393
"""Resistance temperature coefficient of copper at 20 °C. Source: iec-60028 (from memory)."""
COEFFICIENT_75C_PER_K = 0.00323
"""The same, referred to 75 °C. Source: nec-2023-ch9-table-8, note (read second-hand)."""
STRANDING = 1.02
"""Stranded over solid; 1.018 to 1.025 in nec-2023-ch9-table-8 (derived from that table)."""

_OHM_PER_M_PER_OHM_PER_KFT = 1.0 / (1000.0 * M_PER_FT)

STRANDED_75C_OHM_PER_KFT = {
    18: 7.95,  # from memory; the rest read second-hand
    16: 4.99,
    14: 3.14,
    12: 1.98,
    10: 1.24,
    8: 0.778,
    6: 0.491,
    4: 0.308,
}
"""Stranded uncoated copper, direct current, 75 °C [Ω/1000 ft]. Source: nec-2023-ch9-table-8.

Several copies of the table print the solid values under the heading "stranded", which
understates the drop by 2 %; these are the stranded ones.
"""

SOLID_75C_OHM_PER_KFT = {18: 7.77, 16: 4.89, 14: 3.07, 12: 1.93, 10: 1.21, 8: 0.764}
"""Solid uncoated copper, 75 °C [Ω/1000 ft]. Source: nec-2023-ch9-table-8 (read second-hand)."""

REACTANCE_OHM_PER_KFT = {14: 0.058, 12: 0.054, 10: 0.050, 8: 0.052, 6: 0.051, 4: 0.048}
"""Reactance at 60 Hz in plastic conduit [Ω/1000 ft]. Source: nec-2023-ch9-table-9.

From memory; a second-hand copy prints 0.044, 0.042 and 0.040 for 14, 12 and 10 AWG. The
larger figures are kept; the difference is under 1 % of a cord's impedance.
"""


def diameter_m(gauge_awg: int) -> float:
    """Return the diameter of a solid wire [m].

    Parameters
    ----------
    gauge_awg : int
        American wire gauge, -3 (4/0) to 40.

    Raises
    ------
    OutOfRangeError
        Outside that range.

    Notes
    -----
    d = 0.005 in x 92^((36 - n)/39). Source: nbs-handbook-100 section 2.1 (read);
    astm-b258 (from memory).
    """
    within("wire gauge [AWG]", gauge_awg, THICKEST_AWG, THINNEST_AWG)
    return 0.005 * M_PER_IN * math.pow(92.0, (36 - gauge_awg) / 39.0)


def area_m2(gauge_awg: int) -> float:
    """Return the area of a solid wire [m²]; range and errors as `diameter_m`."""
    return math.pi / 4.0 * diameter_m(gauge_awg) ** 2


def area_circular_mils(gauge_awg: int) -> float:
    """Return the area in circular mils, the diameter in thousandths of an inch squared.

    Range and errors as `diameter_m`. Source: nbs-handbook-100 (read).
    """
    return (1000.0 * diameter_m(gauge_awg) / M_PER_IN) ** 2


def formula_resistance_ohm_per_m(
    gauge_awg: int, temperature_c: float = 75.0, stranded: bool = True
) -> float:
    """Return a conductor's resistance from its size and copper's resistivity [Ω/m].

    Parameters
    ----------
    gauge_awg : int
        American wire gauge, -3 (4/0) to 40.
    temperature_c : float
        Conductor temperature [°C], -50 to 150.
    stranded : bool
        Adds the stranding allowance.

    Raises
    ------
    OutOfRangeError
        Outside these ranges.

    Notes
    -----
    Within 0.6 % of the table for 18 to 4 AWG. Sources: iec-60028 (from memory),
    nbs-handbook-100 (read).
    """
    within("conductor temperature [°C]", temperature_c, COLDEST_C, HOTTEST_C)
    at_20c = RESISTIVITY_20C_OHM_M / area_m2(gauge_awg)
    warm = at_20c * (1.0 + COEFFICIENT_20C_PER_K * (temperature_c - 20.0))
    return warm * (STRANDING if stranded else 1.0)


def resistance_ohm_per_m(
    gauge_awg: int, temperature_c: float = 75.0, stranded: bool = True
) -> float:
    """Return the direct-current resistance of one copper conductor [Ω/m].

    Parameters
    ----------
    gauge_awg : int
        American wire gauge, -3 (4/0) to 40.
    temperature_c : float
        Conductor temperature [°C], -50 to 150. 75 °C is the table's own; a cord runs cooler,
        so that the drop is not understated.
    stranded : bool
        Flexible cords are stranded.

    Returns
    -------
    float
        From the table where it lists the size, from `formula_resistance_ohm_per_m` otherwise.

    Raises
    ------
    OutOfRangeError
        Outside these ranges.

    Notes
    -----
    Source: nec-2023-ch9-table-8 (read second-hand; 18 AWG stranded from memory).
    """
    table = STRANDED_75C_OHM_PER_KFT if stranded else SOLID_75C_OHM_PER_KFT
    if gauge_awg not in table:
        return formula_resistance_ohm_per_m(gauge_awg, temperature_c, stranded)
    within("conductor temperature [°C]", temperature_c, COLDEST_C, HOTTEST_C)
    factor = 1.0 + COEFFICIENT_75C_PER_K * (temperature_c - 75.0)
    return table[gauge_awg] * _OHM_PER_M_PER_OHM_PER_KFT * factor


def reactance_ohm_per_m(gauge_awg: int) -> float:
    """Return the 60 Hz reactance of one conductor in plastic conduit [Ω/m].

    Parameters
    ----------
    gauge_awg : int
        14, 12, 10, 8, 6 or 4, the sizes of nec-2023-ch9-table-9 kept here (from memory).

    Raises
    ------
    OutOfRangeError
        For a size not listed.
    """
    listed("wire gauge [AWG]", gauge_awg, REACTANCE_OHM_PER_KFT)
    return REACTANCE_OHM_PER_KFT[gauge_awg] * _OHM_PER_M_PER_OHM_PER_KFT


def effective_impedance_ohm_per_m(
    gauge_awg: int, power_factor: float = 1.0, temperature_c: float = 75.0
) -> float:
    """Return what a conductor's current is multiplied by to give its drop [Ω/m].

    Parameters
    ----------
    gauge_awg : int
        American wire gauge, -3 (4/0) to 40.
    power_factor : float
        Lagging, 0.1 to 1. 1 is the cautious choice in cords, where resistance rules.
    temperature_c : float
        Conductor temperature [°C], -50 to 150.

    Raises
    ------
    OutOfRangeError
        Outside these ranges.

    Notes
    -----
    Z = R cos θ + X sin θ. Source: nec-2023-ch9-table-9 note 2 (read second-hand). A size
    without a listed reactance gets its whole resistance, which is never less.
    """
    within("power factor", power_factor, 0.1, 1.0)
    resistance = resistance_ohm_per_m(gauge_awg, temperature_c)
    if power_factor == 1.0 or gauge_awg not in REACTANCE_OHM_PER_KFT:
        return resistance
    sine = math.sqrt(1.0 - power_factor**2)
    return resistance * power_factor + reactance_ohm_per_m(gauge_awg) * sine
