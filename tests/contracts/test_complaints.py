"""What goes wrong is said in the reader's language too; as a plain string it stays English."""

import json
from unittest.mock import Mock

import pytest

from siteplan.cli import main
from siteplan.cli.usage import language_asked, mistake
from siteplan.desk.text import speak, why
from siteplan.errors import OutOfRangeError, Said, SiteplanError, UnitTextError
from siteplan.plan.edits import changed
from siteplan.plan.errors import BrokenFileError, EditError
from siteplan.plan.lot import Opening
from siteplan.plan.store import parse
from siteplan.units import parse_length
from siteplan.words import Manner, complaint, plain
from tests.helpers.strings import ROOT

SPANISH = Manner("es", "feet")


def spanish(error):
    return complaint(error).say(SPANISH)


def test_a_message_nests_and_braces_of_users_stay_as_they_are():
    error = SiteplanError("{path}: {why}", path="{a}", why=Said("is missing"))
    assert str(error) == "{a}: is missing"
    assert spanish(error) == "{a}: falta"
    assert spanish(SiteplanError("{not} a template")) == "{not} a template"


def test_what_was_typed_wrongly_is_told_in_both_languages():
    with pytest.raises(UnitTextError) as caught:
        parse_length("1,250 ft")
    assert str(caught.value).startswith("'1,250 ft' is not clear about its comma; wanted is a len")
    assert spanish(caught.value).startswith("«1,250 ft» no es claro con su coma; se espera un lar")


def test_a_figure_out_of_range_is_told_in_both_languages():
    error = OutOfRangeError("tape [m]", 7.0, 0.0, 5.5)
    assert str(error) == "tape [m] is 7; allowed is 0 to 5.5"
    assert spanish(error) == "cinta [m] es 7; se admite de 0 a 5.5"


@pytest.mark.parametrize(
    ("fields", "english", "said"),
    [
        (
            {"width_m": -1.0},
            "width_m: input should be greater than 0; found -1.0",
            "debe ser más de 0",
        ),
        ({"kind": "hole"}, "kind: input should be 'door', 'window'", "debe ser uno de: 'door', 'w"),
        ({"wall": "x"}, "wall: input should be a valid integer; found 'x'", "debe ser un número"),
    ],
)
def test_an_edit_refused_is_told_in_both_languages(fields, english, said):
    door = Opening(id="d", kind="door", building="h", wall=0, offset_m=0.0, width_m=0.9)
    with pytest.raises(EditError) as caught:
        changed(door, **fields)
    assert str(caught.value).startswith(english)
    assert said in spanish(caught.value)


@pytest.mark.parametrize(
    ("raw", "english", "said"),
    [
        (b"[]", "is not a plan", "no es un plano"),
        (b"{", "is not JSON", "no es JSON"),
        (b'{"a": 1, "a": 2}', "the key 'a' stands twice", "la clave «a» está dos veces"),
        (b"\xff", "is not UTF-8 text (byte 0)", "no es texto UTF-8 (byte 0)"),
        (b'{"format": "siteplan", "version": 0}', "must be a whole number", "debe ser un número"),
        (b'{"format": "siteplan", "version": 1, "moat": 1}', "moat: is no field", "moat: no es un"),
        (
            b'{"format": "siteplan", "version": 1, "chosen": "gap"}',
            "chosen: there is no placement 'gap'",
            "chosen: no existe la posición «gap»",
        ),
    ],
)
def test_a_file_refused_is_told_in_both_languages(raw, english, said):
    with pytest.raises(BrokenFileError) as caught:
        parse(raw, "a.siteplan")
    assert str(caught.value).startswith("a.siteplan: ")
    assert english in str(caught.value)
    assert said in spanish(caught.value)
    assert spanish(caught.value) == plain(spanish(caught.value), 600)


def test_the_window_says_it_in_the_language_chosen():
    error = EditError("the wall is gone")
    try:
        speak(SPANISH)
        assert why(error) == "la pared ya no existe"
        assert why(OSError(2, "gone")) == "[Errno 2] gone"
    finally:
        speak(Manner())
    assert why(error) == "the wall is gone"


