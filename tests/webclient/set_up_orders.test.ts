import "fake-indexeddb/auto";
import type { Signal } from "@preact/signals";
import { IDBFactory } from "fake-indexeddb";
import { WORKSHOP } from "src/logbook/ids";
import { beforeEach, describe, expect, test, vi } from "vitest";
import type { Values } from "src/logbook/model";
import type { Machine, Setting } from "src/set_up/model";
import type { SetUpFacts } from "src/set_up/SetUp";

let book: typeof import("src/logbook/state");
let set_up: typeof import("src/set_up/state");
let later: typeof import("src/bench_day/later_orders");
let blades: typeof import("src/blades/state");
let care: typeof import("src/care/state");
let day: typeof import("src/bench_day/set_up_facts");
let joined: typeof import("src/bench_day/care_facts");
let change: typeof import("src/bench_day/blade_change_facts");
let bench: typeof import("src/bench_day/bench_facts");

let clock: typeof import("src/clock") | null = null;

/** The clock shows `instant`; the minute's tick comes with it. */
const at = (instant: string): void => {
  vi.setSystemTime(Date.parse(instant));
  if (clock) (clock.minute as Signal<number>).value = Date.parse(instant);
};
const put = (kind: string, record: string, set: Values): void => {
  book.logbook.write([{ kind, record, set }]);
};
const cut = (session: string, number: number, when: string, batch = "C1"): void =>
  put("piece", `${session}-${number}`, { session, number, machine: "m1", batch, at: when, [`outcome/${session}${number}`]: "good" });
const machine = (): Machine => bench.profilers.value[0] as Machine;
const facts = (): SetUpFacts => day.setUpFacts(machine(), null);

/** Blade 3 since 2 November; two pieces of lot C on Monday; batch D1 of lot D is planned for Wednesday. */
beforeEach(async () => {
  vi.useFakeTimers({ toFake: ["Date"] });
  clock = null;
  at("2026-11-23T17:00:00.000Z");
  vi.resetModules();
  globalThis.indexedDB = new IDBFactory();
  clock = await import("src/clock");
  book = await import("src/logbook/state");
  set_up = await import("src/set_up/state");
  later = await import("src/bench_day/later_orders");
  blades = await import("src/blades/state");
  care = await import("src/care/state");
  day = await import("src/bench_day/set_up_facts");
  joined = await import("src/bench_day/care_facts");
  change = await import("src/bench_day/blade_change_facts");
  bench = await import("src/bench_day/bench_facts");
  await book.logbook.open();
  put("workshop", WORKSHOP, { time_zone: "Europe/Berlin" });
  put("machine", "m1", { name: "Machine 1", does: "profile", middle_thread: "M3", middle_lowers: "clockwise" });
  put("blade", "b3", { label: "3" });
  put("blade", "b4", { label: "4" });
  put("blade_move", "v1", { blade: "b3", machine: "m1", what: "fitted", at: "2026-11-02T09:00:00.000Z" });
  put("setting", "s1", {
    machine: "m1", blade: "b3", middle_stop: { way: "turns", value: 2.25 }, shoulder_stop: { way: "mm", value: 3.1 }, projection_mm: 0.05,
    template: "2", why: "new blade", at: "2026-11-02T10:00:00.000Z",
  });
  put("lot", "C", { label: "C", gouge_mm: 1.24 });
  put("lot", "D", { label: "D", gouge_mm: 1.28 });
  put("batch", "C1", { label: "C1", lot: "C", pieces: 2 });
  put("session", "mon", { machine: "m1", began: "2026-11-23T13:00:00.000Z", ended: "2026-11-23T15:00:00.000Z", batches: ["C1"] });
  cut("mon", 1, "2026-11-23T13:10:00.000Z");
  cut("mon", 2, "2026-11-23T13:20:00.000Z");
});

const wednesday = (): void => at("2026-11-25T13:00:00.000Z");
const tuesdayChange = (): void => {
  at("2026-11-24T16:10:00.000Z");
  blades.fitBlade("m1", "b4", "b3", { at: "2026-11-24T16:10:00.000Z", inside: null });
};

