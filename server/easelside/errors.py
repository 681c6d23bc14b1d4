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


class NotPossible(EaselsideError, ValueError):
    """A rule was asked about a number that cannot be. `detail`: which, and what it may be."""

    code = "not_possible"
    happened = "This cannot be worked out: {detail}."
    to_do = "Put the number right and ask again."


class DiskFull(EaselsideError):
    """`holds`: what lies on that disk."""

    code = "disk_full"
    happened = "The disk that holds {holds} is full, so nothing was stored."
    to_do = "Free some space on that disk; what is waiting on the phones is sent again by itself."

    def __init__(self, holds: object = "the records") -> None:
        super().__init__(holds=holds)


class ReadOnly(EaselsideError):
    code = "read_only"
    happened = "The records can be read but not written, so nothing was stored."
    to_do = "Make the data folder writable again; what is waiting on the phones is sent again by itself."


class StorageFailed(EaselsideError):
    """`detail`: the storage's own words."""

    code = "storage_failed"
    happened = "The disk did not take what was written ({detail}), so it does not count as stored."
    to_do = "Try again shortly; if it stays, stop the server, run `easelside check` and look at the disk."


class FileRefused(EaselsideError):
    """`file`, `detail`: what was to be read or written, and the system's own words."""

    code = "file_refused"
    happened = "The file or folder {file} cannot be used: {detail}."
    to_do = "Put that right, or name another file or folder."


class EndNotKnown(EaselsideError):
    code = "end_not_known"
    happened = "This device knows an end of the logbook that was never written here."
    to_do = "What it holds stays on it and is taken in within the hour; withdraw a device that is not yours."


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


class NotReadableHere(EaselsideError):
    """`folder`, `detail`: where the workshop lies, and the storage's own words."""

    code = "not_readable_here"
    happened = "The workshop in {folder} cannot be read where it lies: its disk takes no writing ({detail})."
    to_do = "Copy that folder, with all that is in it, to a disk with room, and name the copy with --data."


class NotEmpty(EaselsideError):
    """`folder`: what should have been empty."""

    code = "not_empty"
    happened = "The workshop in {folder} already holds records."
    to_do = "Name an empty folder with --data; nothing was changed in this one."


class DamagedLogbook(EaselsideError):
    """`detail`: the row or table, and what is wrong with it."""

    code = "damaged_logbook"
    happened = "The logbook is damaged: {detail}."
    to_do = "Run `easelside check`: it names all that is wrong and what to do about it."


class BackupUnusable(EaselsideError):
    """`backup`, `detail`: the file and what is wrong with it."""

    code = "backup_unusable"
    happened = "The backup {backup} cannot be used: {detail}."
    to_do = "Take another backup; the workshop was left as it is."


class ExportUnusable(EaselsideError):
    """`detail`: what is wrong with the file."""

    code = "export_unusable"
    happened = "This file is not a whole Easelside export: {detail}."
    to_do = "Export it again where it came from; nothing of it was taken in."


class NotLoopback(EaselsideError):
    """`host`: the address that was asked for."""

    code = "not_loopback"
    happened = "Easelside was asked to listen unencrypted on {host}, where other machines could reach it."
    to_do = "Leave --host out and give --phones: phones are paired over an encrypted address of their own."


class SwitchElsewhere(EaselsideError):
    code = "switch_elsewhere"
    happened = "The way in for phones cannot be opened or shut from here."
    to_do = "Do it on the workshop's computer, in Phones, or start the server with --phones."


class AuthorityUnusable(EaselsideError):
    """`file`, `detail`: the authority's file and what is wrong with it."""

    code = "authority_unusable"
    happened = "The workshop's authority {file} cannot be used: {detail}."
    to_do = "Put {file} back from a backup; or move it away, and every phone has to learn to trust a new one."


class CertificateUnusable(EaselsideError):
    """`file`, `detail`: the maker's own certificate or key and what is wrong with it."""

    code = "certificate_unusable"
    happened = "The certificate {file} cannot be used: {detail}."
    to_do = "Give --certificate and --key two PEM files that belong together; or leave both out."


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
    to_do = "Stop that one, or name another port with --port, --phones-port, --trust-port or --proxy-port."


class NotPaired(EaselsideError):
    code = "not_paired"
    happened = "This device is not paired with the workshop."
    to_do = "Pair it with a code from the workshop's computer, in Phones; what it holds is sent then."


class Withdrawn(EaselsideError):
    code = "withdrawn"
    happened = "This device was withdrawn: the workshop takes nothing from it any more."
    to_do = "What it holds stays on it and can be saved as a file; a maker can pair it again in Phones."


class MakersOnly(EaselsideError):
    code = "makers_only"
    happened = "This is for the maker; this device is paired as a hand."
    to_do = "Do it on the workshop's computer or on a device of the maker's."


class CodeNotTaken(EaselsideError):
    code = "code_not_taken"
    happened = "This code does not open: it is wrong, used, too old or was ended."
    to_do = "Look at the code once more; after three wrong ones ask for a new one in Phones."


class GuessedTooSoon(EaselsideError):
    """`wait_s`: seconds until the next code is looked at."""

    code = "guessed_too_soon"
    happened = "A wrong code was sent a moment ago, so this one was not looked at."
    to_do = "Wait {wait_s} s and send it again."


class UnknownDevice(EaselsideError):
    code = "unknown_device"
    happened = "There is no paired device of that name."
    to_do = "Look at the list in Phones for those that there are."


class NoLineFree(EaselsideError):
    code = "no_line_free"
    happened = "As many devices as the server has room for are listening for changes already."
    to_do = "Nothing is lost: this one asks for changes by itself, once a minute."
