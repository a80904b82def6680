"""The file a document lives in: new, open, save, recover, and what to ask before anything could be lost."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QWidget

from profiler.study import BowlFileError, Machine, Study
from profiler.study.files import examples
from profiler.study.files.disk import Stamp
from profiler.study.files.file import read_stamped
from profiler.study.files.owned_lists import file_name, read_list
from profiler.ui.dialogs import dialogs, questions
from profiler.ui.dialogs.questions import Changed, Shared
from profiler.ui.document.document import Document
from profiler.ui.files.claims import Claim, Owner
from profiler.ui.files.folders import lists
from profiler.ui.files.recent import remember
from profiler.ui.files.recovery import Leftover
from profiler.ui.files.settings import FOLDER, Settings
from profiler.ui.files.watch import Outside, stamp_of


class Filing:
    """Asks and acts for one window; `renewed` is called when another study has come into it."""

    def __init__(
        self, document: Document, settings: Settings, claim: Claim, parent: QWidget, renewed: Callable[[], object]
    ) -> None:
        self.document = document
        self._settings = settings
        self._claim = claim
        self._parent = parent
        self._renewed = renewed
        self.unasked = False  # the session ends: unsaved work is kept beside, and nobody may be there to answer
        self._asking = False
        self._put_off: tuple[Outside, Stamp | None] | None = None
        self._agreed: Path | None = None  # saving it was agreed to though another window has it open
        claim.take(document.path)

    def arrive(self, notes: tuple[str, ...] = ()) -> None:
        """The window has opened on the file it was started with: say so if another window has it too."""
        path = self.document.path
        if path is None:
            return
        self._tell(notes)
        owner = self._claim.owner(path)
        answer = Shared.GO_ON if owner is None else questions.ask_shared_open(self._parent, path.name, owner)
        if answer is Shared.GO_ON:
            self._settled(path)
            self._agreed = path if owner is not None else None
        elif answer is Shared.COPY:
            self._adopt(self.document.study, _copy_of(path))
        else:
            self._adopt(examples.read(examples.DEFAULT), example=True)

    def new(self) -> bool:
        """A fitted plain cone on the machine and under the duty that are asked for; whether a drawing comes next."""
        if not self.may_leave():
            return False
        listed = read_list(Machine, lists() / file_name(Machine)).items
        asked = dialogs.ask_new_study(self._parent, self.document.study.machine, listed, self.folder())
        if asked is None:
            return False
        self._adopt(asked.study)
        return asked.drawing

    def open(self) -> None:
        if self.may_leave() and (path := dialogs.ask_open(self._parent, self.folder())) is not None:
            self.open_path(path)

    def open_instead(self, path: Path) -> bool:
        """Open a file that was dropped or chosen among the recent ones."""
        return self.may_leave() and self.open_path(path)

    def open_path(self, path: Path) -> bool:
        """Open a file in place of the present study, which is not asked about."""
        owner = self._claim.owner(path)
        answer = Shared.GO_ON if owner is None else questions.ask_shared_open(self._parent, path.name, owner)
        if answer is Shared.CANCEL:
            return False
        try:
            if answer is Shared.COPY:
                study, _, notes = read_stamped(path)
                self._adopt(study, _copy_of(path))
                self._tell(notes)
                return True
            notes = self.document.load(path)
        except BowlFileError as error:
            dialogs.tell_error(self._parent, "This file cannot be opened", str(error))
            return False
        self._settled(path)
        self._agreed = path if owner is not None else None
        self._renewed()
        self._tell(notes)
        return True

    def recover(self, leftover: Leftover) -> bool:
        """Show the unsaved work of a session that died. Its copy stays until the caller has another."""
        try:
            study, _, notes = leftover.opened()
        except BowlFileError as error:
            dialogs.tell_error(self._parent, "This recovery copy cannot be opened", str(error))
            return False
        if not self.may_leave():
            return False
        self._claim.release()
        self._agreed = self._put_off = None
        self.document.recover(study, leftover.original)
        self._renewed()
        self._tell(notes)
        return True

    def save(self) -> bool:
        path = self.document.path
        if path is None:
            return self.save_as()
        self.document.commit()
        news = self.document.outside(closely=True)
        if news is not Outside.SAME:
            return self._answered(news, path)
        return self._save_to(path)

    def save_as(self) -> bool:
        path = dialogs.ask_save(self._parent, self.document.suggested or self.folder() / self.document.name)
        if path is None:
            return False
        if path == self.document.path and self.document.outside(closely=True) is Outside.CHANGED:
            return self.save()  # to replace one's own was agreed to, not what others put there
        return self._save_to(path)

    def save_copy(self) -> bool:
        """Write the study elsewhere; the window stays with its file."""
        path = dialogs.ask_save(self._parent, _copy_of(self.folder() / self.document.name))
        if path is None:
            return False
        if path == self.document.path:
            return self.save()
        return self._told(lambda: self.document.write_copy(path))

    def may_leave(self) -> bool:
        """Whether the present study may be left: unchanged, saved, or given up by the designer."""
        if self.unasked:
            return True
        self.document.commit()
        if self.document.outside(closely=True) is not Outside.SAME:
            self.document.part_from_file()
        if not self.document.modified:
            return True
        choice = dialogs.ask_unsaved(self._parent, self.document.name)
        if choice is dialogs.Unsaved.SAVE:
            return self.save() and not self.document.modified
        return choice is dialogs.Unsaved.DISCARD

    def look_outside(self) -> None:
        """Say plainly when somebody else changed or deleted the file; once for each time it happened."""
        path, news = self.document.path, self.document.outside()
        if news is Outside.SAME:
            self._put_off = None
        elif path is not None and not self._asking and self._put_off != (news, stamp_of(path)):
            self.document.part_from_file()
            self._answered(news, path)

    def leave(self) -> None:
        """The window closes."""
        self._claim.release()

    def folder(self) -> Path:
        path = self.document.path
        return self._settings.folder(FOLDER) if path is None else path.parent

    def _answered(self, news: Outside, path: Path) -> bool:
        """Ask what to do about a file that is no longer what it was, and do it; whether the study is now saved."""
        self._asking = True
        try:
            if news is Outside.GONE:
                answer = questions.ask_gone(self._parent, path.name, path.parent)
            else:
                answer = questions.ask_changed(self._parent, path.name)
            self._put_off = (news, stamp_of(path)) if answer is Changed.NOT_NOW else None
            do = {Changed.SAVE_OVER: lambda: self._save_to(path), Changed.SAVE_AS: self.save_as}
            if answer is Changed.RELOAD:
                said = f"{path.name} as it is now; undo brings back what was here."
                return self._told(self.document.load_again, said)
            return answer in do and do[answer]()
        finally:
            self._asking = False

    def _save_to(self, path: Path) -> bool:
        owner = self._claim.owner(path)
        if owner is not None and path != self._agreed:
            return self._save_shared(path, owner)
        if not self._told(lambda: self.document.save(path), f"{path.name} saved."):
            return False
        self._settled(path)
        return True

    def _save_shared(self, path: Path, owner: Owner) -> bool:
        answer = questions.ask_shared_save(self._parent, path.name, owner)
        if answer is Shared.COPY:
            return self.save_as()
        if answer is Shared.GO_ON:
            self._agreed = path
            return self._save_to(path)
        return False

    def _tell(self, notes: tuple[str, ...]) -> None:
        """What an older file needed to be read: once, since saving it writes the present kind."""
        if notes:
            dialogs.tell_note(self._parent, "An older study file", "\n\n".join(notes))

    def _told(self, write: Callable[[], object], sentence: str = "") -> bool:
        """Do it and say so, or say why it cannot be done: then the disk and the study are as before."""
        try:
            write()
        except BowlFileError as error:
            words = "Nothing is lost: the study is whole in this window; save it elsewhere with Save as."
            dialogs.tell_error(self._parent, "Not saved", f"{error} {words}")
            return False
        if sentence:
            self.document.say(sentence)
        return True

    def _settled(self, path: Path) -> None:
        """The document lives in this file now."""
        self._claim.take(path)
        self._put_off = None
        self._settings.put(FOLDER, str(path.parent))
        remember(self._settings, path)

    def _adopt(self, study: Study, suggested: Path | None = None, example: bool = False) -> None:
        """A study without a file."""
        self._claim.release()
        self._agreed = self._put_off = None
        self.document.adopt(study, None, suggested, example=example)
        self._renewed()


def _copy_of(path: Path) -> Path:
    """Beside the file, where a copy may want to go."""
    return path.with_stem(f"{path.stem} copy")
