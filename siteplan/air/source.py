"""How much carbon monoxide a machine puts out, and how strong its raw exhaust can be."""

from typing import Literal, NamedTuple

from siteplan.air.checks import known, positive, within

EngineClass = Literal["handheld", "class-1", "class-2-single", "class-2-twin"]
Basis = Literal["label", "class", "engine-size", "screening"]

CO_G_PER_MOL = 28.010
"""Molar mass of CO [g/mol]. Source: IUPAC (from memory)."""
CO_DENSITY_G_M3 = 1145.0
"""Density of CO at 25 °C and 1 atm [g/m³]: 1 ppm = 1.145 mg/m³ (read second-hand)."""
_GAS_CONSTANT = 8.3145  # J/(mol K)

SCREENING_G_H = 1500.0
"""Rate [g/h] taken when nothing is known; a figure of the project's own (proposal), three
times the about 500 g/h measured at near-ambient oxygen on two unmodified portable machines
(NIST, Indoor Air 2014, abstract read)."""
LIMIT_G_PER_KWH = 610.0
"""CO allowed per engine work [g/kWh] for small spark-ignition engines.
Source: 40 CFR 1054.105 (from memory); 519 to 610 g/kWh in a CPSC staff paper
of about 2004 (read)."""
REDUCED_OXYGEN_FACTOR = 3.0
"""Rise of the rate as oxygen falls toward 17 %, in any enclosed place. Source: 81 FR 83556
package (from memory); the same machines measured at 500 and at nearly 4000 g/h show up to eight
times (NIST, Indoor Air 2014, abstract read), so 3 is no upper bound."""
RAW_CEILING_PPM = 100_000.0
"""Highest CO taken for raw exhaust [ppm]: 519 to 610 g/kWh is 8 to 10 % by volume (derived)."""

CLASS_G_H: dict[EngineClass, float] = {
    "handheld": 300.0,
    "class-1": 600.0,
    "class-2-single": 1570.0,
    "class-2-twin": 3030.0,
}
"""Baseline rate by engine class at ambient oxygen [g/h]. Source: 81 FR 83556 package
(from memory, medium to low confidence)."""

_USUAL_CO_SHARE = 0.05
_STRONG_CO_SHARE = 0.08
_FILLING = 0.85


class SourceRate(NamedTuple):
    """A CO rate for each band.

    Attributes
    ----------
    indicative_g_h : float
        The rate for the indicative band [g/h].
    worst_g_h : float
        The rate for the worst band [g/h]; never below the screening rate.
    basis : str
        What the indicative rate stands on: label, class, engine-size or screening.
    """

    indicative_g_h: float
    worst_g_h: float
    basis: Basis


def screening_rate_g_h(engine_kw: float | None = None) -> float:
    """Return the rate for a machine of which nothing better is known.

    Parameters
    ----------
    engine_kw : float, optional
        Rated power of the engine [kW], above 0 to 100.

    Returns
    -------
    float
        The larger of 610 g/kWh at rated power and 1500 g/h [g/h].

    Raises
    ------
    OutOfRangeError
        If the power is outside its range.

    Notes
    -----
    Source: the emission limit of `LIMIT_G_PER_KWH` (from memory) at full power; the floor is a
    proposal. It is a screening value, not a bound: a worn or flooded engine gives more.
    """
    if engine_kw is None:
        return SCREENING_G_H
    return max(LIMIT_G_PER_KWH * positive("engine power [kW]", engine_kw, 100.0), SCREENING_G_H)


def exhaust_flow_m3_s(displacement_cc: float, speed_rpm: float = 3600.0) -> float:
    """Return the cold-gas exhaust flow of a four-stroke engine.

    Parameters
    ----------
    displacement_cc : float
        Swept volume [cm³], above 0 to 5000.
    speed_rpm : float
        Engine speed [1/min], above 0 to 10 000.

    Returns
    -------
    float
        Displacement × speed / 2 × 0.85 [m³/s], at intake temperature.

    Raises
    ------
    OutOfRangeError
        If an argument is outside its range.

    Notes
    -----
    Source: derived (one intake stroke in two turns); filling 0.85 is common practice, no source.
    """
    swept_m3 = positive("displacement [cm³]", displacement_cc, 5000.0) * 1e-6
    intakes_per_s = positive("engine speed [1/min]", speed_rpm, 10_000.0) / 60.0 / 2.0
    return swept_m3 * intakes_per_s * _FILLING


