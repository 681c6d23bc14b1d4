"""What went wrong, and what can the maker do about it now?

One small tree. Each class knows its `code` and two sentences, `what_happened` and `what_to_do`; braces in a
sentence are filled from the facts it is raised with. `web/` alone turns a code into an HTTP status.
"""

from typing import ClassVar


class EaselsideError(Exception):
    """The root: `code` is stable and lower case; both sentences end with a full stop."""

    code: ClassVar[str] = "went_wrong"
    happened: ClassVar[str] = "Something went wrong in Easelside."
    to_do: ClassVar[str] = "Try again; if it stays, run `easelside check` and read what it names."

    def __init__(self, **facts: object) -> None:
        self.facts = facts
        self.what_happened = _filled(self.happened, facts)
        self.what_to_do = _filled(self.to_do, facts)
        super().__init__(f"{self.what_happened} {self.what_to_do}")


class _Blank(dict[str, object]):
    def __missing__(self, name: str) -> str:
        return f"({name} not said)"


def _filled(sentence: str, facts: dict[str, object]) -> str:
    return sentence.format_map(_Blank(facts))


class Malformed(EaselsideError):
    """`detail`: which part, in a few words."""

    code = "malformed"
    happened = "What was sent cannot be read: {detail}."
    to_do = "Send it again as the documentation of the interface at /api/docs describes it."


class TooLarge(EaselsideError):
    """`limit`: the most that is taken, with its unit."""

    code = "too_large"
    happened = "What was sent is larger than the {limit} that are taken at once."
    to_do = "Send it in smaller parts."


class UnknownRecord(EaselsideError):
    """`kind`, `id`: the record asked for."""

    code = "unknown_record"
    happened = "There is no {kind} with the id {id}."
    to_do = "Look at the list of that kind for the ids that exist."


class DiskFull(EaselsideError):
    code = "disk_full"
    happened = "The disk that holds the records is full, so nothing was stored."
    to_do = "Free some space on that disk; what is waiting on the phones is sent again by itself."


class ReadOnly(EaselsideError):
    code = "read_only"
    happened = "The records can be read but not written, so nothing was stored."
    to_do = "Make the data folder writable again; what is waiting on the phones is sent again by itself."


class StorageFailed(EaselsideError):
    """`detail`: the storage's own words."""

    code = "storage_failed"
    happened = "The disk did not take what was written ({detail}), so it does not count as stored."
    to_do = "Try again shortly; if it stays, stop the server, run `easelside check` and look at the disk."


class StorageBusy(EaselsideError):
    code = "storage_busy"
    happened = "The records were held by another writer for too long, so nothing was stored."
    to_do = "Try again in a few seconds."


class FolderInUse(EaselsideError):
    """`folder`, `owner`: the folder and the process that holds it."""

    code = "folder_in_use"
    happened = "The data folder {folder} is in use by another Easelside ({owner})."
    to_do = "Stop that one first, or name another folder with --data."


class FolderCopiedAbout(EaselsideError):
    """`folder`, `sign`: the folder and what gives the cloud service away."""

    code = "folder_copied_about"
    happened = "The data folder {folder} lies where a cloud service copies files about ({sign})."
    to_do = "Name a folder outside of it with --data: such copying tears a database that is in use."


class NoWorkshop(EaselsideError):
    """`folder`: where nothing was found."""

    code = "no_workshop"
    happened = "There is no workshop in {folder}."
    to_do = "Name the folder that holds it with --data, or start the server there once to make one."


class NotEmpty(EaselsideError):
    """`folder`: what should have been empty."""

    code = "not_empty"
    happened = "The workshop in {folder} already holds records."
    to_do = "Name an empty folder with --data; nothing was changed in this one."


class DamagedLogbook(EaselsideError):
    """`detail`: the row or table, and what is wrong with it."""

    code = "damaged_logbook"
    happened = "The logbook is damaged: {detail}."
    to_do = "Run `easelside check` for all that is wrong, then `easelside restore` the newest good backup."


class BackupUnusable(EaselsideError):
    """`backup`, `detail`: the file and what is wrong with it."""

    code = "backup_unusable"
    happened = "The backup {backup} cannot be used: {detail}."
    to_do = "Take an older backup; the workshop was left as it is."


class ExportUnusable(EaselsideError):
    """`detail`: what is wrong with the file."""

    code = "export_unusable"
    happened = "This file is not a whole Easelside export: {detail}."
    to_do = "Export it again where it came from; nothing of it was taken in."


class NotLoopback(EaselsideError):
    """`host`: the address that was asked for."""

    code = "not_loopback"
    happened = "Easelside was asked to listen on {host}, where other machines could reach it."
    to_do = "Leave --host out: until phones can be paired, it answers only on this machine."


class NoPushService(EaselsideError):
    """`host`: where the message was to go."""

    code = "no_push_service"
    happened = "Messages are sent only to the push services that are known here, and {host} is none of them."
    to_do = "Use the bell of the phone or the calendar instead; this browser's push cannot be used."


class PushIsOff(EaselsideError):
    code = "push_is_off"
    happened = "Push is switched off at this workshop, so nothing is sent by it."
    to_do = "Switch it on first; it needs the internet at the workshop and on the phone."


class PortTaken(EaselsideError):
    """`port`: the port that was asked for."""

    code = "port_taken"
    happened = "Another program already listens on port {port}."
    to_do = "Stop that one, or name another port with --port."
