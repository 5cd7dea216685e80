"""What the window can be asked to do, as data; menus, keys and buttons come from this list."""

from typing import TYPE_CHECKING

from siteplan.desk.actions import Command
from siteplan.desk.text import tr

if TYPE_CHECKING:
    from siteplan.desk.window import Window


def commands(window: "Window") -> list[Command]:
    """Return every command of the window."""
    session, files = window.session, window.files
    return [
        Command("new", tr("New plan"), files.new, "Ctrl+N"),
        Command("open", tr("Open…"), files.ask_open, "Ctrl+O", "open"),
        Command("save", tr("Save"), files.save, "Ctrl+S", "save"),
        Command("save-as", tr("Save as…"), files.save_as, "Ctrl+Shift+S"),
        Command("demo", tr("Open the demo lot"), files.open_demo),
        Command("quit", tr("Close"), window.close, "Ctrl+Q"),
        Command("undo", tr("Undo"), session.undo_stack.undo, "Ctrl+Z", "undo"),
        Command("redo", tr("Redo"), session.undo_stack.redo, "Ctrl+Shift+Z|Ctrl+Y", "redo"),
        Command("delete", tr("Delete"), window.editing.delete, "Del", "trash"),
        Command("duplicate", tr("Duplicate"), window.editing.duplicate, "Ctrl+D", "duplicate"),
        Command("mirror", tr("Mirror"), window.editing.mirror, "Ctrl+M", "mirror"),
        Command("select-all", tr("Select everything"), window.editing.select_all, "Ctrl+A"),
        Command("numbers", tr("Exact numbers"), window.take_numbers, "F2"),
        Command("table", tr("Table of everything"), window.show_table, "Ctrl+T", "list"),
        Command("fit", tr("Show the lot"), window.fit, "Ctrl+0|Home", "fit"),
        Command("fit-whole", tr("Show everything"), window.fit_whole, "Ctrl+Shift+0"),
        Command("zoom-in", tr("Zoom in"), window.zoom_in, "Ctrl++|Ctrl+=", "plus"),
        Command("zoom-out", tr("Zoom out"), window.zoom_out, "Ctrl+-", "minus"),
        Command("zoom-selected", tr("Show what is selected"), window.fit_selection, "Ctrl+9"),
        Command("units", tr("Feet or metres"), window.switch_units, "Ctrl+U"),
        Command("language", tr("English or Spanish"), window.switch_language, "Ctrl+L"),
        Command("light", tr("Light"), lambda: window.use_palette("light")),
        Command("dark", tr("Dark"), lambda: window.use_palette("dark")),
        Command("contrast", tr("High contrast"), lambda: window.use_palette("contrast")),
        Command("next-palette", tr("Next colours"), window.next_palette, "Ctrl+Shift+L"),
        Command("measure", tr("Measure"), window.measure, "M", "measure"),
        Command("guide", tr("How to use it"), lambda: window.guide(0), "F1"),
        Command("keys", tr("Keys"), lambda: window.guide(1), "Ctrl+F1"),
        Command("rules", tr("Rules and sources"), lambda: window.guide(2), "Ctrl+R"),
        Command("next-pane", tr("Next panel"), window.panes.next, "F6"),
        Command("previous-pane", tr("Previous panel"), window.panes.previous, "Shift+F6"),
        Command("next-step", tr("Next step"), window.panes.next_step, "Ctrl+PgDown"),
        Command("previous-step", tr("Previous step"), window.panes.previous_step, "Ctrl+PgUp"),
    ]


def menus() -> list[tuple[str, list[str]]]:
    """Return the menus: title, and names of commands; an empty name is a line."""
    return [
        (tr("Plan"), ["new", "open", "recent", "demo", "", "save", "save-as", "", "quit"]),
        (
            tr("Edit"),
            ["undo", "redo", "", "duplicate", "mirror", "delete", "", "select-all", "numbers"],
        ),
        (
            tr("View"),
            [
                "fit",
                "fit-whole",
                "zoom-selected",
                "zoom-in",
                "zoom-out",
                "",
                "units",
                "language",
                "",
                "light",
                "dark",
                "contrast",
                "next-palette",
            ],
        ),
        (
            tr("Go"),
            [
                "table",
                "measure",
                "",
                "next-step",
                "previous-step",
                "",
                "next-pane",
                "previous-pane",
            ],
        ),
        (tr("Guide"), ["guide", "keys", "rules"]),
    ]
