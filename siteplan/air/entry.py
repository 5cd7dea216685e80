"""Air through openings, and what it makes of the air in a room."""

import math
from typing import Literal, NamedTuple

import numpy as np
import numpy.typing as npt

from siteplan.air.checks import FloatArray, known, positive, within

OpeningState = Literal["shut", "cracked", "open"]
Shelter = Literal[1, 2, 3, 4, 5]

_GRAVITY_M_S2 = 9.80665
_AIR_KG_M3 = 1.2
SCREENING_PRESSURE_PA = 2.0
"""Pressure across an opening for screening [Pa] (proposal)."""
AFTER_PER_H = 0.2
"""Air change after the machine stops [1/h]: a tight house keeps what came in (common practice)."""


class Exchange(NamedTuple):
    """Air changes of the room behind an opening [1/h], one for each band."""

    indicative_per_h: float
    worst_per_h: float


AIR_CHANGES: dict[OpeningState, Exchange] = {
    "shut": Exchange(0.5, 1.5),
    "cracked": Exchange(1.0, 3.0),
    "open": Exchange(3.0, 6.0),
}
"""Shut: typical 0.5 and leaky 1.5, cracked for a cord 1, open 3 (common practice, within measured
US rates: median 0.71 in three cities, Indoor Air 2010, abstract read; P10 0.18, P90 1.26 in the
EPA Exposure Factors Handbook, from memory). The worst values of cracked and open are a proposal:
while exhaust comes in, more exchange fills the room faster."""


def orifice_flow_m3_s(
    area_m2: float, pressure_pa: float, discharge: float = 0.6, air_kg_m3: float = _AIR_KG_M3
) -> float:
    """Return the flow through a sharp-edged opening: Cd A sqrt(2 Δp/ρ).

    Parameters
    ----------
    area_m2 : float
        Free area [m²], above 0.
    pressure_pa : float
        Pressure difference [Pa], 0 and more.
    discharge : float
        Cd, 0.6 to 0.65 for a sharp edge.
    air_kg_m3 : float
        Density of air [kg/m³].

    Returns
    -------
    float
        Flow [m³/s]. Source: orifice equation (from memory; form read). Small cracks deviate.

    Raises
    ------
    OutOfRangeError
        If an argument is outside its range.
    """
    pressure = float(within("pressure [Pa]", pressure_pa, 0.0, 1000.0))
    return positive("area [m²]", area_m2, 1e3) * discharge * math.sqrt(2.0 * pressure / air_kg_m3)


def wind_flow_m3_s(area_m2: float, wind_m_s: float, oblique_deg: float = 0.0) -> float:
    """Return the flow that wind drives through an open area: Cw A V.

    Parameters
    ----------
    area_m2 : float
        Open area [m²], above 0.
    wind_m_s : float
        Wind at the opening [m/s].
    oblique_deg : float
        Angle between the wind and the square to the wall [deg], 0 to 90.

    Returns
    -------
    float
        Flow [m³/s] with Cw 0.55 square, 0.30 at 45° and more, linear between.

    Raises
    ------
    OutOfRangeError
        If an argument is outside its range.

    Notes
    -----
    Source: ASHRAE Handbook of Fundamentals 2009, ch. 16, as quoted in a building simulation
    reference (read second-hand).
    """
    angle = float(within("angle of the wind [deg]", oblique_deg, 0.0, 90.0))
    effectiveness = 0.55 - 0.25 * min(angle, 45.0) / 45.0
    wind = float(within("wind speed [m/s]", wind_m_s, 0.0, 100.0))
    return effectiveness * positive("area [m²]", area_m2, 1e3) * wind