def engine_size_rate_g_h(
    displacement_cc: float, speed_rpm: float = 3600.0, co_share: float = _USUAL_CO_SHARE
) -> float:
    """Return the rate from the exhaust flow and the share of CO in it.

    Parameters
    ----------
    displacement_cc, speed_rpm : float
        As for `exhaust_flow_m3_s`.
    co_share : float
        CO in raw exhaust by volume [0..0.1]; 0.05 typical, 0.08 strong (from memory: 1 to 8 %).

    Returns
    -------
    float
        Rate [g/h]. Source: derived.

    Raises
    ------
    OutOfRangeError
        If an argument is outside its range.
    """
    share = float(within("CO share of the exhaust", co_share, 0.0, 0.1))
    return exhaust_flow_m3_s(displacement_cc, speed_rpm) * share * CO_DENSITY_G_M3 * 3600.0


def source_rate(
    *,
    label_g_h: float | None = None,
    engine_class: EngineClass | None = None,
    displacement_cc: float | None = None,
    speed_rpm: float = 3600.0,
    engine_kw: float | None = None,
    confined: bool = False,
) -> SourceRate:
    """Return the CO rate of a machine for the indicative and the worst band.

    Parameters
    ----------
    label_g_h : float, optional
        Rate on the machine's emission label [g/h], above 0 to 20 000.
    engine_class : str, optional
        One of `CLASS_G_H`.
    displacement_cc, speed_rpm : float, optional
        Swept volume [cm³] and speed [1/min].
    engine_kw : float, optional
        Rated engine power [kW].
    confined : bool
        Whether the machine stands in an enclosed or three-sided place: both rates × 3.

    Returns
    -------
    SourceRate
        The label, else the larger of class and engine size, else the screening rate is
        indicative. The worst rate is the largest of all that is known and of the screening
        rate, so that no label and no shut-off feature lowers it.

    Raises
    ------
    OutOfRangeError
        If a number is outside its range.
    UnknownNameError
        If there is no such engine class.
    """
    screening = screening_rate_g_h(engine_kw)
    rates: dict[Basis, float] = {}
    strong = 0.0
    if engine_class is not None:
        known("engine class", engine_class, CLASS_G_H)
        rates["class"] = CLASS_G_H[engine_class]
    if displacement_cc is not None:
        rates["engine-size"] = engine_size_rate_g_h(displacement_cc, speed_rpm)
        strong = engine_size_rate_g_h(displacement_cc, speed_rpm, _STRONG_CO_SHARE)
    worst = max(screening, strong, *rates.values())
    if label_g_h is not None:
        rates = {"label": positive("labelled CO rate [g/h]", label_g_h, 20_000.0)}
        worst = max(worst, label_g_h)
    basis = max(rates, key=lambda name: rates[name]) if rates else "screening"
    factor = REDUCED_OXYGEN_FACTOR if confined else 1.0
    return SourceRate(rates.get(basis, screening) * factor, worst * factor, basis)


def flow_m3_s(rate_g_h: float) -> float:
    """Return the volume flow [m³/s] of pure CO at 25 °C and 1 atm for a rate [g/h] (derived)."""
    return rate_g_h / 3600.0 / CO_DENSITY_G_M3


def raw_exhaust_ppm(
    rate_g_h: float, displacement_cc: float | None = None, speed_rpm: float = 3600.0
) -> float:
    """Return the CO in undiluted exhaust, the most that can ever reach an opening.

    Parameters
    ----------
    rate_g_h : float
        CO rate [g/h].
    displacement_cc, speed_rpm : float, optional
        Engine size; without it the ceiling of 100 000 ppm is returned.

    Returns
    -------
    float
        CO [ppm by volume, cold gas], at most `RAW_CEILING_PPM`. Source: derived.

    Raises
    ------
    OutOfRangeError
        If an argument is outside its range.
    """
    if displacement_cc is None:
        return RAW_CEILING_PPM
    share = flow_m3_s(rate_g_h) / exhaust_flow_m3_s(displacement_cc, speed_rpm)
    return min(1e6 * share, RAW_CEILING_PPM)


def mg_m3_from_ppm(ppm: float, temperature_c: float = 25.0, pressure_kpa: float = 101.325) -> float:
    """Return CO in [mg/m³] for CO in [ppm] at a temperature [°C] and pressure [kPa].

    Source: ideal gas law; 1 ppm = 1.145 mg/m³ at 25 °C and 1 atm (read second-hand).

    Raises
    ------
    OutOfRangeError
        If the temperature is not above absolute zero or the pressure not above 0.
    """
    kelvin = positive("temperature [K]", temperature_c + 273.15, 5000.0)
    pressure = positive("pressure [kPa]", pressure_kpa, 1e5)
    return ppm * CO_G_PER_MOL * pressure / (_GAS_CONSTANT * kelvin)


def ppm_from_mg_m3(
    mg_m3: float, temperature_c: float = 25.0, pressure_kpa: float = 101.325
) -> float:
    """Return CO in [ppm] for CO in [mg/m³]; the inverse of `mg_m3_from_ppm`."""
    return mg_m3 / mg_m3_from_ppm(1.0, temperature_c, pressure_kpa)
