"""Qt's own dialogs speak the language of the window."""

from PySide6.QtCore import QCoreApplication

from siteplan.desk.qt_language import qt_speaks
from siteplan.desk.window import Window


def cancel() -> str:
    """What Qt itself writes on a button; the sentence is that of qtbase in the wheel."""
    return QCoreApplication.translate("QPlatformTheme", "Cancel")


def test_qt_speaks_the_language_of_the_window_and_goes_back(window: Window) -> None:
    assert cancel() == "Cancel"
    window.session.speak(language="es")
    assert cancel() == "Cancelar"
    window.session.speak(language="en")
    assert cancel() == "Cancel"


def test_it_is_put_in_force_once_however_often_it_is_asked_for(window: Window) -> None:
    for _ in range(3):
        qt_speaks("es")
    assert cancel() == "Cancelar"
    qt_speaks("en")
    assert cancel() == "Cancel"
