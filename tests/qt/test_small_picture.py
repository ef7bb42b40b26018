from pathlib import Path

from PySide6.QtGui import QColor, QImage

from pigmap.qt.small_picture import decoding, none


def test_the_picture_that_was_decoded_is_given_however_often_it_is_asked_for(tmp_path: Path) -> None:
    saved = QImage(3, 2, QImage.Format.Format_RGB32)
    saved.fill(QColor("#336699"))
    saved.save(str(tmp_path / "small.png"))
    small = decoding(tmp_path / "small.png")
    for _ in range(2):
        picture = small()
        assert picture is not None
        assert (picture.width(), picture.height()) == (3, 2)
        assert picture.pixelColor(1, 1) == QColor("#336699")


def test_what_is_no_picture_gives_none(tmp_path: Path) -> None:
    (tmp_path / "small.png").write_bytes(b"no picture")
    assert decoding(tmp_path / "small.png")() is None
    assert none() is None
