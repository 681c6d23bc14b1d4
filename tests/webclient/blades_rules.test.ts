import { describe, expect, it } from "vitest";
import type { BladeMove, Cut } from "src/blades/model";
import { changeWarnings, cutBy, edgeAt, edgeIn, laterFitting, piecesOnEdges, timelineOf, twoBladesIn, waitingToBeGround } from "src/blades/rules";

let made = 0;
const move = (blade: string, what: BladeMove["what"], at: string, rest: Partial<BladeMove> = {}): BladeMove => ({
  id: `move-${String((made += 1)).padStart(4, "0")}`, blade, what, at: `2026-${at}:00.000Z`, machine: what === "fitted" ? "m1" : null,
  inside_record: null, inside_piece: null, took_out: null, confirmed: false, note: null, ...rest,
});
const piece = (record: string, number: number, at: string): Cut => ({ record, number, machine: "m1", at: `2026-${at}:00.000Z`, pieces: 1, opening: false, blade: null });
const tally = (record: string, at: string, pieces: number, opening = false): Cut => ({ record, number: null, machine: "m1", at: `2026-${at}:00.000Z`, pieces, opening, blade: null });

describe("a blade's lives", () => {
  it("the first fitting begins the first edge", () => {
    expect(edgeIn(timelineOf([move("b3", "fitted", "11-02T09:00")]), "m1")).toEqual({ blade: "b3", life: 1 });
  });

  it("taken out and fitted again, it is the same edge", () => {
    const moves = [move("b3", "fitted", "11-02T09:00"), move("b3", "taken_out", "11-03T09:00"), move("b3", "fitted", "11-04T09:00")];
    expect(edgeIn(timelineOf(moves), "m1")).toEqual({ blade: "b3", life: 1 });
  });

  it("grinding begins the next edge", () => {
    const moves = [move("b3", "fitted", "11-02T09:00"), move("b3", "ground", "11-03T09:00"), move("b3", "fitted", "11-04T09:00")];
    expect(edgeIn(timelineOf(moves), "m1")).toEqual({ blade: "b3", life: 2 });
  });

  it("back from the grinder without a word begins the next edge, once", () => {
    const sent = [move("b3", "fitted", "11-02T09:00"), move("b3", "sent", "11-03T09:00")];
    const back = [...sent, move("b3", "back", "11-10T09:00")];
    const both = [...sent, move("b3", "ground", "11-09T09:00"), move("b3", "back", "11-10T09:00")];
    expect(timelineOf(back).blades.get("b3")?.life).toBe(2);
    expect(timelineOf(both).blades.get("b3")?.life).toBe(2);
  });

  it("a blade fitted where another is takes that one out", () => {
    const timeline = timelineOf([move("b3", "fitted", "11-02T09:00"), move("b4", "fitted", "11-03T09:00")]);
    expect(timeline.blades.get("b3")).toMatchObject({ place: "ready", machine: null, used: true });
    expect(timeline.blades.get("b4")).toMatchObject({ place: "in_use", machine: "m1" });
  });

  it("a blade fitted on another machine leaves the first one empty", () => {
    const timeline = timelineOf([move("b3", "fitted", "11-02T09:00"), move("b3", "fitted", "11-03T09:00", { machine: "m2" })]);
    expect(edgeIn(timeline, "m1")).toBeNull();
    expect(edgeIn(timeline, "m2")).toEqual({ blade: "b3", life: 1 });
  });

  it("blades that have cut and lie here wait for the grinder; ground, sent and hardly used ones do not", () => {
    const moves = [
      move("b1", "fitted", "11-01T09:00"), move("b2", "fitted", "11-02T09:00"), move("b3", "fitted", "11-03T09:00"),
      move("b4", "fitted", "11-04T09:00"), move("b2", "ground", "11-05T09:00"), move("b3", "sent", "11-05T09:00"),
    ];
    expect(waitingToBeGround(timelineOf(moves), () => 100, 200)).toEqual(["b1"]);
    expect(waitingToBeGround(timelineOf(moves), () => 99, 200)).toEqual([]);
  });
});

