"""Where a part is named in what was said, and how well: by its name, its id, the trade's other words, in part."""

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import log
from typing import Final

from rapidfuzz import fuzz, process

from fingertight.anatomy.model import Anatomy, Part
from fingertight.lesson.film.captions.words import ENGLISH, Word, plain_words, these_words

SAME_THING: Final = (
    ("carburettor", "carburetor", "carb"),
    ("recoil starter", "pull starter", "pull start", "rewind starter"),
    ("fan shroud", "fan cowl", "cowling", "fan housing", "blower housing"),
    ("exhaust", "silencer", "muffler"),
    ("air filter", "air cleaner"),
    ("spark plug lead", "plug lead", "plug cap", "spark plug cap", "ht lead"),
    ("spark plug", "plug"),
    ("ignition coil", "coil"),
    ("rocker cover", "valve cover", "tappet cover"),
    ("cylinder head", "head"),
    ("cam follower", "tappet", "lifter", "follower"),
    ("push rod", "pushrod"),
    ("gudgeon pin", "piston pin", "wrist pin"),
    ("circlip", "snap ring"),
    ("connecting rod", "con rod", "conrod"),
    ("big end cap", "rod cap", "bearing cap"),
    ("camshaft", "cam"),
    ("crankshaft", "crank"),
    ("valve keeper", "collet", "cotter"),
    ("fuel hose", "fuel line", "fuel pipe", "petrol pipe"),
    ("fuel tank", "petrol tank", "gas tank"),
    ("kill wire", "stop wire"),
    ("wire rope", "cable"),
    ("handle", "crank handle"),
)
"""Words of the trade for the same thing; common practice, no source."""
FASTENERS: Final = these_words("bolt nut stud screw gasket clip washer clamp hole side thread")
SMALL: Final = these_words("the a an its of with and for to in on by")
NEAR: Final = 0.08
AT_ONCE: Final = 20_000
_LEAST_SHARE: Final = 0.35
_COMMON: Final = ENGLISH | these_words(
    "top big end stop side fan oil inner outer left right front rear upper lower main second first drive plate cover "
    "bolt nut stud washer spring shaft seal pin rod block lever wire small cap gasket gear ring case hub link wheel "
    "key clip screw bearing sprocket weight arm base hose lead tap clutch engine"
)
"""Words that alone name nothing: another word of the name must stand close by."""


@dataclass(frozen=True, slots=True)
class Name:
    """One way to say a part: its words, how much of the whole name they are (0 to 1), and whose it is."""

    joined: str
    words: tuple[str, ...]
    share: float
    part: str | None
    is_whole: bool

    @classmethod
    def of(cls, words: tuple[str, ...], share: float, part: str | None, is_whole: bool) -> "Name":
        """The name of these words, as they are compared."""
        return cls("".join(words), words, share, part, is_whole)


@dataclass(frozen=True, slots=True)
class Mention:
    """Words that name a part: from word `first` to word `last`, and for each part meant how well (0 to 1)."""

    first: int
    last: int
    parts: Mapping[str, float]
    is_plural: bool


