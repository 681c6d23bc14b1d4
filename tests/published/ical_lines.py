"""A second, small reader of calendars, written from RFC 5545 sections 3.1 and 3.3.11 alone."""

import re
from dataclasses import dataclass, field

_LINE = re.compile(
    r'([A-Za-z0-9-]+)((?:;[A-Za-z0-9-]+=(?:"[^"]*"|[^";:,]*)(?:,(?:"[^"]*"|[^";:,]*))*)*):(.*)', re.S
)
LONGEST_LINE = 75  # octets, without the line break


@dataclass
class Part:
    name: str
    lines: list[tuple[str, str, str]] = field(default_factory=list)  # name, parameters, value
    parts: list["Part"] = field(default_factory=list)

    def value(self, name: str) -> str:
        """The one value of that name."""
        (found,) = [value for known, _, value in self.lines if known == name]
        return found

    def names(self) -> list[str]:
        return [name for name, _, _ in self.lines]

    def all(self, name: str) -> list["Part"]:
        return [part for part in self.parts if part.name == name]


def unfolded(content: bytes) -> list[str]:
    """Lines joined where the next begins with a space or a tab; refuses other line ends and long lines."""
    assert content.endswith(b"\r\n")
    raw = content[:-2].split(b"\r\n")
    for line in raw:
        assert b"\n" not in line and b"\r" not in line, line
        assert len(line) <= LONGEST_LINE, line
    joined: list[bytes] = []
    for line in raw:
        if line[:1] in (b" ", b"\t"):
            joined[-1] += line[1:]
        else:
            joined.append(line)
    return [line.decode("utf-8") for line in joined]


def plain(value: str) -> str:
    """A TEXT value without its escapes."""
    return re.sub(r"\\([\\;,Nn])", lambda m: "\n" if m[1] in "Nn" else m[1], value)


def read(content: bytes) -> Part:
    open_parts = [Part("")]
    for line in unfolded(content):
        found = _LINE.fullmatch(line)
        assert found is not None, line
        name, parameters, value = found[1].upper(), found[2], found[3]
        if name == "BEGIN":
            open_parts.append(Part(value))
        elif name == "END":
            done = open_parts.pop()
            assert done.name == value
            open_parts[-1].parts.append(done)
        else:
            open_parts[-1].lines.append((name, parameters, value))
    (top,) = open_parts
    (calendar,) = top.parts
    return calendar
