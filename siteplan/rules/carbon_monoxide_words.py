"""How the carbon monoxide estimate is told: the same sentences on screen, paper and terminal."""

import math
from collections.abc import Iterator, Mapping

from siteplan.air.blood import Activity
from siteplan.air.entry import AIR_CHANGES, OpeningState
from siteplan.air.source import Basis
from siteplan.air.thresholds import SEVERE_PERCENT, AlarmPoint
from siteplan.rules.carbon_monoxide import Behind, COEstimate, OpeningEstimate
from siteplan.words import Quantity, Text, Value, length

CAUTION_TEXT = (
    "Screening estimate, outside the published range of the dispersion formulas, uncertain by a"
    " factor of 10; CO alarms on every floor are still needed; local code and licensed practice"
    " govern."
)
"""Stands wherever a figure of the estimate is shown; the same words as in the formulas."""
CONFINED_TEXT = (
    "The generator stands roofed or walled in: a danger at any distance, without any estimate. "
    "The figures take three times the carbon monoxide, as engines make when oxygen runs low."
)
NO_OPENING_TEXT = "No opening is drawn within {reach} of the exhaust: nothing could be estimated."
STATE_WORDS: Mapping[OpeningState, str] = {
    "shut": "shut",
    "cracked": "ajar for a cord",
    "open": "open, or air is drawn in",
}
PERSON_WORDS: Mapping[Activity, str] = {
    "public": "people awake at home",
    "heavy": "someone at hard work",
    "child": "a small child",
}
PERSON_TEXT = "Blood and times in tables are those of {person}."
METHOD_WORDS: Mapping[str, str] = {
    "stretched-string": "stretched string",
    "urban-plume": "plume, built-up land",
    "rural-plume": "plume, open land, stable night",
    "still-air": "still air",
    "cavity": "recirculating air behind the building",
    "handbook-plume": "handbook plume",
}
BASIS_WORDS: Mapping[Basis, str] = {
    "label": "its label",
    "class": "its engine class",
    "engine-size": "its engine size",
    "screening": "a screening figure, as nothing better is entered",
}
SYMPTOM_TEXTS = (
    "background of a non-smoker",
    "heart patients: chest pain sooner under effort",
    "healthy adults: breathless under effort",
    "headache",
    "headache and confusion",
    "nausea, fatigue, disorientation, irritability",
    "hallucination, collapse, convulsions, coma, often death",
    "death",
)
NO_SYMPTOM_TEXT = "none that people notice; that is no assurance"
BANDS_TEXT = (
    "Two figures stand for two bands. The first: light wind of 1 m/s straight at the opening, the "
    "usual methods. The second: air nearly still, all methods, the strongest source."
)
PEOPLE_TEXT = (
    "Blood starts at {start}, a non-smoker's. Children, the unborn and heart patients come to harm "
    "first; a small child takes carbon monoxide up about 2.5 times as fast in the first hour."
)
ROOM_TEXT = (
    "A shut house changes its air {shut} to {leaky} times an hour; behind an opening that is not "
    "shut a room of {room} cubic metres is assumed, and all its air comes in there."
)
ALARM_TEXTS = {
    "never": "At {ppm} an alarm stays silent for 30 days.",
    "between": "At {ppm} an alarm must sound between {early} and {late}.",
}
WIND_TEXT = (
    "Wind: {origin}. Hours in which an opening lies downwind include still air. They tell how "
    "often and shorten no distance: wind turns, and still air is the worst."
)
NO_WIND_TEXT = (
    "No wind is entered. Still air is the worst case and is what the second figures stand for."
)
WIND_REFUSED_TEXT = "The wind entered is not used: its shares come to more than the whole."
UNNAMED_WIND_TEXT = "typed in"


def ppm(value: float) -> Quantity:
    """Return a concentration, rounded up."""
    return Quantity(value, "concentration", "up")


def percent(value: float) -> Quantity:
    """Return carboxyhaemoglobin, rounded up."""
    return Quantity(value, "percent", "up")


def share(value: float) -> Quantity:
    """Return a share of hours, rounded up."""
    return Quantity(value, "share", "up")


def when(minutes: float) -> Quantity | Text:
    """Return a time rounded down, or that it does not come in this run."""
    if not math.isfinite(minutes):
        return Text("not in this run")
    if minutes < 1.0:
        return Text("within a minute")
    return Quantity(minutes * 60.0, "time", "down")


