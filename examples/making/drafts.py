"""Entries before they have a time and an id: what is said, by whom, in which lesson, how long after the one before."""

from dataclasses import dataclass, field
from typing import Any

STUDENTS = ("s-07", "s-08")
TEACHER = "t-01"


@dataclass(eq=False)
class Draft:
    """One entry to be. `twice`: delivered a second time; `late_by`: delivered so many entries too late."""

    kind: str
    by: str
    fields: dict[str, Any] = field(default_factory=dict)
    minutes: float = 0.5
    lesson: int = 0
    late_by: int = 0
    twice: bool = False

    def says(self, kind: str, **fields: Any) -> bool:
        """Whether it is of this kind and says all of this."""
        return self.kind == kind and all(self.fields.get(name) == value for name, value in fields.items())


class Drafts(list[Draft]):
    """A job's entries in the order in which they happened."""

    def find(self, kind: str, *, nth: int = 0, **fields: Any) -> Draft:
        """The nth entry of this kind that says all of this. Raises LookupError when there is none."""
        found = [draft for draft in self if draft.says(kind, **fields)]
        if nth >= len(found):
            raise LookupError(f"{kind} {fields}: {len(found)} found")
        return found[nth]

    def place(self, draft: Draft) -> int:
        """Where it stands."""
        return next(number for number, each in enumerate(self) if each is draft)

    def take_out(self, draft: Draft) -> None:
        """As if it had never been written."""
        del self[self.place(draft)]

    def after(self, draft: Draft, *added: Draft) -> Draft:
        """Write these just after it, in the same lesson. Returns the last one."""
        for number, each in enumerate(added, self.place(draft) + 1):
            each.lesson = draft.lesson
            self.insert(number, each)
        return added[-1]

    def before(self, draft: Draft, *added: Draft) -> None:
        """Write these just before it, in the same lesson."""
        for number, each in enumerate(added, self.place(draft)):
            each.lesson = draft.lesson
            self.insert(number, each)

    def plant(self, draft: Draft, kind: str, **fields: Any) -> Draft:
        """Make it wrong: change what it says, and mark the flag it must raise."""
        draft.fields.update(fields)
        draft.fields["planted"] = kind
        return draft


def student(kind: str, *, by: str = STUDENTS[0], minutes: float = 0.5, **fields: Any) -> Draft:
    """An entry by a student."""
    return Draft(kind, by, fields, minutes)


def teacher(kind: str, *, minutes: float = 0.5, **fields: Any) -> Draft:
    """An entry by the instructor."""
    return Draft(kind, TEACHER, fields, minutes)
