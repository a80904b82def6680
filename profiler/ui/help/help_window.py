"""Help inside the program: a page per quantity from the quantities table, the glossary, the keys, the cautions."""

import re
from collections.abc import Iterable, Sequence
from html import escape, unescape
from importlib.resources import files

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QListWidget, QVBoxLayout, QWidget

from profiler.assess.checks.check_fit import SPINNING_CAUTION
from profiler.assess.evidence.words import RECORD_TITLE, UNCALIBRATED, as_it_stands
from profiler.assess.quantities.glossary import ALSO, GLOSSARY, MEANINGS
from profiler.assess.quantities.symbols import OWN, SYMBOLS, legend
from profiler.assess.quantities.table import QUANTITIES, Quantity, Scope
from profiler.assess.unchecked import UNCHECKED
from profiler.lessons import LESSONS
from profiler.output.terminal.format_text import said
from profiler.study import Duty
from profiler.study.files.schema import RULES, Section, sections
from profiler.ui.help.help_hits import BACKWARD, ONWARD, Hits
from profiler.ui.help.help_search import search, sought
from profiler.ui.help.notices import notices_html
from profiler.ui.help.record_page import WALK, WALK_PX, RecordBrowser, record_html
from profiler.ui.help.subjects import CAUTIONS as CAUTIONS
from profiler.ui.help.subjects import (
    CHANGES,
    EDDIES,
    LEARNING,
    NOTICES,
    OF_QUANTITIES,
    PROVING,
    RETROFIT,
    SIZES,
    SUBJECTS,
    SURE,
    SYMBOLS_PAGE,
    WORN,
)
from profiler.ui.help.subjects import FILES as FILES
from profiler.ui.help.subjects import KEYS_PAGE as KEYS_PAGE
from profiler.ui.help.subjects import START as START
from profiler.ui.help.subjects import STUDY_FILE as STUDY_FILE
from profiler.ui.help.subjects import WORDS as WORDS
from profiler.ui.help.walks import caution, eddy_numbers, retrofit_numbers
from profiler.ui.widgets.keys import Key, KeySection, answered, keyed
from profiler.ui.widgets.splitter import Splitter

SCOPE_WORDS = {Scope.WALL: "along the wall", Scope.GROOVE: "of each groove", Scope.BOWL: "of the bowl"}

KEYS: tuple[Key["HelpWindow"], ...] = (
    keyed("Next place of the word looked for", lambda w: w.step(1), *ONWARD[:1]),
    keyed("Previous place of the word looked for", lambda w: w.step(-1), *BACKWARD[:1]),
    keyed("The same while the word is typed: next", lambda w: w.step_while_typing(1), *ONWARD[1:]),
    keyed("The same while the word is typed: previous", lambda w: w.step_while_typing(-1), *BACKWARD[1:]),
    keyed("Close the help", lambda w: w.close(), "Esc", "F1"),
)


