"""Which pages of the help answer what somebody typed, the best first.

A page's subjects, other people's words for what it tells, stand below it and are found like its text; a page about just
the word comes first. What stands nowhere as typed is tried in other spellings, and then word by word.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

LEAST_STEM = 3
SPELLINGS = (("ization", "isation"), ("izing", "ising"), ("ized", "ised"), ("ize", "ise"), ("mold", "mould"),
             ("center", "centre"), ("color", "colour"), ("gage", "gauge"), ("meter", "metre"), ("-", " "))  # fmt: skip
SMALL_WORDS = (
    "a", "an", "and", "are", "as", "at", "be", "by", "can", "do", "does", "for", "from", "get", "has", "how", "i",
    "if", "in", "is", "it", "long", "make", "may", "me", "much", "my", "not", "of", "on", "or", "set", "should",
    "so", "that", "the", "there", "this", "to", "use", "what", "when", "where", "which", "who", "why", "will",
    "with", "you",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Sought:
    """A page as the search reads it: small letters, one space between words."""

    title: str
    text: str
    subjects: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Found:
    """The word to mark, and the titles of the pages that hold it."""

    word: str
    titles: tuple[str, ...]


def search(typed: str, pages: Sequence[Sought]) -> Found:
    """As typed, else in another spelling or number, else every word of it somewhere on one page."""
    phrase = " ".join(typed.lower().split())
    for form in _forms(phrase):
        found = _ranked(form, [p for p in pages if form in p.text])
        if found:
            return Found(form, found)
    words = [w for w in re.findall(r"[\w°%]+", phrase) if w not in SMALL_WORDS]
    stems = [_stem(w) for w in words]
    if not stems:
        return Found(phrase, ())
    longest = max(stems, key=len)
    return Found(longest, _ranked(longest, [p for p in pages if all(stem in p.text for stem in stems)]))


def sought(pages: Mapping[str, str], subjects: Mapping[str, tuple[str, ...]]) -> tuple[Sought, ...]:
    """From the plain text of every page."""
    return tuple(Sought(title, text, subjects.get(title, ())) for title, text in pages.items())


def _forms(phrase: str) -> Iterator[str]:
    yield phrase
    for ours, theirs in (*SPELLINGS, *((b, a) for a, b in SPELLINGS)):
        if ours in phrase:
            yield phrase.replace(ours, theirs)
    if _stem(phrase) != phrase:
        yield _stem(phrase)


def _stem(word: str) -> str:
    """The word without what makes it plural."""
    for ending, singular in (("ies", "y"), ("ices", "ex"), ("sses", "ss"), ("ches", "ch"), ("xes", "x"), ("s", "")):
        stem = word.removesuffix(ending) + singular
        if word.endswith(ending) and not word.endswith("ss") and len(stem) >= LEAST_STEM:
            return stem
    return word


def _ranked(word: str, held: Sequence[Sought]) -> tuple[str, ...]:
    """Those about it first; among equals the order of reading."""
    return tuple(p.title for p in sorted(held, key=lambda p: _rank(word, p)))


def _rank(word: str, page: Sought) -> int:
    """0: a page about just this; 1: it stands in the title or begins a subject; 2: it stands in the text."""
    title = page.title.lower()
    if re.match(rf"{re.escape(word)}\b", title) or word in page.subjects:
        return 0
    return 1 if word in title or any(subject.startswith(word) for subject in page.subjects) else 2
