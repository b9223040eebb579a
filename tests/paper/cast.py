"""The labels the paper tests print: an invented pump engine, with names from kind to hostile."""

from fingertight.cards.labels import Label, bag_code

MACHINE = "Garden pump engine, 163 cm³"
KIND = (
    ("Air filter", None, ("2 × M6x20",), ""),
    ("Side cover", None, ("6 × M6x28", "2 × dowel", "1 × side cover gasket"), "Face up on cloth"),
    ("Cam follower", "inlet", (), "Apart, in their own bags; faces must not touch"),
    ("Cam follower", "exhaust", (), "Apart, in their own bags; faces must not touch"),
    ("Centrifugal clutch", None, ("4 × M6x12", "1 × thrust washer", "1 × circlip"), "Plates stay in order on a string"),
    ("Kurbelgehäusedeckel, ÄÖÜ", None, ("8 × 1/4-20 UNCx31.75",), "Auf Tuch legen"),
)
MARKUP = '#read("x") *evil* \\ $ _a_ @b <c> [d] `e` // f'
HOSTILE = (
    (MARKUP, None, (f"2 × {MARKUP}",), MARKUP),
    ("Langesunteilbareswort" * 8, "y" * 200, ("1 × " + "z" * 190,), "q" * 400),
    ("W " * 100, "ǺÇ̧g " * 40, tuple(f"{count} × gjpqy" for count in range(1, 40)), "j " * 200),
)


def labels_of(many: int, words: tuple[tuple[str, str | None, tuple[str, ...], str], ...] = KIND) -> list[Label]:
    """So many labels in order of removal, their words taken in turn."""
    return [
        Label(
            bag=str(bag),
            part=f"part-{bag}",
            title=title,
            place=place,
            holds=holds,
            code=bag_code(MACHINE, bag),
            machine=MACHINE,
            care=care,
        )
        for bag in range(1, many + 1)
        for title, place, holds, care in [words[(bag - 1) % len(words)]]
    ]