describe("the set-up on Wednesday", () => {
  test("has nothing on top where nothing changed, and one tap ends it", () => {
    wednesday();
    expect(facts().slip).toMatchObject({ top: [], next: "rest", open: 1 });
    set_up.answer(facts().at, Object.fromEntries(facts().slip.rest.map((what) => [what, "good" as const])));
    expect(facts().slip.next).toBeNull();
  });

  test("has projection and both stops on top after Tuesday's change of blade, and four taps end it", () => {
    tuesdayChange();
    wednesday();
    expect(facts().slip.top).toEqual(["projection", "middle_stop", "shoulder_stop"]);
    let taps = 0;
    for (let next = facts().slip.next; next !== null; next = facts().slip.next, taps += 1) {
      const rest = Object.fromEntries(facts().slip.rest.map((what) => [what, "good" as const]));
      set_up.answer(facts().at, next === "rest" ? rest : { [next]: "good" });
    }
    expect(taps).toBe(4);
  });

  test("names the new lot and its gouge against the last one's", () => {
    put("batch", "D1", { label: "D1", lot: "D", pieces: 24, planned_day: "2026-11-25" });
    wednesday();
    expect(facts()).toMatchObject({ lot: { label: "D", gouge_mm: 1.28 }, last: { gouge_mm: 1.24 } });
    expect([...facts().changed]).toEqual([["lot", "new_lot"]]);
  });

  test("begins a session with its first answer, and goes on in the same one", () => {
    wednesday();
    const first = set_up.answer(facts().at, { edge: "good" });
    expect(set_up.answer(facts().at, { pivot: "not_looked" })).toBe(first);
    expect(book.logbook.rows("session").map((row) => row.id)).toHaveLength(2);
    expect(facts().checks).toEqual({ edge: "good", pivot: "not_looked" });
    expect(book.logbook.row("session", first)?.fields["setting"]?.value).toBe("s1");
  });

  test("an answer is taken off again", () => {
    wednesday();
    const session = set_up.answer(facts().at, { edge: "good" });
    set_up.takeOff(session, "edge");
    expect(facts().checks).toEqual({});
  });

  test("oiling the pivot is written down as done, and it is no longer due", () => {
    put("care_task", "oil", { what: "oil", machine: "m1", every_days: 7, since: "2026-11-10T08:00:00.000Z" });
    wednesday();
    expect(facts().changed.get("pivot")).toBe("oil_due");
    set_up.answer(facts().at, { pivot: "good" });
    expect(joined.isOilDue("m1")).toBe(false);
    expect(book.logbook.rows("care_done")).toHaveLength(1);
  });

  test("an arm that runs freely without oil is good, and oil stays due", () => {
    put("care_task", "oil", { what: "oil", machine: "m1", every_days: 7, since: "2026-11-10T08:00:00.000Z" });
    wednesday();
    set_up.answer(facts().at, { pivot: "good" }, false);
    expect([facts().checks.pivot, joined.isOilDue("m1"), book.logbook.rows("care_done").length]).toEqual(["good", true, 0]);
  });

  test("a blade changed after the rows were ticked opens them again", () => {
    wednesday();
    set_up.answer(facts().at, { edge: "good", projection: "good", middle_stop: "good", shoulder_stop: "good", pivot: "good" });
    at("2026-11-25T13:30:00.000Z");
    blades.fitBlade("m1", "b4", "b3", { at: "2026-11-25T13:30:00.000Z", inside: null });
    expect(facts().checks).toEqual({ pivot: "good" });
    expect(facts().slip.next).toBe("projection");
  });

  test("a screw moved asks for a scrap", () => {
    wednesday();
    set_up.set("m1", "b3", facts().setting, { middle_stop: { way: "turns", value: 2.375 } }, "middle too thick");
    expect([...facts().changed]).toEqual([["scrap", "setting_moved"]]);
  });
});

describe("with a second machine", () => {
  beforeEach(() => {
    put("machine", "m2", { name: "Door machine", does: "profile" });
    put("batch", "D1", { label: "D1", lot: "D", pieces: 24, planned_day: "2026-11-25", machine: "m1" });
    wednesday();
  });
  const look = (): void => {
    bench.pickedMachine.value = "m2";
  };
  const tick = (): void => void set_up.answer(day.setUpFacts(bench.profilers.value[1] as Machine, null).at, { edge: "good" });
  const onBench = () => [bench.benchFacts.value.machine?.name, bench.benchFacts.value.batch?.label];

  test("a look at its set-up leaves the bench where it was", () => {
    expect(onBench()).toEqual(["Machine 1", "D1"]);
    look();
    expect(onBench()).toEqual(["Door machine", undefined]);
    bench.leftSetUp(null);
    expect(onBench()).toEqual(["Machine 1", "D1"]);
  });

  test("a row ticked there is work there, and not for a batch planned on the other", () => {
    set_up.answer(facts().at, { edge: "good" });
    at("2026-11-25T13:05:00.000Z");
    look();
    tick();
    bench.leftSetUp(null);
    expect(onBench()).toEqual(["Door machine", undefined]);
    bench.pickedMachine.value = null;
    expect(onBench()).toEqual(["Door machine", undefined]);
    expect(bench.openSession.value?.batches).toEqual([]);
  });

  test("a batch chosen for the bench brings its own machine", () => {
    put("batch", "K1", { label: "K1", pieces: 12, machine: "m2" });
    bench.pickedBatch.value = "K1";
    expect(onBench()).toEqual(["Door machine", "K1"]);
  });
});

