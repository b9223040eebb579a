"""Captions become words that can be compared, and what they say of doing: off, on, and not now.

The lists are English as it is spoken at a bench: common practice, no source. A verb is known in all its forms, which
are made from the verb and not guessed back from what was said.
"""

import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final, Literal, NamedTuple

_WORD = re.compile(r"[^\W_]+(?:['’][^\W_]+)*|[.!?;:…]|,|[–—]")
_GAP_S = 2.0


def these_words(text: str) -> frozenset[str]:
    """The words of a text, each once.

    >>> sorted(these_words("off out off"))
    ['off', 'out']
    """
    return frozenset(text.split())


OFF_VERBS: Final = these_words(
    "remove undo unscrew unbolt unclip unplug unhook disconnect detach extract withdraw prise dismantle strip"
)
OFF_MOTION: Final = these_words(
    "take pull lift slide slip come draw knock drive tap push get work turn screw pop bring drop fall ease press wind "
    "tip shake go pick have hook wiggle rock peel"
)
OFF_BARE: Final = these_words("lift pull draw unwind")
OUTWARD: Final = these_words("off out away free")
ON_VERBS: Final = these_words("refit fit install reinstall reassemble assemble refix remount mount")
ON_MOTION: Final = these_words(
    "put go slide slip push screw bolt drop lower press bring tap turn get come offer set wind hang lay hook clip"
)
INWARD: Final = these_words("back on onto in into home")
OTHER_VERBS: Final = these_words("wipe clean brush keep blow drip run scrape wash wear hold look start")
LEADING: Final = these_words("before after until till once when whether if unless without while remember why")
AWAY: Final = these_words(
    "later yet already earlier never not tomorrow afterwards eventually would could dont cant wont cannot doesnt isnt "
    "didnt couldnt wouldnt havent hasnt nobody last"
)
CORRECTING: Final = these_words("no wait sorry mean rather wrong oops nope")
STARTING: Final = these_words("then now next okay ok right so but first")
HELPING: Final = these_words("can may must should could will would is are be")
MEANING_IT: Final = these_words("it they them that this those these one both thats its theyre")
ENGLISH: Final = these_words(
    "the a an and or but of to in on at by for from with without is are was be been has have had do does did it its "
    "this that these those there here we you i he she they them us our your my not no yes so then now next first one "
    "two three what which who when where how why if because as than up down out off over under again only just very "
    "all both some any can could will would should must may let lets get got go goes going come comes take put back "
    "about into before after other another same"
)
_IRREGULAR: Final = {
    "took": "take", "taken": "take", "came": "come", "goes": "go", "went": "go", "gone": "go", "undid": "undo",
    "undone": "undo", "undoes": "undo", "got": "get", "gotten": "get", "slid": "slide", "drew": "draw",
    "drawn": "draw", "drove": "drive", "fell": "fall", "fallen": "fall", "wound": "wind",
    "withdrew": "withdraw", "withdrawn": "withdraw", "brought": "bring", "hung": "hang", "laid": "lay",
    "has": "have", "had": "have", "kept": "keep", "held": "hold", "shook": "shake", "shaken": "shake",
}  # fmt: skip


def _forms(verb: str) -> Iterator[str]:
    stem = verb.removesuffix("e")
    yield from (verb, f"{verb}s", f"{verb}es", f"{stem}ed", f"{stem}ing")
    if verb[-1] not in "aeiouwy" and verb[-2] in "aeiou":
        yield from (f"{verb}{verb[-1]}ed", f"{verb}{verb[-1]}ing")


_VERBS: Final = OFF_VERBS | OFF_MOTION | OFF_BARE | ON_VERBS | ON_MOTION | OTHER_VERBS
_VERB_OF: Final = {form: verb for verb in sorted(_VERBS) for form in _forms(verb)} | _IRREGULAR


@dataclass(frozen=True, slots=True)
class Cue:
    """One caption: when it stands in the film [s from its start], and its text."""

    starts_s: float
    ends_s: float
    text: str


class Word(NamedTuple):
    """One word as it was said; `plain` is what is compared. A clause ends with a sentence, a phrase with a comma too.

    starts_s, ends_s: its share of the time of its caption [s].
    """

    said: str
    plain: str
    clause: int
    phrase: int
    starts_s: float
    ends_s: float


class Action(NamedTuple):
    """Words that say something comes off or goes on: where they stand, and how clearly they say it (0 to 1)."""

    kind: Literal["off", "on"]
    clear: float
    first: int
    last: int


def plain_word(said: str) -> str:
    """The word as it is compared: small letters, no apostrophe, a verb in its first form, a noun in the singular.

    >>> [plain_word(word) for word in ("Undoing", "bushes", "Springs", "that's", "glass", "took")]
    ['undo', 'bush', 'spring', 'that', 'glass', 'take']
    """
    word = unicodedata.normalize("NFKC", said).lower().replace("’", "'")
    word = word.removesuffix("'s").replace("'", "")
    if word in _VERB_OF:
        return _VERB_OF[word]
    return singular(word)


