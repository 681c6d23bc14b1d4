/** The set-up's place: which machine, which row. */
import { useEffect, useRef } from "preact/hooks";
import { minute } from "../clock";
import { logbook } from "../logbook/state";
import { route } from "../route";
import { FirstMachine } from "../set_up/FirstMachine";
import { WHATS } from "../set_up/model";
import { Remedy } from "../set_up/Remedy";
import { RowOpened } from "../set_up/RowOpened";
import { SetUp } from "../set_up/SetUp";
import { soaks, workshopTime } from "../soak/state";
import { benchFacts, leftSetUp, pickedMachine, profilers } from "./bench_facts";
import { setUpFacts } from "./set_up_facts";

export default function SetUpPage() {
  const { rest, query } = route.value;
  const asked = query["machine"] ?? benchFacts.value.machine?.id;
  const machine = profilers.value.find((each) => each.id === asked);
  const before = useRef<{ machine: string | null } | null>(null);
  useEffect(() => {
    if (query["machine"] === undefined) return;
    before.current ??= { machine: pickedMachine.peek() };
    pickedMachine.value = query["machine"];
  }, [query["machine"]]);
  // only who looked goes back: the next room's key may mount this page once more before it is gone
  useEffect(() => () => before.current && leftSetUp(before.current.machine), []);
  if (machine === undefined) {
    const keep = (id: string): void => {
      pickedMachine.value = id;
    };
    return <FirstMachine onKept={keep} />;
  }
  const facts = setUpFacts(machine, inWater(minute.value));
  const what = WHATS.find((each) => each === rest[0]);
  if (what === undefined) return <SetUp facts={facts} />;
  const code = rest[1];
  if (code === undefined) return <RowOpened key={what} facts={facts} what={what} />;
  const onGouge = (gouge_mm: number): void => {
    if (facts.lot) logbook.write([{ kind: "lot", record: facts.lot.id, set: { gouge_mm } }]);
  };
  return <Remedy key={`${what}/${code}`} facts={facts} what={what} code={code} does={{ onGouge }} />;
}

const HALF_DAY_MS = 12 * 3_600_000;

/** Minutes that the cane for the bench has been in the water: the group taken out last, else the one that went in first. */
function inWater(now: number): number | null {
  const there = soaks.value.filter(
    (soak) =>
      soak.purpose === "profile" &&
      soak.put_in !== null &&
      now - Date.parse(soak.taken_out ?? soak.put_in) < HALF_DAY_MS,
  );
  const out = there
    .filter((soak) => soak.taken_out !== null)
    .sort((a, b) => ((a.taken_out ?? "") < (b.taken_out ?? "") ? 1 : -1))[0];
  const first = out ?? there.sort((a, b) => ((a.put_in ?? "") < (b.put_in ?? "") ? -1 : 1))[0];
  if (first === undefined || first.put_in === null) return null;
  const until = first.taken_out === null ? workshopTime(now) : Date.parse(first.taken_out);
  return Math.max(0, Math.round((until - Date.parse(first.put_in)) / 60_000));
}
