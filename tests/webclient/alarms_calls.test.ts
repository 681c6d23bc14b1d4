import { expect, test } from "vitest";
import * as calls from "../../webclient/src/alarms/calls_words";
import { readBell, readCalendar, readMade, readPush } from "../../webclient/src/alarms/model";
import { also } from "../../webclient/src/alarms/phone_words";
import { alsoCalls, type Beyond } from "../../webclient/src/alarms/track_rules";

const PHONE = { id: "a", device: "d", service: "push.example.net", went_well: null, went_wrong: null };
const all: Beyond = {
  knows: true,
  bell: { there: true, works: true },
  heard: true,
  mine: PHONE,
  came: true,
};
const NEVER = { from: null, until: null };

test("quiet hours are told with what they hold for, and where there are none", () => {
  expect(calls.quiet_state({ from: "22:00", until: "07:00" })).toBe("22:00 to 07:00; for the bench's bell and push");
  expect(calls.quiet_state({ from: "22:00", until: null })).toBe("none yet; for the bench's bell and push");
});

test("what was heard at the bench and what came to this phone will call again", () => {
  expect(alsoCalls(all)).toEqual(["bench", "push"]);
  expect(alsoCalls({ ...all, bell: { there: true, works: null } })).toEqual(["bench", "push"]); // started anew since
});

test("nothing beyond the phone is promised while the workshop does not know of the soak", () => {
  expect(alsoCalls({ ...all, knows: false })).toEqual([]);
});

test("a bell at the bench counts only where there is one that was heard and has not failed since", () => {
  for (const part of [{ bell: null }, { heard: null }, { heard: false }] as const)
    expect(alsoCalls({ ...all, ...part })).toEqual(["push"]);
  expect(alsoCalls({ ...all, bell: { there: false, works: null } })).toEqual(["push"]);
  expect(alsoCalls({ ...all, bell: { there: true, works: false } })).toEqual(["push"]);
});

test("push counts only where this phone is subscribed, a message came, and the last one was taken", () => {
  for (const part of [{ mine: null }, { came: null }, { came: false }] as const)
    expect(alsoCalls({ ...all, ...part })).toEqual(["bench"]);
  expect(alsoCalls({ ...all, mine: { ...PHONE, went_wrong: "the push service says 403" } })).toEqual(["bench"]);
});

test("the line names what calls, and the hours in which it does not", () => {
  expect(also(["bench"], NEVER)).toBe("The bench rings too.");
  expect(also(["bench", "push"], { from: "22:00", until: "07:00" })).toBe(
    "The bench rings too; with internet a message comes too, not from 22:00 to 07:00.",
  );
  expect(also(["push"], { from: "22:00", until: null })).toBe("With internet a message comes too.");
});

test("what the workshop says is read, and what is none of it is not believed", () => {
  const said = { on: true, public_key: "k", devices: [{ ...PHONE, since: "2026-11-25T14:00:00.000Z" }, { id: 1 }] };
  expect(readPush(said)).toEqual({ on: true, devices: [PHONE] });
  expect(readBell({ there: true, ringing: false, works: null })).toEqual({ there: true, works: null });
  expect(readCalendar({ on: false, since: null })).toEqual({ on: false, since: null });
  expect(readMade({ path: "/api/calendar/x.ics", address: null, square: null })?.path).toBe("/api/calendar/x.ics");
  for (const read of [readPush, readBell, readCalendar, readMade])
    for (const odd of [null, [], "yes", {}, { on: "yes", there: 1, path: 7 }]) expect(read(odd)).toBeNull();
});

test("no words beyond the phone promise a ring where none is", () => {
  expect(calls.calendar_no_bell).toContain("rings nowhere");
  expect(calls.push_needs).toContain("needs the internet");
  expect(calls.push_state(false, false, 0)).toBe("off");
  expect(calls.push_state(true, false, 2)).toBe("on, not this device");
  expect(calls.bench_state(true, false)).toBe("its bell failed");
});

test("every way in which subscribing can end has a sentence, and only one of them says that messages come", () => {
  const ends = Object.entries(calls.pushed);
  expect(ends).toHaveLength(7);
  expect(ends.filter(([, line]) => line.startsWith("Messages come")).map(([end]) => end)).toEqual(["on"]);
  for (const [, line] of ends) expect(line).toMatch(/^[A-Z].*\.$/);
});
