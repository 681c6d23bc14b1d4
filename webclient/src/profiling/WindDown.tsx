/** How did it go, and is all put away? Counts, a few ticks, and the session is closed. */
import { useSignal } from "@preact/signals";
import { now } from "../clock";
import { OutcomeShape } from "../drawings/OutcomeShape";
import { PiecesHeap } from "../drawings/PiecesHeap";
import { list, number } from "../language/format";
import { go } from "../route";
import { usePedal } from "../wet_hands/pedal";
import { Caution, Check, Page, Scribed, Stepper, TextField } from "../workshop";
import { ManualFirst } from "../workshop/Cautions";
import { ForeseenSlot } from "../workshop/foreseen_slot";
import { isDone } from "./model";
import type { OnBench } from "./on_bench";
import type { Asking } from "./Paused";
import { doneOf } from "./rules";
import type { WindDown as Wound } from "./session_orders";
import { outcomeOf } from "./state";
import * as words from "./words";
import { count, faultWord } from "./words";
import "./wind_down.css";

export interface WindDownProps {
  on: OnBench;
  /** How many lie in the water now, by the soaks. */
  inWater: number;
  /** Pieces that this edge has cut in all, where that is known. */
  edgePieces: number | null;
  oilDue: boolean;
  asking: readonly Asking[];
  onClose: (wind: Wound) => void;
}

const w = words.wind;

export function WindDown(p: WindDownProps) {
  const { on } = p;
  const { session } = on;
  // opened again: as it was closed before, but oil that is due by now is another
  const ticks = useSignal<Record<string, boolean>>({ ...session?.winds, oiled: false });
  const left = useSignal(session?.leftInWater ?? p.inWater);
  const note = useSignal(session?.note ?? "");
  const done = on.own.filter(isDone);
  const counts = doneOf(done);
  const lines: { what: string; label: string; sub: string | undefined }[] = [
    { what: "wiped", label: w.wiped, sub: w.wipedSub },
    ...(p.oilDue ? [{ what: "oiled", label: w.oiled, sub: w.oiledSub }] : []),
    {
      what: "housed",
      label: w.housed,
      sub: on.facts.blade ? w.housedSub(on.facts.blade, p.edgePieces) : undefined,
    },
    ...(left.value > 0 ? [{ what: "dried", label: w.dried, sub: undefined }] : []),
    { what: "jars", label: w.jars, sub: w.jarsSub },
    { what: "dust", label: w.dust, sub: undefined },
  ];
  const tick = (what: string, yes: boolean): void => {
    ticks.value = { ...ticks.value, [what]: yes };
  };
  const open = lines.filter((line) => !ticks.value[line.what]);
  const all = (): void => {
    ticks.value = Object.fromEntries(lines.map((line) => [line.what, true]));
  };
  const close = (): void =>
    p.onClose({
      ticks: Object.fromEntries(lines.map((line) => [line.what, ticks.value[line.what] === true])),
      leftInWater: left.value,
      note: note.value.trim() || null,
    });
  const first = open[0];
  usePedal({
    main: first
      ? { label: first.label, onTake: () => tick(first.what, true), onTakeOff: () => tick(first.what, false) }
      : { label: w.close, onTake: close },
    ring: [
      { label: w.close, onTake: close },
      { label: w.toBench, onTake: () => go("bench") },
    ],
  });
  if (!session)
    return (
      <Page title={w.title} sub={w.nothing} next={{ label: w.toBench, onTake: () => go("bench") }}>
        <span />
      </Page>
    );
  const lost = done.filter((piece) => outcomeOf(piece) === "lost");
  const seen = [...new Set(lost.map((piece) => faultWord(piece.seen[0] ?? "not_said")))];
  return (
    <Page
      title={w.title}
      sub={w.sub(on.title, counts.all, session.began, new Date(now()).toISOString())}
      bench
      next={{ label: w.close, sub: w.closeSub(open.length), onTake: close, ring: w.close }}
    >
      <div class="wound">
        <p class="wound-good">
          <span>{number(counts.good)}</span> <strong>{words.good.toLowerCase()}</strong>
        </p>
        <p class="wound-rest">
          {(["second", "lost"] as const).map(
            (one) =>
              counts[one] > 0 && (
                <span key={one}>
                  <strong>{count(one, counts[one])}</strong> <OutcomeShape outcome={one} width={44} />
                </span>
              ),
          )}
        </p>
      </div>
      {counts.all > 0 && <PiecesHeap pieces={done.map((piece) => outcomeOf(piece))} />}
      {lost.length > 0 && (
        <Scribed
          wide
          label={w.lostTo(list(seen))}
          sub={w.placesOf(lost.map((piece) => on.placeOf(piece)))}
          onTake={() => go("bench", "right")}
        />
      )}
      {p.asking.map((ask) => (
        <Scribed key={ask.label} wide label={ask.label} sub={ask.sub} onTake={ask.onTake} />
      ))}
      <ForeseenSlot of="going_off" with={{ machine: session.machine }} />
      {open.length > 0 && <Scribed wide label={w.all} sub={w.allSub} onTake={all} ring={w.all} />}
      <div class="ruled">
        {lines.map((line) => (
          <div key={line.what}>
            <Check
              label={line.label}
              sub={line.sub}
              checked={ticks.value[line.what] === true}
              onChange={(yes) => tick(line.what, yes)}
            />
          </div>
        ))}
      </div>
      <Stepper
        label={w.left}
        value={left.value}
        onChange={(value) => {
          left.value = value;
        }}
      />
      <TextField
        label={w.note}
        value={note.value}
        onChange={(value) => {
          note.value = value;
        }}
        long
        maxLength={2000}
      />
      <Caution order={words.cautionBlade} text={words.cautionBladeWhy} />
      <ManualFirst />
    </Page>
  );
}