def stack_flow_m3_s(area_m2: float, height_m: float, indoor_c: float, outdoor_c: float) -> float:
    """Return the flow that warmth drives: CD A sqrt(2 g ΔH |Ti - To|/Ti), CD = 0.40 + 0.0045 |ΔT|.

    Parameters
    ----------
    area_m2 : float
        Open area [m²], above 0.
    height_m : float
        Height from the opening to the neutral level [m].
    indoor_c, outdoor_c : float
        Temperatures [°C].

    Returns
    -------
    float
        Flow [m³/s].

    Raises
    ------
    OutOfRangeError
        If an argument is outside its range.

    Notes
    -----
    Source: ASHRAE Handbook of Fundamentals 2009, ch. 16 (from memory). Wind and stack add as
    squares: `math.hypot` of the two (read second-hand).
    """
    difference = abs(indoor_c - outdoor_c)
    indoor_k = positive("indoor temperature [K]", indoor_c + 273.15, 400.0)
    height = float(within("height [m]", height_m, 0.0, 100.0))
    speed = math.sqrt(2.0 * _GRAVITY_M_S2 * height * difference / indoor_k)
    return (0.40 + 0.0045 * difference) * positive("area [m²]", area_m2, 1e3) * speed


def single_sided_flow_m3_s(
    area_m2: float, height_m: float, wind_m_s: float, difference_k: float
) -> float:
    """Return the flow through one open window in one wall, by de Gids and Phaff.

    Parameters
    ----------
    area_m2 : float
        Free area of the window [m²], above 0.
    height_m : float
        Height of the free opening [m].
    wind_m_s : float
        Wind at 10 m [m/s].
    difference_k : float
        Temperature difference, indoors to outdoors [K].

    Returns
    -------
    float
        0.5 A sqrt(0.001 U² + 0.0035 H |ΔT| + 0.01) [m³/s].

    Raises
    ------
    OutOfRangeError
        If an argument is outside its range.

    Notes
    -----
    Source: de Gids and Phaff, Air Infiltration Review 4, 1982 (formula read second-hand).
    """
    wind = float(within("wind speed [m/s]", wind_m_s, 0.0, 100.0))
    height = float(within("height [m]", height_m, 0.0, 100.0))
    drive = 0.001 * wind**2 + 0.0035 * height * abs(difference_k) + 0.01
    return 0.5 * positive("area [m²]", area_m2, 1e3) * math.sqrt(drive)


_STACK_COEFFICIENT = (0.000145, 0.000290, 0.000435)
_WIND_COEFFICIENT = (
    (0.000319, 0.000420, 0.000494),
    (0.000246, 0.000325, 0.000382),
    (0.000174, 0.000231, 0.000271),
    (0.000104, 0.000137, 0.000161),
    (0.000032, 0.000042, 0.000049),
)


def leakage_flow_m3_s(
    leakage_cm2: float, difference_k: float, wind_m_s: float, storeys: int = 1, shelter: Shelter = 3
) -> float:
    """Return the infiltration of a house by the basic (LBNL) leakage model.

    Parameters
    ----------
    leakage_cm2 : float
        Effective leakage area at 4 Pa [cm²], above 0.
    difference_k : float
        Temperature difference [K].
    wind_m_s : float
        Mean wind at the weather station [m/s].
    storeys : int
        1 to 3.
    shelter : int
        1 no obstruction; 2 isolated rural; 3 buildings across the street; 4 urban, larger lots;
        5 immediately adjacent buildings.

    Returns
    -------
    float
        A_L sqrt(Cs |ΔT| + Cw U²), turned into [m³/s].

    Raises
    ------
    OutOfRangeError
        If an argument is outside its range.

    Notes
    -----
    Source: Sherman and Grimsrud; coefficients of the ASHRAE Handbook of Fundamentals, as quoted in
    a building simulation reference (read second-hand). Median error 43 % against 642 daily tracer
    tests (abstract read).
    """
    row = int(within("shelter class", shelter, 1, 5)) - 1
    column = int(within("storeys", storeys, 1, 3)) - 1
    wind = float(within("wind speed [m/s]", wind_m_s, 0.0, 100.0))
    drive = _STACK_COEFFICIENT[column] * abs(difference_k)
    drive += _WIND_COEFFICIENT[row][column] * wind**2
    return positive("leakage area [cm²]", leakage_cm2, 1e6) * math.sqrt(drive) / 1000.0