class Names:
    """All ways to say the parts of a machine. `also`: for a part, what else this teacher calls it."""

    def __init__(self, anatomy: Anatomy, also: Mapping[str, Sequence[str]] | None = None) -> None:
        bases = {part.id: _bases(part) for part in anatomy.parts}
        self._words = {part: {word for base in said for word in base} for part, said in bases.items()}
        count = Counter(word for words in self._words.values() for word in words)
        self._weight = {word: log(1 + len(bases) / times) for word, times in count.items()}
        shared = Counter(said for part in anatomy.parts for said in {*bases[part.id], *_tails(part)})
        names: dict[tuple[str, str | None], Name] = {}
        for part in anatomy.parts:
            for name in self._ways(part, bases[part.id], shared, (also or {}).get(part.id, ())):
                key = name.joined, name.part
                if key not in names or names[key].share < name.share:
                    names[key] = name
            for thing in part.with_:
                words = plain_words(thing.name)
                names.setdefault(("".join(words), None), Name.of(words, 1.0, None, True))
        self._names = list(names.values())
        self.stays = {part.id for part in anatomy.parts if part.stays}

    def _ways(
        self, part: Part, bases: list[tuple[str, ...]], shared: Mapping[tuple[str, ...], int], also: Iterable[str]
    ) -> Iterator[Name]:
        for base in bases:
            if base != bases[0] and shared[base] > 1:  # “oil seal” alone names none of three
                yield Name.of(base, self._share(base, self._words[part.id]), part.id, False)
                continue
            for words in (base, *_other_words(base)):
                yield Name.of(words, 1.0 if words == base else 0.95, part.id, True)
        for base in _headed(part):
            for length in range(1, len(base)):
                tail = base[-length:]
                yield Name.of(tail, self._share(tail, base), part.id, False)
        for word in self._words[part.id]:
            if word not in _COMMON and len(word) > 5 and self._weight[word] >= max(self._weight.values()) - 1e-9:
                yield Name.of((word,), 0.75, part.id, False)
        _, _, along = part.title.lower().partition(" with ")
        if len(words := tuple(word for word in plain_words(along) if word not in SMALL)) > 1:
            yield Name.of(words, 0.6, part.id, True)
        for said in also:
            words = plain_words(said)
            yield Name.of(words, 1.0, part.id, True)

    def _share(self, said: Iterable[str], whole: Iterable[str]) -> float:
        weight = self._weight
        return sum(weight.get(word, 0.0) for word in said) / max(sum(weight.get(word, 0.0) for word in whole), 1e-9)

    def mentions(self, words: Sequence[Word]) -> list[Mention]:
        """Every place where a part is named, in turn. Of names that overlap the longer one is meant."""
        found = sorted(self._heard(words), reverse=True)
        taken: dict[int, tuple[int, int]] = {}
        spans: dict[tuple[int, int], dict[str, float]] = {}
        for _, good, first, last, part in found:
            over = {taken[place] for place in range(first, last + 1) if place in taken}
            if over - {(first, last)}:
                continue
            parts = spans.setdefault((first, last), {})
            taken.update(dict.fromkeys(range(first, last + 1), (first, last)))
            parts[part] = max(good, parts.get(part, 0.0))
        mentions = []
        for (first, last), parts in sorted(spans.items()):
            best = max(parts.values())
            meant = {part: good for part, good in parts.items() if good >= best - NEAR}
            if "" in meant or not set(meant) - self.stays:
                continue
            follows = words[last + 1].plain if last + 1 < len(words) else ""
            if follows in FASTENERS:
                meant = {part: good * 0.6 for part, good in meant.items()}
            said = words[last].said.lower()
            near = {word.plain for word in words[max(0, first - 3) : first]}
            is_plural = (said.endswith("s") and said != words[last].plain) or "both" in near
            mentions.append(Mention(first, last, {p: g for p, g in meant.items() if p not in self.stays}, is_plural))
        return mentions

    def _heard(self, words: Sequence[Word]) -> Iterator[tuple[int, float, int, int, str]]:
        """Each stretch of one to five words that sounds like a name: of how many words, how well, where, whose."""
        places: dict[str, list[tuple[int, int]]] = {}
        for first in range(len(words)):
            joined = ""
            for last in range(first, min(first + 5, len(words))):
                if words[last].clause != words[first].clause:
                    break
                if words[last].plain in SMALL and last > first:
                    continue
                joined += words[last].plain
                if words[last].plain not in SMALL:
                    places.setdefault(joined, []).append((first, last))
        stretches = [joined for joined in places if 2 < len(joined) < 40]
        for name, heard, like in self._alike(stretches):
            if like < 1 and not (name.is_whole and len(name.joined) > 5 and heard[0] == name.joined[0]):
                continue
            for first, last in places[heard]:
                spoken = tuple(word.plain for word in words[first : last + 1] if word.plain not in SMALL)
                if like == 1 or _misheard(name, spoken):
                    good = self._good(name, words, first, last)
                    if good >= _LEAST_SHARE:
                        yield len(name.words), good * like, first, last, name.part or ""

    def _alike(self, stretches: list[str]) -> Iterator[tuple[Name, str, float]]:
        """Names and stretches that are alike, and how much (0.86 to 1); so many at once as memory bears."""
        said = [name.joined for name in self._names]
        for start in range(0, len(stretches), AT_ONCE):
            some = stretches[start : start + AT_ONCE]
            alike = process.cdist(some, said, scorer=fuzz.ratio, score_cutoff=86, workers=1)
            for row, column in zip(*alike.nonzero(), strict=True):
                yield self._names[column], some[row], float(alike[row, column]) / 100

    def _good(self, name: Name, words: Sequence[Word], first: int, last: int) -> float:
        """A whole name counts whole. Of part of a name, what else of it is said close by is added."""
        if name.is_whole or name.part is None:
            return name.share
        mine = self._words[name.part]
        near = {
            word.plain
            for place, word in enumerate(words[max(0, first - 5) : last + 6], max(0, first - 5))
            if word.clause == words[first].clause and not first <= place <= last
        }
        more = self._share(near & mine, mine)
        if len(name.words) == 1 and name.joined in _COMMON and not more:
            return 0.0
        return min(0.9, name.share * 0.9 + more)


def _misheard(name: Name, spoken: tuple[str, ...]) -> bool:
    """Whether a name that is only nearly said may be meant.

    So “carburator” is the carburettor, and an engine that “breathes” is no breather; the “other friction disc” is not
    the outer one, for “other” is a word that people say.
    """
    if abs(len(spoken) - len(name.words)) > 1 or any(word in ENGLISH and word not in name.words for word in spoken):
        return False
    return len(name.words) > 1 or spoken[-1][-1] == name.joined[-1]


def _bases(part: Part) -> list[tuple[str, ...]]:
    """The names a part has of its own: all of its title, what stands before “with” or a comma, and its id."""
    before = re.split(r"\s+with\s+", part.title.lower())[0]
    head, _, tail = before.partition(",")
    said = _unique([part.title.lower(), before, head, f"{tail} {head}", part.id.replace("-", " ")])
    return [*said, *(words for words in _headed(part) if words not in said and {*words} - _COMMON)]


def _headed(part: Part) -> list[tuple[str, ...]]:
    """The names whose last words name the part by themselves: “shroud” of the fan shroud, not “side” of a seal."""
    before = re.split(r"\s+with\s+", part.title.lower())[0]
    head, _, tail = before.partition(",")
    pieces = re.split(r"\s+and\s+", head)
    return _unique([*pieces, f"{tail} {pieces[0]}"])


def _tails(part: Part) -> list[tuple[str, ...]]:
    return [base[-length:] for base in _headed(part) for length in range(1, len(base) + 1)]


def _unique(said: Iterable[str]) -> list[tuple[str, ...]]:
    plain = (tuple(word for word in plain_words(each) if word not in SMALL) for each in said)
    return list(dict.fromkeys(words for words in plain if words))


def _other_words(base: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    """The same name with the trade's other words in it."""
    text = " ".join(base)
    for same in SAME_THING:
        for word in same:
            found = " ".join(plain_words(word))
            if found != text and re.search(rf"\b{found}$", text) is None:
                continue
            for other in same:
                if other != word and (found == text or len(found) > 6):
                    yield tuple(plain_words(text.removesuffix(found) + " ".join(plain_words(other))))
            break