@pytest.mark.parametrize(
    ("command", "said"),
    [
        (["review", "none.siteplan"], "none.siteplan: no se puede leer (no existe ese archivo"),
        (["rules", "separation-opening2"], "no existe la regla «separation-opening2»; ¿quiso"),
        (["review", "SAMPLE", "--placement", "x"], "no existe la posición «x»"),
    ],
)
def test_the_command_line_says_it_in_the_language_asked_for(command, said, capsys):
    sample = str(ROOT / "samples" / "bad-placement.siteplan")
    arguments = [sample if one == "SAMPLE" else one for one in command]
    assert main.main([*arguments, "--language", "es"]) in {2, 4}
    assert capsys.readouterr().err.startswith(f"siteplan: {said}")
    assert main.main(arguments) in {2, 4}
    assert said not in capsys.readouterr().err


@pytest.mark.parametrize(
    ("command", "said"),
    [
        (["fly"], "argumento COMMAND: opción no válida: 'fly' (elija entre 'open', 'review'"),
        (["review"], "siteplan review: error: faltan estos argumentos: PLAN"),
        (["review", "a", "--fly"], "argumentos desconocidos: --fly"),
        (["review", "a", "--units"], "argumento --units: falta su valor"),
        (["review", "a", "--units", "ells"], "argumento --units: opción no válida: 'ells' (elija"),
        (["draw", "a", "-o", "b.svg", "--dpi", "x"], "argumento --dpi: valor no válido: 'x'"),
        (["review", "a", "--json=1"], "argumento --json: no lleva valor: '1'"),
    ],
)
def test_wrong_usage_is_told_in_both_languages(command, said, capsys):
    for asked in (["--language", "es"], ["--language=es"]):
        assert main.main([*command, *asked]) == 2
        assert said in capsys.readouterr().err
    assert main.main(command) == 2
    told = capsys.readouterr().err
    assert said not in told
    assert "error: " in told


def test_what_argparse_may_say_some_day_is_told_as_it_comes():
    assert mistake("a {new} complaint").say(SPANISH) == "a {new} complaint"
    assert mistake("argument --x: a new one").say(SPANISH) == "argumento --x: a new one"


@pytest.mark.parametrize(
    ("arguments", "language"),
    [
        (["review", "--language", "es"], "es"),
        (["review", "--lang=es"], "es"),
        (["--language", "fr"], "en"),
        (["--language"], "en"),
        (["es"], "en"),
        (["--placement", "es"], "en"),
    ],
)
def test_the_language_is_found_even_in_arguments_that_are_wrong(arguments, language):
    assert language_asked(arguments) == language


def test_a_fault_of_its_own_and_of_the_machine_are_told_in_both_languages(monkeypatch, capsys):
    faults = {
        OSError(28, "No space left on device"): "no se puede leer o escribir (no queda espacio",
        RuntimeError("x"): "error interno (RuntimeError: x); por favor avise",
    }
    for fault, said in faults.items():
        monkeypatch.setattr(main, "_run", Mock(side_effect=fault))
        assert main.main(["new", "--language", "es"]) in {4, 5}
        assert capsys.readouterr().err.startswith(f"siteplan: {said}")
        assert main.main(["new"]) in {4, 5}
        assert said not in capsys.readouterr().err


def test_what_is_left_out_of_a_file_is_told_in_the_language_asked_for(tmp_path, capsys):
    ring = [[0, 0], [0.0003, 0], [0.0003, 0.0003], [0, 0.0003], [0, 0]]
    parcel = tmp_path / "lot.geojson"
    parts = [{"type": "Polygon", "coordinates": [ring]}, {"type": "Point", "coordinates": [0, 0]}]
    parcel.write_text(json.dumps({"type": "GeometryCollection", "geometries": parts}))
    out = str(tmp_path / "a.siteplan")
    assert main.main(["bring", str(parcel), "-o", out, "--language", "es"]) == 0
    told = capsys.readouterr().err
    assert "siteplan: se trajo un lote, y edificios: 0" in told
    assert "siteplan: quedaron fuera los puntos y las líneas" in told


def test_why_there_is_no_window_is_told_in_the_language_asked_for(monkeypatch, capsys):
    monkeypatch.delenv("DISPLAY", raising=False)
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
    monkeypatch.delenv("QT_QPA_PLATFORM", raising=False)
    monkeypatch.setattr("sys.platform", "linux")
    sample = str(ROOT / "samples" / "bad-placement.siteplan")
    assert main.main(["open", sample, "--language", "es"]) == 0
    assert "siteplan: Aquí no hay pantalla" in capsys.readouterr().err
