"""How the window spoke last: its language and units, from one evening to the next."""

from PySide6.QtCore import QLocale, QSettings

from siteplan.words import Manner

_LANGUAGE, _UNITS = "language", "units"


def remember_manner(manner: Manner) -> None:
    """Keep a choice for the next start."""
    settings = QSettings()
    settings.setValue(_LANGUAGE, manner.language)
    settings.setValue(_UNITS, manner.system)


def remembered_manner() -> Manner:
    """Return the last choice; without one, the system's language and feet."""
    settings = QSettings()
    language = settings.value(_LANGUAGE, "")
    if language not in ("en", "es"):
        spanish = QLocale.system().language() == QLocale.Language.Spanish
        language = "es" if spanish else "en"
    metres = settings.value(_UNITS, "feet") == "metres"
    return Manner("es" if language == "es" else "en", "metres" if metres else "feet")
