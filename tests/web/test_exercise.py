"""An attempt at reading an instrument is kept as it was typed, once, and only where it is a reading."""

from tests.web.tablet import Tablet

READ = "That is what I read"


def test_the_same_form_sent_twice_counts_once(tablet: Tablet) -> None:
    tablet.opens("/exercise/dial-0.01?seed=5")
    form = tablet.form(READ)
    for _ in range(2):
        tablet.sends(form, {"read": "1,00", "who": "  Ada   L. "})
    from fingertight.store.models import Attempt

    kept = Attempt.objects.get()
    assert (kept.who, kept.instrument, kept.seed, kept.typed) == ("Ada L.", "dial-0.01", 5, "1,00")


def test_what_is_no_reading_is_not_kept_and_stays_in_its_box(tablet: Tablet) -> None:
    tablet.opens("/exercise/dial-0.01?seed=5")
    page = tablet.presses(READ, read="wide")
    assert tablet.answer.status_code == 422
    assert "“wide” is not a number" in "".join(page.texts)
    assert 'value="wide"' in tablet.answer.content.decode()
    from fingertight.store.models import Attempt

    assert Attempt.objects.count() == 0


def test_an_address_without_a_setting_goes_to_one(tablet: Tablet) -> None:
    tablet.opens("/exercise/dial-0.01")
    assert tablet.answer.status_code == 303
    assert tablet.answer["Location"].startswith("/exercise/dial-0.01?seed=")
    tablet.opens("/exercise/dial-0.01?seed=-1")
    assert tablet.answer.status_code == 303


def test_what_a_person_typed_is_no_markup(tablet: Tablet) -> None:
    tablet.opens("/exercise/dial-0.01?seed=5")
    tablet.presses(READ, read="1.00", who="<b>Ada</b>")
    tablet.opens("/exercise/record")
    assert "<b>Ada</b>" not in tablet.answer.content.decode()