describe("which edge cut it", () => {
  const change = move("b4", "fitted", "11-24T16:10");
  const timeline = timelineOf([move("b3", "fitted", "11-02T09:00"), change]);

  it("is the one in the machine at that time", () => {
    expect(edgeAt(timeline, "m1", "2026-11-24T16:09:59.999Z")?.blade).toBe("b3");
    expect(edgeAt(timeline, "m1", "2026-11-24T16:10:00.000Z")?.blade).toBe("b4");
  });

  it("is none before the first blade was fitted, nor on another machine", () => {
    expect(edgeAt(timeline, "m1", "2026-11-01T09:00:00.000Z")).toBeNull();
    expect(edgeAt(timeline, "m2", "2026-11-24T09:00:00.000Z")).toBeNull();
  });

  it("a change at piece 12, written down in the evening, parts that session at piece 12", () => {
    const late = timelineOf([move("b3", "fitted", "11-02T09:00"), move("b4", "fitted", "11-24T20:00", { inside_record: "s1", inside_piece: 12 })]);
    const cuts = Array.from({ length: 30 }, (_, k) => piece("s1", k + 1, "11-24T14:00"));
    expect([...piecesOnEdges(late, cuts)]).toEqual([["b3/1", 11], ["b4/1", 19]]);
  });

  it("a change at piece 12 parts a tally at piece 12", () => {
    const late = timelineOf([move("b3", "fitted", "11-02T09:00"), move("b4", "fitted", "11-24T12:00", { inside_record: "t1", inside_piece: 12 })]);
    expect(cutBy(late, tally("t1", "11-24T12:00", 30))).toEqual([
      { edge: { blade: "b3", life: 1 }, pieces: 11 },
      { edge: { blade: "b4", life: 1 }, pieces: 19 },
    ]);
  });

  it("a backdated change moves the counts after it and no other", () => {
    const cuts = [piece("s0", 1, "11-20T10:00"), piece("s1", 1, "11-24T10:00"), piece("s1", 2, "11-24T11:00"), tally("t9", "11-25T12:00", 30)];
    const before = timelineOf([move("b3", "fitted", "11-02T09:00")]);
    const after = timelineOf([move("b3", "fitted", "11-02T09:00"), move("b4", "fitted", "11-24T10:30")]);
    expect([...piecesOnEdges(before, cuts)]).toEqual([["b3/1", 33]]);
    expect([...piecesOnEdges(after, cuts)]).toEqual([["b3/1", 2], ["b4/1", 31]]);
  });

  it("an opening count stands on the edge that was in the machine", () => {
    expect([...piecesOnEdges(timeline, [tally("t1", "11-25T12:00", 150, true)])]).toEqual([["b3/1", 0], ["b4/1", 150]]);
  });

  it("a hundred thousand pieces among eight hundred moves are each counted once", () => {
    const start = Date.parse("2020-01-01T00:00:00.000Z");
    const moves: BladeMove[] = [];
    for (let k = 0; k < 400; k += 1) {
      moves.push({ ...move(`b${k % 8}`, "ground", "01-01T00:00"), at: new Date(start + k * 5_000_000_000).toISOString() });
      moves.push({ ...move(`b${k % 8}`, "fitted", "01-01T00:00"), at: new Date(start + k * 5_000_000_000 + 1).toISOString() });
    }
    moves.push(move("b1", "fitted", "01-01T00:00", { at: new Date(start + 999).toISOString(), inside_record: "s7", inside_piece: 12 }));
    const cuts = Array.from({ length: 100_000 }, (_, k): Cut => ({
      record: `s${Math.floor(k / 30)}`, number: (k % 30) + 1, machine: "m1", at: new Date(start + k * 15_000_000 + 2000).toISOString(), pieces: 1, opening: false, blade: null,
    }));
    const counts = piecesOnEdges(timelineOf(moves), cuts);
    expect([...counts.values()].reduce((sum, each) => sum + each, 0)).toBe(100_000);
  });
});