def basis(estimate: COEstimate) -> Iterator[Text]:
    """Yield what the estimate stands on: source, run, rooms, people, bands, wind."""
    if estimate.confined:
        yield Text(CONFINED_TEXT)
    rate = estimate.rate
    yield Text(
        "Carbon monoxide from the engine: {usual} to {worst} g/h, by {basis}. A low-emission label "
        "or a shut-off lowers neither figure.",
        {
            "usual": math.ceil(rate.indicative_g_h),
            "worst": math.ceil(rate.worst_g_h),
            "basis": Text(BASIS_WORDS[rate.basis]),
        },
    )
    yield _run(estimate)
    yield Text(BANDS_TEXT)
    yield Text(ROOM_TEXT, _room(estimate))
    yield Text(PEOPLE_TEXT, {"start": percent(estimate.start_percent)})
    yield Text(PERSON_TEXT, {"person": Text(PERSON_WORDS[estimate.person])})
    yield wind(estimate)


def nothing_within(estimate: COEstimate) -> Text:
    """Return that no opening is drawn within reach."""
    return Text(NO_OPENING_TEXT, {"reach": length(estimate.reach_m)})


def _run(estimate: COEstimate) -> Text:
    run = Quantity(estimate.run_h * 3600.0, "time", "up")
    if estimate.run_stated:
        return Text(
            "Run: {run}, from the length of the outage; at least 8 h is taken.", {"run": run}
        )
    return Text("Run: {run}, assumed, as no length of the outage is entered.", {"run": run})


def _room(estimate: COEstimate) -> Mapping[str, Value]:
    shut = AIR_CHANGES["shut"]
    return {
        "shut": f"{shut.indicative_per_h:g}",
        "leaky": f"{shut.worst_per_h:g}",
        "room": f"{estimate.room_volume_m3:g}",
    }


def wind(estimate: COEstimate) -> Text:
    """Return what is known of the wind."""
    if estimate.wind_refused:
        return Text(WIND_REFUSED_TEXT)
    if estimate.rose is None:
        return Text(NO_WIND_TEXT)
    origin: Value = estimate.wind_origin or Text(UNNAMED_WIND_TEXT)
    return Text(WIND_TEXT, {"origin": origin})


def alarm(point: AlarmPoint) -> Text:
    """Return when a household alarm must sound at one concentration."""
    values: dict[str, Value] = {"ppm": Quantity(point.ppm, "concentration")}
    if not math.isfinite(point.not_after_min):
        return Text(ALARM_TEXTS["never"], values)
    values |= {
        "early": Quantity(point.not_before_min * 60.0, "time"),
        "late": Quantity(point.not_after_min * 60.0, "time"),
    }
    return Text(ALARM_TEXTS["between"], values)


def symptoms(behind: Behind) -> Text:
    """Return what the general public feels at the end of the run."""
    found = behind.symptom
    return Text(NO_SYMPTOM_TEXT if found is None else found.effect)


def headline(one: OpeningEstimate) -> Text:
    """Return an opening, its state and the way of the exhaust to it."""
    return Text(
        "{subject}, {state}, {path} from the exhaust",
        {
            "subject": one.label,
            "state": Text(STATE_WORDS[one.state]),
            "path": length(one.path_m),
        },
    )


def details(one: OpeningEstimate) -> Iterator[Text]:
    """Yield what is estimated for an opening, both bands in each sentence."""
    usual, worst = one.indicative, one.worst
    methods = [*usual.by_method_ppm.values(), *worst.by_method_ppm.values()]
    yield Text(
        "Outside it {usual}, up to {worst}; the methods run from {low} to {high}.",
        {
            "usual": ppm(usual.outdoor_ppm),
            "worst": ppm(worst.outdoor_ppm),
            "low": Quantity(min(methods), "concentration", "down"),
            "high": ppm(max(methods)),
        },
    )
    for level in usual.minutes_to_ppm:
        yield Text(
            "The room reaches {level}: {usual}; at the worst {worst}.",
            {
                "level": Quantity(level, "concentration"),
                "usual": when(usual.minutes_to_ppm[level]),
                "worst": when(worst.minutes_to_ppm[level]),
            },
        )
    for person, peak in usual.peak_percent.items():
        yield Text(
            "Blood of {person}: {usual} at the end, at the worst {worst}. It reaches {severe} %: "
            "{soon}; at the worst {soonest}.",
            {
                "person": Text(PERSON_WORDS[person]),
                "usual": percent(peak),
                "worst": percent(worst.peak_percent[person]),
                "severe": int(SEVERE_PERCENT),
                "soon": when(usual.minutes_to_severe[person]),
                "soonest": when(worst.minutes_to_severe[person]),
            },
        )
    yield Text(
        "Signs by then: {usual}; at the worst {worst}.",
        {"usual": symptoms(usual), "worst": symptoms(worst)},
    )
    if one.downwind_share is not None:
        yield Text(
            "Downwind, or in still air, {share} of the hours.",
            {"share": share(one.downwind_share)},
        )
