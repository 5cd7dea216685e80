"""The tapes to the machine's place, as marks on the drawing."""

from siteplan.drawing.marks import Dimension, Mark, Marks, Symbol
from siteplan.paper.subject import Subject
from siteplan.suggest.tapes import SetOut, Tape
from siteplan.words import Quantity


def tape_marks(found: SetOut | None, subject: Subject) -> Marks:
    """Return the tapes as lines with their lengths and letters at their corners."""
    if found is None:
        return ()
    marks: list[Mark] = []
    for tape in found.tapes:
        text = f"{tape.letter} {tape_length(subject, tape)}"
        marks.append(Dimension(tape.corner_xy, found.place_xy, text, "setout-line"))
        marks.append(Symbol("tag", tape.corner_xy, "setout-line", size_mm=4.6, text=tape.letter))
    return tuple(marks)


def tape_length(subject: Subject, tape: Tape) -> str:
    """Return a tape's reading, rounded to the nearest, for it is a place and no limit."""
    return subject.show(Quantity(tape.length_m, "length", "near"))
