"""What is said of a part where it is named: off or on, now or not now, and how clearly."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from fingertight.lesson.film.captions.names import SMALL, Mention
from fingertight.lesson.film.captions.words import AWAY, CORRECTING, LEADING, MEANING_IT, Action, Word, actions
from fingertight.lesson.film.chapters import Kind

NEAR_WORDS = 14
LATER_WORDS, LATER_S = 45, 25.0
NO_VERB, WRONG_VERB = 0.35, 0.1
NOT_NOW, CORRECTED = 0.28, 0.28
OF_IT = 0.8


@dataclass(frozen=True, slots=True)
class Heard:
    """One naming of a part, weighed.

    scores: how well each part meant is named (0 to 1). off, on: how clearly it is said to come off, to go on (0 to 1).
    now: what is left of that where it is said of another time (0 to 1). said_s: when it is named; done_s: when that it
    is done is said, the same where it is only announced [s].
    """

    scores: Mapping[str, float]
    off: float
    on: float
    now: float
    said_s: float
    done_s: float
    is_plural: bool
    words: str
    name: str
    verb: str
    doubt: str

    @property
    def leans(self) -> float:
        """How much it speaks for stripping (above 0) or for building back (below)."""
        return (self.off - self.on) * self.now * max(self.scores.values())

    def scored(self, kind: Kind) -> dict[str, float]:
        """For each part meant, how likely this is where it moves (0 to 1)."""
        mine, other = (self.off, self.on) if kind == "off" else (self.on, self.off)
        clear = NO_VERB + (1 - NO_VERB) * mine if mine >= other else WRONG_VERB
        if not (mine or other):
            clear = NO_VERB
        return {part: good * clear * self.now for part, good in self.scores.items()}

    def reasons(self, part: str, kind: Kind) -> Iterator[str]:
        """Why it is believed, and why not more, in words."""
        well = self.scores[part]
        yield f"“{self.name}” is said." if well > 0.9 else f"“{self.name}” is said, which is only near its name."
        clear = self.off if kind == "off" else self.on
        if self.verb and clear:
            yield f"“{self.verb}” says it {'comes off' if kind == 'off' else 'goes on'}."
        else:
            yield f"No word says that it {'comes off' if kind == 'off' else 'goes on'}."
        if self.doubt:
            yield self.doubt


def heard(words: Sequence[Word], mentions: Sequence[Mention]) -> list[Heard]:
    """Each naming of a part with what is said of it."""
    named = {place for mention in mentions for place in range(mention.first, mention.last + 1)}
    done = [action for action in actions(words) if action.first not in named]  # “drive” of a drive chain does nothing
    nexts = [mention.first for mention in mentions[1:]] + [len(words)]
    ends = [-1, *(mention.last for mention in mentions)]
    return [_weighed(words, mention, done, (ends[number], nexts[number])) for number, mention in enumerate(mentions)]


def _weighed(words: Sequence[Word], mention: Mention, done: Sequence[Action], between: tuple[int, int]) -> Heard:
    clear, best = _clearest(words, mention, done, between)
    aside, now = _another_time(words, mention, between[1])
    if best and best.first and words[best.first - 1].plain in ("was", "were"):
        aside, now = words[best.first - 1].said, NOT_NOW
    later = _spoken_of_later(words, mention, done, between[1])
    if later is not None:
        later_aside, later_now = _another_time_of_it(words, later)
        if OF_IT * later.clear * later_now > max(clear.values()) * now:
            best, aside, now = later, later_aside, later_now
            clear = {"off": 0.0, "on": 0.0, later.kind: OF_IT * later.clear}
        elif best is None:
            aside, now = later_aside, min(now, later_now)
    why = f"“{aside}” may mean another time." if aside else ""
    if best is None and any(_is_where_from(words, mention, action) for action in done):
        why, now = "It may be what another part comes off.", NOT_NOW
    first, last = mention.first, mention.last
    said_s = done_s = words[first].starts_s
    verb = ""
    if best:
        if best.first > mention.last and _is_report(words[best.first]):
            done_s = max(words[best.last].ends_s, said_s)
        first, last = min(first, best.first), max(last, best.last)
        verb = words[best.first].said + (f" … {words[best.last].said}" if best.last > best.first else "")
    return Heard(
        scores=mention.parts,
        off=clear["off"],
        on=clear["on"],
        now=now,
        said_s=said_s,
        done_s=done_s,
        is_plural=mention.is_plural,
        words=_text(words, max(first - 2, 0), min(last + 3, len(words) - 1)),
        name=_text(words, mention.first, mention.last),
        verb=verb,
        doubt=why,
    )


def _clearest(
    words: Sequence[Word], mention: Mention, done: Sequence[Action], between: tuple[int, int]
) -> tuple[dict[str, float], Action | None]:
    """How clearly it is said to come off and to go on (0 to 1), and the words that say it most clearly."""
    clear = {"off": 0.0, "on": 0.0}
    best: Action | None = None
    for action in done:
        strength = _strength(words, mention, action, between)
        if strength > clear[action.kind]:
            clear[action.kind] = strength
            if strength >= max(clear.values()):
                best = action
    return clear, best


def _is_report(verb: Word) -> bool:
    """“It comes off”, “the shroud is off” tell what happens; “lift it off” is to be done yet."""
    return verb.said.lower() != verb.plain or verb.plain in ("off", "out", "back")


def _strength(words: Sequence[Word], mention: Mention, action: Action, between: tuple[int, int]) -> float:
    """How much an action is meant of this part: clearly when near, less across another part, not across a sentence."""
    if words[action.first].clause != words[mention.first].clause:
        return 0.0
    has_another_subject = action.last < mention.first and words[action.first].said.lower() != words[action.first].plain
    if has_another_subject and words[action.first].phrase != words[mention.first].phrase:
        return 0.0  # “all this goes back on, the exhaust with a new gasket”
    if _is_where_from(words, mention, action):
        return 0.0
    if action.first <= mention.last and action.last >= mention.first:
        apart = 0
    else:
        apart = action.first - mention.last if action.first > mention.last else mention.first - action.last
    if apart > NEAR_WORDS:
        return 0.0
    strength = action.clear * (1.0 if apart <= 5 else 1.0 - 0.06 * (apart - 5))
    # “undo the guard and the lever”: both; “the guard, then the lever comes off”: the nearer, mostly.
    crossed = action.last <= between[0] or action.first >= between[1]
    return strength * (0.7 if crossed else 1.0)


def _is_where_from(words: Sequence[Word], mention: Mention, action: Action) -> bool:
    """“The sprocket slides off the shaft”, “pull it off the shaft”: the shaft is what it comes off, and stays."""
    between = words[action.last + 1 : mention.first]
    if action.last == action.first or action.last >= mention.first or any(word.plain not in SMALL for word in between):
        return False
    has_object = action.last > action.first + 1 or any(word.plain == "of" for word in between)
    return has_object or words[action.first].said.lower() != words[action.first].plain


def _spoken_of_later(words: Sequence[Word], mention: Mention, done: Sequence[Action], until: int) -> Action | None:
    """“The flywheel. A knock, and it comes off”: said later, of “it”, before another part is named."""
    for action in done:
        if not mention.last < action.first < min(until, mention.last + LATER_WORDS):
            continue
        if words[action.first].starts_s - words[mention.last].ends_s > LATER_S:
            return None
        clause = words[action.first].clause
        near = range(max(action.first - 6, mention.last + 1), min(action.last + 4, until))
        if any(words[place].clause == clause and words[place].plain in MEANING_IT for place in near):
            return action
    return None


def _another_time(words: Sequence[Word], mention: Mention, until: int) -> tuple[str, float]:
    """A word that says it is of another time, or was taken back, and what that leaves (0 to 1)."""
    phrase = words[mention.first].phrase
    before = [place for place in range(max(0, mention.first - 9), mention.first) if words[place].phrase == phrase]
    after = [
        place for place in range(mention.last + 1, min(len(words), mention.last + 9)) if words[place].phrase == phrase
    ]
    for place in before:
        follows = words[place + 1].plain if place + 1 < len(words) else ""
        if words[place].plain in LEADING and follows not in MEANING_IT:
            return words[place].said, NOT_NOW
    for place in (*before, *(place for place in after if place < until)):
        if words[place].plain in AWAY or (words[place].plain == "will" and place == mention.last + 1):
            return words[place].said, NOT_NOW
    follows = words[mention.last + 1].plain if mention.last + 1 < len(words) else ""
    is_with = any(word.plain == "with" for word in words[max(0, mention.first - 2) : mention.first])
    if is_with and follows in ("off", "out", "remove"):  # “with the cover off, …”
        return "with", NOT_NOW
    for place in range(mention.last + 1, min(len(words), mention.last + 5, until)):
        if words[place].plain in CORRECTING:
            return words[place].said, CORRECTED
    return "", 1.0


def _another_time_of_it(words: Sequence[Word], action: Action) -> tuple[str, float]:
    """“It will come out when the cap is off”: a word of another time beside what is said of “it”."""
    for place in range(max(0, action.first - 5), min(len(words), action.last + 4)):
        word = words[place]
        if word.phrase == words[action.first].phrase and word.plain in AWAY | LEADING | {"will", "itll"}:
            return word.said, NOT_NOW
    return "", 1.0


def _text(words: Sequence[Word], first: int, last: int) -> str:
    """The words as they were said, with what stood between them left to a space or a comma."""
    said = [words[first].said]
    for one, other in pairwise(words[first : last + 1]):
        said.append((", " if one.phrase != other.phrase else " ") + other.said)
    return "".join(said)