def singular(word: str) -> str:
    """A noun without its plural ending, lightly: what is no plural may be cut too, the same on both sides.

    >>> singular("studs"), singular("switches"), singular("assemblies"), singular("bus")
    ('stud', 'switch', 'assembly', 'bus')
    """
    if len(word) < 4 or word.endswith(("ss", "us", "is")):
        return word
    if word.endswith("ies"):
        return word[:-3] + "y"
    if word.endswith(("ses", "xes", "zes", "ches", "shes")):
        return word[:-2]
    return word.removesuffix("s")


def plain_words(text: str) -> tuple[str, ...]:
    """All words of a text as they are compared."""
    return tuple(plain_word(found) for found in _WORD.findall(text) if found[0].isalnum())


def spoken(cues: Sequence[Cue]) -> list[Word]:
    """Every word of the captions in turn, with its clause and its share of its caption's time.

    >>> words = spoken([Cue(0.0, 2.0, "Studs out. Now the"), Cue(2.0, 3.0, "lid")])
    >>> [(word.plain, word.clause, word.ends_s) for word in words]
    [('stud', 0, 0.5), ('out', 0, 1.0), ('now', 2, 1.5), ('the', 2, 2.0), ('lid', 2, 3.0)]
    """
    words: list[Word] = []
    clause = phrase = 0
    ended_s = 0.0
    for cue in sorted(cues, key=lambda cue: (cue.starts_s, cue.ends_s)):
        found = _WORD.findall(cue.text)
        total = max(sum(token[0].isalnum() for token in found), 1)
        number = 0
        if cue.starts_s - ended_s > _GAP_S:
            clause, phrase = clause + 1, phrase + 1
        for token in found:
            if not token[0].isalnum():
                clause, phrase = clause + (token not in ",–—"), phrase + 1
                continue
            plain = plain_word(token)
            if plain in STARTING and not (words and words[-1].plain in HELPING):  # not “it can now be withdrawn”
                clause, phrase = clause + 1, phrase + 1
            each_s = (cue.ends_s - cue.starts_s) / total
            starts_s = cue.starts_s + each_s * number
            words.append(Word(token, plain, clause, phrase, starts_s, starts_s + each_s))
            number += 1
        ended_s = max(ended_s, cue.ends_s)
    return words


def english_share(words: Sequence[Word]) -> float:
    """How many of the words are the commonest English ones (0 to 1); English speech has about two in five."""
    return sum(word.plain in ENGLISH or word.said.lower() in ENGLISH for word in words) / max(len(words), 1)


def actions(words: Sequence[Word]) -> list[Action]:
    """Where the captions say that something comes off or goes on.

    >>> [action.kind for action in actions(spoken([Cue(0.0, 5.0, "Take the lid off, wipe it, and put it back on.")]))]
    ['off', 'on']
    """
    found: list[Action] = []
    for place, word in enumerate(words):
        if word.plain in OFF_VERBS:
            found.append(Action("off", 1.0, place, place))
        elif word.plain in ON_VERBS:
            found.append(Action("on", 1.0, place, place))
        elif word.plain in OFF_MOTION | ON_MOTION:
            found += _moved(words, place)
        elif word.plain in ("off", "out", "back"):
            found += _bare(words, place)
    return found


def _moves_itself(word: Word) -> bool:
    """A verb of motion of its own in between, “go, it comes off”; “lift” and “tap” may be names there."""
    return word.plain in OFF_MOTION | ON_MOTION and word.said.lower() != word.plain


def _moved(words: Sequence[Word], place: int) -> Iterable[Action]:
    """A verb of motion with its particle: “take … off”, “put … back on”; “lift” alone says less."""
    verb = words[place]
    for after in range(place + 1, min(place + 9, len(words))):
        word = words[after]
        if word.clause != verb.clause or word.plain in OFF_VERBS | ON_VERBS or _moves_itself(word):
            break
        if word.plain in OUTWARD and verb.plain in OFF_MOTION:
            return [Action("off", 1.0, place, after)]
        if word.plain in INWARD and verb.plain in ON_MOTION:
            if word.plain == "back" or (after == place + 1) or word.plain in ("home", "onto"):
                return [Action("on", 1.0 if word.plain == "back" else 0.8, place, after)]
            return [Action("on", 0.5, place, after)]
    return [Action("off", 0.6, place, place)] if verb.plain in OFF_BARE else []


def _bare(words: Sequence[Word], place: int) -> Iterable[Action]:
    """“Off”, “out” or “back” without a verb that has been read already: “the shroud off, and away with it”."""
    word = words[place]
    before = [each.plain for each in words[max(0, place - 8) : place] if each.clause == word.clause]
    if set(before) & (OTHER_VERBS | OFF_MOTION | ON_MOTION):
        return []
    if word.plain == "back":
        return [Action("on", 0.6, place, place)]
    return [Action("off", 0.8 if word.plain == "off" else 0.5, place, place)]
