"""Qt's own words, such as those in its file dialogs, in the language of the window."""

from PySide6.QtCore import QCoreApplication, QLibraryInfo, QTranslator

from siteplan.words import Language

_NAME = "qtbase"


def qt_speaks(language: Language) -> None:
    """Put Qt's own translations in force, or take them out again for English."""
    app = QCoreApplication.instance()
    if app is None:
        return
    found = app.findChild(QTranslator, _NAME)
    if language == "en":
        if found is not None:
            app.removeTranslator(found)
        return
    if found is None:
        found = QTranslator(app)
        found.setObjectName(_NAME)
        folder = QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath)
        found.load(f"{_NAME}_{language}", folder)
    app.installTranslator(found)
