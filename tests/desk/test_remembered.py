from PySide6.QtCore import QLocale, QSettings

from siteplan.desk.remembered import remember_manner, remembered_manner
from siteplan.words import Manner


def speaking(monkeypatch, language):
    locale = QLocale(language)
    monkeypatch.setattr(QLocale, "system", staticmethod(lambda: locale))


def test_a_first_start_speaks_the_systems_language_where_there_is_one(window, monkeypatch):
    QSettings().clear()
    speaking(monkeypatch, QLocale.Language.Spanish)
    assert remembered_manner() == Manner("es", "feet")
    speaking(monkeypatch, QLocale.Language.French)
    assert remembered_manner() == Manner("en", "feet")


def test_what_was_chosen_holds_at_the_next_start(window, monkeypatch):
    QSettings().clear()
    speaking(monkeypatch, QLocale.Language.Spanish)
    window.session.speak("es", "feet")
    window.switch_language()
    assert remembered_manner() == Manner("en", "feet")
    window.switch_units()
    assert remembered_manner() == Manner("en", "metres")


def test_a_choice_that_nobody_can_have_made_is_passed_over(window, monkeypatch):
    speaking(monkeypatch, QLocale.Language.English)
    for written in ("", "latin", "7"):
        QSettings().setValue("language", written)
        QSettings().setValue("units", written)
        assert remembered_manner() == Manner("en", "feet")
    remember_manner(Manner("es", "metres"))
    assert remembered_manner() == Manner("es", "metres")
