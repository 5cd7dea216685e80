"""The questions the window asks. Tests put an answering stand-in in place of the dialogs."""

from pathlib import Path
from typing import Literal, Protocol

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QFileDialog, QMessageBox, QWidget

from siteplan.desk.text import tr

Unsaved = Literal["save", "discard", "cancel"]
Recover = Literal["open", "discard", "later"]


class Dialogs(Protocol):
    """What the window may ask its user."""

    def open_path(self, parent: QWidget, folder: Path, kinds: str) -> Path | None:
        """Ask for a file to open."""

    def save_path(self, parent: QWidget, proposal: Path, kinds: str) -> Path | None:
        """Ask for a file to write; the dialog itself asks before overwriting."""

    def unsaved(self, parent: QWidget, name: str) -> Unsaved:
        """Ask what to do with unsaved work."""

    def recover(self, parent: QWidget, name: str, when: str) -> Recover:
        """Ask what to do with work found after a crash."""

    def tell(self, parent: QWidget, message: str) -> None:
        """Say something that must be read."""

    def show(self, dialog: QDialog) -> bool:
        """Show a dialog of the program's own until it is answered; say whether it was taken."""


class QtDialogs:
    """The dialogs as Qt shows them, all text plain."""

    def open_path(self, parent: QWidget, folder: Path, kinds: str) -> Path | None:
        """Ask for a file to open."""
        name, _ = QFileDialog.getOpenFileName(parent, tr("Open"), str(folder), kinds)
        return Path(name) if name else None

    def save_path(self, parent: QWidget, proposal: Path, kinds: str) -> Path | None:
        """Ask for a file to write."""
        name, _ = QFileDialog.getSaveFileName(parent, tr("Save as"), str(proposal), kinds)
        return Path(name) if name else None

    def unsaved(self, parent: QWidget, name: str) -> Unsaved:
        """Ask what to do with unsaved work."""
        box = _box(parent, tr("Keep the changes to {name}?", name=name))
        keep = box.addButton(tr("Save"), QMessageBox.ButtonRole.AcceptRole)
        throw = box.addButton(tr("Don't save"), QMessageBox.ButtonRole.DestructiveRole)
        box.addButton(tr("Back to the plan"), QMessageBox.ButtonRole.RejectRole)
        box.setDefaultButton(keep)
        box.exec()
        if box.clickedButton() is keep:
            return "save"
        return "discard" if box.clickedButton() is throw else "cancel"

    def recover(self, parent: QWidget, name: str, when: str) -> Recover:
        """Ask what to do with work found after a crash."""
        question = tr("{name} was being edited ({when}) and was not saved.", name=name, when=when)
        box = _box(parent, question)
        box.setInformativeText(tr("Opening it makes a copy; the saved file stays as it is."))
        take = box.addButton(tr("Open the copy"), QMessageBox.ButtonRole.AcceptRole)
        throw = box.addButton(tr("Throw it away"), QMessageBox.ButtonRole.DestructiveRole)
        box.addButton(tr("Ask again later"), QMessageBox.ButtonRole.RejectRole)
        box.setDefaultButton(take)
        box.exec()
        if box.clickedButton() is take:
            return "open"
        return "discard" if box.clickedButton() is throw else "later"

    def tell(self, parent: QWidget, message: str) -> None:
        """Say something that must be read."""
        box = _box(parent, message)
        box.addButton(tr("Close"), QMessageBox.ButtonRole.AcceptRole)
        box.exec()

    def show(self, dialog: QDialog) -> bool:
        """Show a dialog of the program's own until it is answered; say whether it was taken."""
        # Its parent outlives it by far and would keep every dialog that was ever shown.
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        return dialog.exec() == QDialog.DialogCode.Accepted


def _box(parent: QWidget, message: str) -> QMessageBox:
    box = QMessageBox(parent)
    box.setWindowTitle("siteplan")
    box.setTextFormat(Qt.TextFormat.PlainText)
    box.setText(message)
    return box
