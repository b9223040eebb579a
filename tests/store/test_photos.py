"""A photo is kept once for each workshop, and can be taken away for good."""

from types import ModuleType

from tests.store.cast import NEXT_DOOR, WORKSHOP


def test_the_same_picture_is_kept_once_for_each_workshop_and_can_be_taken_away(kept: ModuleType) -> None:
    from fingertight.store.school.photos import keep_photo, photo_at, take_away

    here, there = (kept.Workshop.objects.get(pk=number) for number in (WORKSHOP, NEXT_DOOR))
    photo = keep_photo(here, b"whole", b"small", "p")
    assert keep_photo(here, b"whole", b"small", "q") == photo
    assert photo_at(here, photo) == b"whole"
    assert photo_at(here, photo, small=True) == b"small"
    assert photo_at(there, photo) is None
    assert take_away(here, photo)
    assert not take_away(here, photo)
    assert photo_at(here, photo) is None