class HelpWindow(QWidget):
    """A window of its own, left open beside the work. `keys` is what it says of keys and mouse."""

    def __init__(self, keys: Sequence[KeySection], parent: QWidget | None = None) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self.setWindowTitle("Help – Bowl Profiler")
        self.resize(880, 560)
        self._made = pages(keys)
        self._pages = self._made
        self._sought = sought({title: _plain(page) for title, page in self._pages.items()}, subjects())
        self._word, self._backward = "", False
        self.wanted = QLineEdit()
        self.wanted.setPlaceholderText("Find")
        self.wanted.setAccessibleName("Find in help")
        self.list = QListWidget()
        self.list.setAccessibleName("Help pages")
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.text = RecordBrowser()  # knows the pictures of all pages
        self.wanted.textChanged.connect(self._fill)
        self.text.setAccessibleName("Help page")
        self.hits = Hits(self.text)
        self.hits.on.clicked.connect(lambda: self.step(1))
        self.hits.back.clicked.connect(lambda: self.step(-1))
        self.list.currentTextChanged.connect(lambda _: self._show())
        left = QWidget()
        column = QVBoxLayout(left)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.wanted)
        column.addWidget(self.hits)
        column.addWidget(self.list)
        split = Splitter()
        split.addWidget(left)
        split.addWidget(self.text)
        split.setSizes([310, 560])
        row = QHBoxLayout(self)
        row.addWidget(split)
        self._fill("")

    def show_standing(self, duty: Duty) -> None:
        """The pages say how the slurry model stands to measurements under this duty."""
        self._pages = {title: as_it_stands(page, duty, escape) for title, page in self._made.items()}
        self._sought = sought({title: _plain(page) for title, page in self._pages.items()}, subjects())

    def show_page(self, title: str = START) -> None:
        self.wanted.clear()
        found = self.list.findItems(title, Qt.MatchFlag.MatchExactly)
        if found:
            self.list.setCurrentItem(found[0])
        self.show()
        self.raise_()
        self.activateWindow()

    def step(self, by: int) -> None:
        """To the next hit (1) or the one before (-1), on this page or another that holds the word."""
        rows = self.list.count()
        if not self._word or not rows or self.hits.step(by):
            return
        self._backward = by < 0
        self.list.setCurrentRow((self.list.currentRow() + by) % rows)
        self._backward = False
        if rows == 1:
            self.hits.show_word(self._word, by < 0)

    def step_while_typing(self, by: int) -> bool:
        typing = self.wanted.hasFocus()
        if typing:
            self.step(by)
        return typing

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not answered(self, KEYS, event):
            super().keyPressEvent(event)

    def _fill(self, wanted: str) -> None:
        """The pages that hold the word, those that are about it first."""
        found = search(wanted, self._sought)
        self._word, titles = found.word, found.titles
        self.list.clear()
        self.list.addItems(titles)
        if titles:
            self.list.setCurrentRow(0)
        else:
            self._show()

    def _show(self) -> None:
        item = self.list.currentItem()
        nothing = f"<p>No page holds “{escape(self.wanted.text().strip())}”.</p>"
        self.text.setHtml(nothing if item is None else self._pages[item.text()])
        self.hits.show_word(self._word if item is not None else "", self._backward)


def pages(keys: Sequence[KeySection]) -> dict[str, str]:
    """Title and HTML of every page, in reading order."""
    made = {
        START: f"<h2>{START}</h2>{_prose('begin')}",
        EDDIES: _walk(EDDIES, "eddies", eddy_numbers()),
        RETROFIT: _walk(RETROFIT, "retrofit", retrofit_numbers()),
        LEARNING: _lessons(),
        KEYS_PAGE: _keys(keys),
        WORDS: _words(),
        SIZES: f"<h2>{SIZES}</h2>{_prose('sizes')}",
        FILES: _outputs(),
        SURE: _walk(SURE, "sure", {}),
        WORN: f"<h2>{WORN}</h2>{_prose('worn')}",
        PROVING: f"<h2>{PROVING}</h2>{_prose('proving')}",
        RECORD_TITLE: record_html(),
        CAUTIONS: _cautions(),
    }
    made |= {page_title(q): _quantity(q) for q in QUANTITIES}
    made |= {SYMBOLS_PAGE: f"<h2>{SYMBOLS_PAGE}</h2>{_table(SYMBOLS.items(), 3)}", STUDY_FILE: _study_file()}
    made |= {CHANGES: f"<h2>{CHANGES}</h2>{_prose('changes')}", NOTICES: f"<h2>{NOTICES}</h2>{notices_html()}"}
    about = _subjects()
    return {title: page + _found_under(about.get(title, ())) for title, page in made.items()}


def subjects() -> dict[str, tuple[str, ...]]:
    """What each page is about, by its title, in other people's words."""
    terms = tuple(word for t in GLOSSARY for word in t.word.split(", "))
    return _subjects() | {WORDS: (*SUBJECTS[WORDS], *terms)}


def _subjects() -> dict[str, tuple[str, ...]]:
    """Those that stand below the pages."""
    return SUBJECTS | {page_title(q): OF_QUANTITIES[q.key] for q in QUANTITIES if q.key in OF_QUANTITIES}


def _found_under(words: tuple[str, ...]) -> str:
    return f"<p><small>Found under: {escape(', '.join(words))}.</small></p>" if words else ""


def page_title(q: Quantity) -> str:
    return f"{q.label} ({SCOPE_WORDS[q.scope]})"


def _plain(page: str) -> str:
    """What can be read of a page, in small letters."""
    return " ".join(unescape(re.sub(r"<[^>]*>", " ", page)).split()).lower()


