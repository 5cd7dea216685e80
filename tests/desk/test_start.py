import math

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from siteplan.desk import backdrop
from siteplan.desk.tools.scale import ScalePicture
from siteplan.plan import Plan
from siteplan.plan.document import Backdrop, Calibration
from siteplan.units import feet


def test_typed_sizes_draw_lot_and_house(window):
    welcome = window._welcome
    for field, words in zip(welcome.fields, ("80'", "120 ft", "12.8 m", "360 in"), strict=True):
        field.setText(words)
    welcome.draw.click()
    plan = window.session.plan
    assert plan.lot.outline[2] == pytest.approx((feet(80), feet(120)))
    house = plan.building("house")
    width = house.outline[1][0] - house.outline[0][0]
    assert width == pytest.approx(12.8)
    assert house.outline[2][1] - house.outline[1][1] == pytest.approx(feet(30))
    assert not welcome.isVisible()
    assert window.session.undo_stack.count() == 1


def test_a_size_that_is_missing_is_said_and_nothing_is_drawn(window, qtbot):
    window._welcome.lot_depth.clear()
    with qtbot.waitSignal(window.session.refused):
        window._welcome.draw.click()
    assert window.session.plan == Plan()


def test_the_typical_lot_is_shown_in_the_units_in_use(window):
    welcome = window._welcome
    welcome._take_start("narrow")
    # 9.144 m by 30.48 m.
    assert (welcome.lot_width.text(), welcome.lot_depth.text()) == ("30'", "100'")
    window.switch_units()
    assert welcome.lot_width.text() == "9 m"


def test_examples_stand_in_the_units_in_use(window):
    for field in (window._welcome.lot_width, window.panels["lot"].width_field):
        assert field.placeholderText() == "80'"
    window.switch_units()
    for field in (window._welcome.lot_width, window.panels["lot"].width_field):
        assert field.placeholderText() == "24 m"


def test_a_house_too_large_for_its_lot_is_refused_in_words(window, qtbot):
    window._welcome.house_width.setText("900'")
    with qtbot.waitSignal(window.session.refused):
        window._welcome.draw.click()
    assert window.session.plan == Plan()


def test_a_machine_is_described_by_the_kind_most_like_it(window):
    panel = window.panels["generator"]
    panel._describe("open-frame-5")
    assert window.session.plan.machine.rated_w == 5000.0
    panel.refresh()
    assert panel.kinds.isHidden()


def test_an_appliance_is_taken_from_the_book(window):
    panel = window.panels["needs"]
    panel._take_appliance("refrigerator")
    panel.add_typed()
    (load,) = window.session.plan.loads
    assert (load.appliance, load.running_w, load.starting_w, load.volts) == (
        "refrigerator",
        700.0,
        2200.0,
        120,
    )


@pytest.fixture
def picture(tmp_path):
    path = tmp_path / "aerial.png"
    image = QImage(200, 100, QImage.Format.Format_RGB32)
    image.fill(QColor("#336699"))
    image.save(str(path))
    return path


def test_a_picture_is_laid_under_the_plan_and_scaled(window, answers, picture, click):
    answers.paths = [picture]
    window.files.open_picture()
    QApplication.processEvents()
    assert isinstance(window.canvas.tool, ScalePicture)
    click((10.0, 5.0))
    click((20.0, 5.0))
    field = window.canvas.number
    assert field.isVisible()
    QTest.keyClicks(field, "5 m")
    QTest.keyClick(field, Qt.Key.Key_Return)
    # 10 m of picture are now 5: the whole, 40 m wide before, is 20 m wide.
    place = backdrop.transform_of(window.session.plan.backdrop)
    left, right = place.map(0.0, 100.0), place.map(200.0, 100.0)
    assert math.dist(left, right) == pytest.approx(20.0, rel=2e-3)
    assert place.map(
        *backdrop.transform_of(window.session.plan.backdrop).inverted()[0].map(10.0, 5.0)
    ) == pytest.approx((10.0, 5.0))
    colour = (
        window.canvas.viewport.grab()
        .toImage()
        .pixelColor(window.canvas.frame.to_px((12.0, 4.0)).toPoint())
    )
    assert colour.blue() > colour.red()


@pytest.mark.parametrize("content", [b"", b"GIF89a", b"\x89PNG\r\n\x1a\n broken", b"<svg/>"])
def test_what_is_no_picture_is_refused_in_words(window, answers, tmp_path, content):
    path = tmp_path / "x.png"
    path.write_bytes(content)
    answers.paths = [path]
    window.files.open_picture()
    assert len(answers.told) == 1
    assert window.session.plan.backdrop is None


def test_a_picture_over_the_limit_is_refused(tmp_path):
    path = tmp_path / "x.png"
    with path.open("wb") as stream:
        stream.truncate(backdrop.LARGEST_BYTES + 1)
    with pytest.raises(backdrop.PictureError, match="20 MiB"):
        backdrop.read(path)


def calibrated(*pairs):
    points = tuple(Calibration(pixel=pixel, point=point) for pixel, point in pairs)
    return Backdrop(media_type="image/png", data_base64="", calibration=points)


def test_two_points_place_a_picture_with_turn_and_scale():
    # Pixels run down; a quarter turn: right on the picture is north on the lot.
    place = backdrop.transform_of(calibrated(((0, 0), (5, 5)), ((10, 0), (5, 25))))
    assert place.map(0.0, 0.0) == pytest.approx((5.0, 5.0))
    assert place.map(10.0, 0.0) == pytest.approx((5.0, 25.0))
    # Down on the picture is then east on the lot, at 2 m a pixel.
    assert place.map(0.0, 10.0) == pytest.approx((25.0, 5.0))


def test_more_points_share_the_error():
    place = backdrop.transform_of(
        calibrated(
            ((0, 0), (0, 0)), ((10, 0), (10.2, 0)), ((10, 10), (10, -10)), ((0, 10), (0, -9.8))
        )
    )
    # The middle of the picture falls on the middle of the known places, in any case.
    assert place.map(5.0, 5.0) == pytest.approx((5.05, -4.95), abs=1e-9)


@pytest.mark.parametrize("pairs", [(), (((0, 0), (1, 1)),), (((3, 3), (1, 1)), ((3, 3), (2, 2)))])
def test_too_few_points_place_nothing(pairs):
    assert backdrop.transform_of(calibrated(*pairs)) is None