describe("a setting", () => {
  test("is kept whole: what moved over all that stood, with its reason", () => {
    wednesday();
    set_up.set("m1", "b4", facts().setting, { middle_stop: { way: "turns", value: 2.375 } }, "new blade");
    expect(facts().setting).toMatchObject({
      blade: "b4", middle_stop: { way: "turns", value: 2.375 }, shoulder_stop: { way: "mm", value: 3.1 }, projection_mm: 0.05, template: "2",
      why: "new blade", at: "2026-11-25T13:00:00.000Z",
    });
    expect(book.logbook.rows("setting")).toHaveLength(2);
  });

  test("dates each figure by when it changed itself", async () => {
    const { setSince } = await import("src/set_up/rules");
    wednesday();
    set_up.set("m1", "b3", facts().setting, { projection_mm: 0.08 }, "to try");
    at("2026-11-25T13:05:00.000Z");
    set_up.set("m1", "b3", facts().setting, { middle_stop: { way: "turns", value: 2.375 } }, "middle too thick");
    expect((["projection", "middle_stop", "shoulder_stop"] as const).map((row) => setSince(row, facts().settings))).toEqual([
      "2026-11-25T13:00:00.000Z", "2026-11-25T13:05:00.000Z", "2026-11-02T10:00:00.000Z",
    ]);
  });

  test("that stays as it stood is no change; another template, the first figure written, or another blade is one", async () => {
    const { differs } = await import("src/set_up/rules");
    const stood = facts().setting;
    expect([differs({ projection_mm: 0.05 }, stood, "b3"), differs({ template: "2" }, stood, "b3")]).toEqual([false, false]);
    expect([differs({ projection_mm: 0.06 }, stood, "b3"), differs({ template: "3" }, stood, "b3"), differs({ projection_mm: 0.05 }, null, "b3")]).toEqual([true, true, true]);
    expect(differs({ projection_mm: 0.05 }, stood, "b4")).toBe(true);
  });

  test("that does not say what was set in it is one whole where the blade is another", async () => {
    const { setSince } = await import("src/set_up/rules");
    put("setting", "s2", { machine: "m1", blade: "b4", middle_stop: { way: "turns", value: 2.25 }, projection_mm: 0.05, at: "2026-11-24T17:00:00.000Z" });
    put("setting", "s3", { machine: "m1", blade: "b4", middle_stop: { way: "turns", value: 2.375 }, projection_mm: 0.05, at: "2026-11-25T08:00:00.000Z" });
    expect([setSince("projection", facts().settings), setSince("middle_stop", facts().settings)]).toEqual(["2026-11-24T17:00:00.000Z", "2026-11-25T08:00:00.000Z"]);
  });

  test("is undone by a change of blade, figure by figure, until it is set or found right", () => {
    expect(day.undoneOn("m1")).toEqual([]);
    tuesdayChange();
    expect(day.undoneOn("m1")).toEqual(["projection", "middle_stop", "shoulder_stop"]);
    wednesday();
    set_up.set("m1", "b4", facts().setting, { projection_mm: 0.05 }, "new blade");
    expect(day.undoneOn("m1")).toEqual(["middle_stop", "shoulder_stop"]);
    set_up.answer(facts().at, { middle_stop: "good", shoulder_stop: "not_looked" });
    expect(day.undoneOn("m1")).toEqual(["shoulder_stop"]);
  });

  test("taken back leaves the one before it", () => {
    wednesday();
    const made = set_up.backTo({ ...(facts().setting as Setting), projection_mm: 0.08 }, "b3", "back to Monday");
    expect(facts().setting?.projection_mm).toBe(0.08);
    set_up.takeSettingBack(made);
    expect(facts().setting?.projection_mm).toBe(0.05);
  });

  test("back to an earlier one is a new one with the same values", () => {
    wednesday();
    const stood = facts().setting as Setting;
    set_up.set("m1", "b3", stood, { projection_mm: 0.08 }, "to try");
    at("2026-11-25T13:05:00.000Z");
    set_up.backTo(stood, "b3", "back to Monday");
    expect(facts().setting).toMatchObject({ projection_mm: 0.05, why: "back to Monday" });
    expect(book.logbook.rows("setting")).toHaveLength(3);
  });
});