def _keys(sections: Sequence[KeySection]) -> str:
    return f"<h2>{KEYS_PAGE}</h2>" + "".join(f"<h3>{escape(s.where)}</h3>{_table(s.rows, 3)}" for s in sections)


def _table(rows: Iterable[tuple[str, str]], padding: int) -> str:
    body = "".join(f"<tr><td><b>{escape(k)}</b>&nbsp;&nbsp;</td><td>{escape(v)}</td></tr>" for k, v in rows)
    return f"<table cellpadding='{padding}'>{body}</table>"


def _words() -> str:
    rows = (f"<p><b>{escape(t.word)}</b><br>{escape(t.meaning)}{_also(t.word)}</p>" for t in GLOSSARY)
    return f"<h2>{WORDS}</h2>{''.join(rows)}"


def _also(word: str) -> str:
    return f"<br><small>Also called: {escape(', '.join(ALSO[word]))}.</small>" if word in ALSO else ""


def _lessons() -> str:
    rows = "".join(f"<p>{number}. <b>{escape(x.title)}</b></p>" for number, x in enumerate(LESSONS, 1))
    return f"<h2>{LEARNING}</h2>{_prose('lessons')}{rows}"


def _walk(title: str, name: str, numbers: dict[str, str]) -> str:
    """A page whose numbers are worked out and whose pictures are drawn as it is opened."""
    words = _prose(name).format_map({key: escape(text) for key, text in numbers.items()})
    words = words.replace("UNCALIBRATED", escape(UNCALIBRATED)).replace("CAUTION", escape(caution()))
    image = rf"<img src='{WALK}\1' width='{WALK_PX[0]}' height='{WALK_PX[1]}'>"
    return f"<h2>{escape(title)}</h2>{re.sub(r'PICTURE:([a-z]+)', image, words)}"


def _outputs() -> str:
    from profiler.output.outputs import OUTPUTS

    rows = "".join(
        f"<tr><td><b>{escape(o.title)}</b>&nbsp;&nbsp;</td><td>{' '.join(o.suffixes)}&nbsp;&nbsp;</td>"
        f"<td>{escape(o.says)}. {escape(', '.join(option.label for option in o.options))}</td></tr>"
        for o in OUTPUTS
    )
    return f"<h2>{FILES}</h2><table cellpadding='4'>{rows}</table>"


def _cautions() -> str:
    source = escape(SPINNING_CAUTION.source)
    limits = _prose("cautions").replace("UNCALIBRATED", escape(UNCALIBRATED))
    rows = "".join(f"<li>{escape(row.what)}: {escape(row.words)}.</li>" for row in UNCHECKED)
    unchecked = f"<h3>Numbers not yet checked against their source</h3><ul>{rows}</ul>"
    return f"<h2>{CAUTIONS}</h2><p>{escape(SPINNING_CAUTION.text)}</p><p>{source}.</p>{limits}{unchecked}"


def _prose(name: str) -> str:
    return (files("profiler.data") / "help" / f"{name}.html").read_text(encoding="utf-8")


def _study_file() -> str:
    """The format, from the types: what each member is, and where it stands."""
    rules = "".join(f"<p>{escape(rule)}</p>" for rule in RULES)
    return f"<h2>{STUDY_FILE}</h2>{rules}{''.join(_section(s) for s in sections())}"


def _section(section: Section) -> str:
    where = ", ".join(place for place in section.places if place) or "the object itself"
    rows = "".join(
        f"<tr><td><b>{m.name}</b>&nbsp;&nbsp;</td><td>{escape(m.label)}: {escape(said(m))}. {escape(m.help)}</td></tr>"
        for m in section.members
    )
    head = f"<h3>{section.name}</h3><p>{escape(where)}. {escape(section.about)}</p>"
    return f"{head}<table cellpadding='3'>{rows}</table>"


def _quantity(q: Quantity) -> str:
    rows = (
        ("Is", MEANINGS.get(q.key, "")),
        ("Unit", q.unit or "none"),
        ("Equation", q.equation),
        ("Letters", "; ".join(f"{name}: {meaning}" for name, meaning in legend(q.equation, OWN.get(q.key)))),
        ("Source", q.source),
        ("Limits", q.limits),
    )
    return f"<h2>{escape(page_title(q))}</h2>{_table(((k, v) for k, v in rows if v), 4)}"