describe("two blades in one machine?", () => {
  const first = move("b3", "fitted", "11-02T09:00");

  it("is asked where the later phone saw neither the other blade nor its move, and the later one stands", () => {
    const one = move("b4", "fitted", "11-24T16:10", { took_out: "b3" });
    const two = move("b5", "fitted", "11-24T17:30", { took_out: "b3" });
    expect(twoBladesIn([first, two, one])).toEqual([{ machine: "m1", earlier: one, later: two }]);
    expect(edgeIn(timelineOf([first, two, one]), "m1")?.blade).toBe("b5");
  });

  it("is not asked where the later one took the earlier one out", () => {
    expect(twoBladesIn([first, move("b4", "fitted", "11-24T16:10", { took_out: "b3" }), move("b5", "fitted", "11-24T17:30", { took_out: "b4" })])).toEqual([]);
  });

  it("is not asked again once a person said which it is", () => {
    const one = move("b4", "fitted", "11-24T16:10", { took_out: "b3" });
    const two = move("b5", "fitted", "11-24T17:30", { took_out: "b3" });
    expect(twoBladesIn([first, one, { ...two, confirmed: true }])).toEqual([]);
    expect(twoBladesIn([first, one, two, move("b4", "fitted", "11-24T18:00", { took_out: "b5" })])).toEqual([]);
  });

  it("is asked where neither says what it took out and both came within an hour", () => {
    expect(twoBladesIn([move("b4", "fitted", "11-24T16:10"), move("b5", "fitted", "11-24T16:20")])).toHaveLength(1);
    expect(twoBladesIn([move("b4", "fitted", "11-24T16:10"), move("b5", "fitted", "11-24T18:20")])).toHaveLength(0);
  });
});

describe("a change written in later, before one that stands", () => {
  const first = move("b3", "fitted", "11-02T09:00");
  const known = move("b5", "fitted", "11-24T17:30", { took_out: "b3" });

  it("puts right what the one after it took out, so that nobody is asked about two blades", () => {
    const late = move("b4", "fitted", "11-23T16:10", { took_out: "b3" });
    expect(twoBladesIn([first, late, known])).toHaveLength(1);
    const later = laterFitting([first, known], "m1", late.at, late.took_out);
    expect(later).toBe(known.id);
    expect(twoBladesIn([first, late, { ...known, took_out: late.blade }])).toEqual([]);
  });

  it("leaves alone what took out another blade, what came before, and other machines", () => {
    expect(laterFitting([first, { ...known, took_out: "b9" }], "m1", "2026-11-23T16:10:00.000Z", "b3")).toBeNull();
    expect(laterFitting([first, known], "m1", "2026-11-25T16:10:00.000Z", "b5")).toBeNull();
    expect(laterFitting([first, known], "m2", "2026-11-23T16:10:00.000Z", "b3")).toBeNull();
  });
});

describe("a change of blade warns", () => {
  const batch = { label: "D1", machine: null, planned_day: "2026-11-25", pieces: 24, closed: false };
  const session = { id: "s1", machine: "m1", began: "2026-11-24T13:00:00.000Z", ended: null };

  it("where a session is under way on that machine", () => {
    expect(changeWarnings("m1", { sessions: [session], batches: [] }, "2026-11-24", "2026-11-25")).toEqual([{ what: "session_under_way", session: "s1" }]);
    expect(changeWarnings("m2", { sessions: [session], batches: [] }, "2026-11-24", "2026-11-25")).toEqual([]);
  });

  it("where a batch is planned for that day or the next", () => {
    expect(changeWarnings("m1", { sessions: [], batches: [batch] }, "2026-11-24", "2026-11-25")).toMatchObject([{ what: "planned", when: "tomorrow", pieces: 24 }]);
    expect(changeWarnings("m1", { sessions: [], batches: [batch] }, "2026-11-25", "2026-11-26")).toMatchObject([{ when: "today" }]);
  });

  it("and not where nothing is near, or the batch is closed", () => {
    expect(changeWarnings("m1", { sessions: [{ ...session, ended: "2026-11-24T14:00:00.000Z" }], batches: [{ ...batch, closed: true }] }, "2026-11-24", "2026-11-25")).toEqual([]);
    expect(changeWarnings("m1", { sessions: [], batches: [batch] }, "2026-11-20", "2026-11-21")).toEqual([]);
  });
});