def air_changes_per_h(flow_m3_s: float, volume_m3: float) -> float:
    """Return the air changes [1/h] that a flow [m³/s] makes in a volume [m³, above 0]."""
    return 3600.0 * flow_m3_s / positive("volume [m³]", volume_m3, 1e6)


def exchange(
    state: OpeningState,
    area_m2: float | None = None,
    volume_m3: float | None = None,
    height_m: float = 1.0,
) -> Exchange:
    """Return the air changes of the room behind an opening for each band.

    Parameters
    ----------
    state : str
        "shut", "cracked" (a cord passes) or "open".
    area_m2, volume_m3 : float, optional
        Free area [m²] and room volume [m³]; with both, flows are computed as well.
    height_m : float
        Height of the free opening [m].

    Returns
    -------
    Exchange
        The table `AIR_CHANGES`, raised to de Gids and Phaff at 1 m/s and 5 K (indicative) and to
        the orifice at 2 Pa (worst) where these are larger. Knowing a size never lowers it.

    Raises
    ------
    UnknownNameError
        If there is no such state.
    OutOfRangeError
        If a size is outside its range.
    """
    known("state of an opening", state, AIR_CHANGES)
    table = AIR_CHANGES[state]
    if state == "shut" or area_m2 is None or volume_m3 is None:
        return table
    window = air_changes_per_h(single_sided_flow_m3_s(area_m2, height_m, 1.0, 5.0), volume_m3)
    orifice = air_changes_per_h(orifice_flow_m3_s(area_m2, SCREENING_PRESSURE_PA), volume_m3)
    indicative = max(table.indicative_per_h, window)
    return Exchange(indicative, max(table.worst_per_h, orifice, indicative))


def room_ppm(
    minutes: npt.ArrayLike,
    outdoor_ppm: npt.ArrayLike,
    air_changes: npt.ArrayLike,
    *,
    run_minutes: float = math.inf,
    start_ppm: npt.ArrayLike = 0.0,
    after_per_h: float = AFTER_PER_H,
) -> FloatArray:
    """Return CO in a well-mixed room while the machine runs and after.

    Parameters
    ----------
    minutes : array_like, shape (n,) or a number
        Times from the start of the run [min].
    outdoor_ppm : array_like, shape (...)
        CO in the air that comes in during the run [ppm].
    air_changes : array_like, shape (...)
        Air changes during the run [1/h], above 0 to 10 000.
    run_minutes : float
        Length of the run [min]; clean air comes in afterwards.
    start_ppm : array_like, shape (...)
        CO in the room at time 0 [ppm].
    after_per_h : float
        Air changes after the run [1/h].

    Returns
    -------
    ndarray, shape (..., n)
        CO in the room [ppm], between the smallest and the largest of start, outdoors and 0.

    Raises
    ------
    OutOfRangeError
        If a number is outside its range.

    Notes
    -----
    Source: single-zone balance dC/dt = n (Cout - C) with constant inputs, solved exactly
    (derived). All air is taken to come in at this opening.
    """
    times = within("time [min]", minutes, 0.0, 1e7)
    column = (..., np.newaxis) if times.ndim else ...
    outside = within("CO outdoors [ppm]", outdoor_ppm, 0.0, 1e6)[column]
    start = within("CO at the start [ppm]", start_ppm, 0.0, 1e6)[column]
    rate = within("air changes [1/h]", air_changes, 1e-9, 1e4)[column]
    run = float(within("run [min]", run_minutes, 0.0, math.inf))
    clearing = float(within("air changes after the run [1/h]", after_per_h, 0.0, 1e4))
    running_h = np.minimum(times, run) / 60.0
    after_h = np.maximum(times - run, 0.0) / 60.0
    filled = start * np.exp(-rate * running_h) + outside * -np.expm1(-rate * running_h)
    return np.asarray(filled * np.exp(-clearing * after_h))