describe("a change of blade", () => {
  test("backdated to piece 2 moves that piece and no other", () => {
    wednesday();
    expect(joined.piecesOn("b3")).toBe(2);
    blades.fitBlade("m1", "b4", "b3", { at: "2026-11-23T13:20:00.001Z", inside: { record: "mon", piece: 2 } });
    expect([joined.piecesOn("b3"), joined.piecesOn("b4")]).toEqual([1, 1]);
  });

  test("after Monday's pieces leaves them all with blade 3", () => {
    wednesday();
    const monday = change.stretchesOn("m1")[0];
    expect(monday).toMatchObject({ record: "mon", pieces: 2, under_way: false });
    blades.fitBlade("m1", "b4", "b3", { at: monday?.after ?? "", inside: null });
    cut("wed", 1, "2026-11-25T13:10:00.000Z");
    expect([joined.piecesOn("b3"), joined.piecesOn("b4")]).toEqual([2, 1]);
  });

  test("warns of the batch that is planned for today, and of the session under way", () => {
    put("batch", "D1", { label: "D1", lot: "D", pieces: 24, planned_day: "2026-11-25" });
    wednesday();
    set_up.answer(facts().at, { edge: "good" });
    expect(change.changeFacts(machine(), null).warnings.map((warning) => warning.what)).toEqual(["session_under_way", "planned"]);
  });

  test("on two phones is asked about, and the answer settles it", async () => {
    tuesdayChange();
    put("blade", "b5", { label: "5" });
    put("blade_move", "other", { blade: "b5", machine: "m1", what: "fitted", at: "2026-11-24T17:00:00.000Z", took_out: "b3" });
    const asked = change.twoBladesAsked()[0];
    expect([asked?.earlier.blade, asked?.later.blade]).toEqual(["b4", "b5"]);
    wednesday();
    if (asked) (await import("src/blades/two_blades")).sayWhich(asked, "b4");
    expect(change.twoBladesAsked()).toEqual([]);
    expect(facts().blade?.id).toBe("b4");
  });

  test("a move taken back moves the counts back", async () => {
    tuesdayChange();
    cut("tue", 1, "2026-11-24T17:00:00.000Z");
    expect(joined.piecesOn("b4")).toBe(1);
    const move = book.logbook.rows("blade_move").find((row) => row.fields["blade"]?.value === "b4");
    (await import("src/logbook/never_was")).neverWas("blade_move", move?.id ?? "");
    expect(joined.piecesOn("b3")).toBe(3);
  });

  test("about 150 on this edge already counts on that edge alone", () => {
    wednesday();
    later.writeOpening("b3", 150);
    expect([joined.piecesOn("b3"), joined.piecesOn("b4")]).toEqual([152, 0]);
  });
});

describe("care", () => {
  const due = () => joined.dues.value.find((each) => each.task.words === "wipe");
  const task = (): string =>
    care.newTask({ what: "clean", words: "wipe", machine: "m1", tool: null, every_pieces: null, every_sessions: null, every_days: 1 });

  test("put off is not due before its day, done begins the count anew, and not done after all ends that", () => {
    const id = task();
    wednesday();
    expect(due()?.is_due).toBe(true);
    care.putOff(id, "2026-11-27");
    expect(due()).toMatchObject({ is_due: false, roughly_day: "2026-11-27" });
    at("2026-11-25T14:00:00.000Z");
    care.sayDone(id);
    expect(due()).toMatchObject({ is_due: false, due_day: "2026-11-26", put_off_until: null });
    care.notDone(due()?.last_done?.id ?? "");
    expect(due()?.put_off_until).toBe("2026-11-27");
  });

  test("a change of blade is due on the quiet day before a batch once that script is there, and says that day", async () => {
    const { dueWords } = await import("src/care/words");
    const { foreseen } = await import("src/workshop/foreseen_slot");
    const { duesOnQuietDays } = await import("src/bench_day/foreseen_quiet");
    const said = () => (joined.dues.value[0] ? dueWords(joined.dues.value[0], joined.today.value) : null);
    const id = task();
    care.changeTask(id, { what: "change", every_days: 2 });
    put("batch", "D1", { planned_day: "2026-11-25" });
    expect(due()).toMatchObject({ is_due: false, roughly_day: "2026-11-25" });
    foreseen.value = { shown: {}, told: { dues: duesOnQuietDays as (facts: object) => unknown } };
    expect([due()?.is_due, said()]).toEqual([true, "due today"]);
    put("batch", "D1", { planned_day: "2026-11-26" });
    expect([due()?.is_due, due()?.roughly_day, said()]).toEqual([false, "2026-11-24", "Tue Nov 24"]);
    care.putOff(id, "2026-11-25");
    expect([due()?.is_due, said()]).toEqual([false, "Fri Nov 27"]);
    put("batch", "D1", { closed: true });
    expect([due()?.roughly_day, said()]).toEqual(["2026-11-25", "put off to Wed Nov 25"]);
  });

  test("no longer wanted it is gone", () => {
    care.removeTask(task());
    expect(due()).toBeUndefined();
  });
});
