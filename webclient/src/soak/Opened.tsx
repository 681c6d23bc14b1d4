/** One jar opened: when it really went in, how long it is to stay, more pieces, into the air, a note. */
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { Jar } from "../drawings/Jar";
import { wait } from "../language/format";
import { Caution, Check, KeptField, type Next, Page, Scribed, Stepper } from "../workshop";
import { ForeseenSlot } from "../workshop/foreseen_slot";
import { HowCut } from "./HowCut";
import { SoakLath } from "./JarRow";
import type { Mark } from "./model";
import type { Standing } from "./standing";
import * as words from "./words";
import "./screen.css";

export interface OpenedProps {
  one: Standing;
  sub: ComponentChildren;
  now: number;
  next: Next;
  aside: ComponentChildren;
  /** null: the way back is the next thing */
  onBack: (() => void) | null;
  clock: ComponentChildren;
  /** what rings, while it is in the water */
  bell: ComponentChildren;
  onMark: (mark: Mark) => void;
  onPutRight: (put_in_ms: number) => void;
  onPlanned: (soak_s: number) => void;
  onAdd: (pieces: number) => void;
  onDryBack: () => void;
  onDryEnough: () => void;
  onNote: (note: string) => void;
  onNeverIn: () => void;
}

export function Opened(p: OpenedProps) {
  const { one } = p;
  const inWater = one.state === "in_water" || one.state === "ready" || one.state === "over";
  return (
    <Page title={one.name} sub={p.sub} aside={p.aside} next={p.next}>
      <div class="soak-halves wide">
        <div>
          {p.clock}
          {!inWater && one.out !== null && <HowCut one={one} onMark={p.onMark} />}
          {inWater && (
            <div class="opened-jar">
              <Jar
                small
                pieces={one.soak.pieces ?? 2}
                wet={one.wet}
                width="100%"
                title={words.drawing_jar(one.soak.pieces, one.soak.jar)}
              />
              <p>
                <strong class="answer-small">
                  {one.state === "in_water" ? wait(one.wait_min) : words.ready}
                </strong>
                <br />
                {one.state === "in_water" ? words.ready_at(one.ready) : words.done_ago(one.ago_min)}
              </p>
            </div>
          )}
          <SoakLath
            one={one}
            nowWords={inWater ? words.now(p.now) : words.stands(one.in_min * 60, words.in_water)}
          />
          {one.state === "over" && (
            <Caution order={words.look_now} text={words.over_line((one.marks.too_soft_s ?? 0) / 60)} />
          )}
          {inWater && p.bell}
          {inWater && <ForeseenSlot of="jars" with={{ jars: [one] }} />}
        </div>
        <div>
          <PutRight one={one} now={p.now} onPutRight={p.onPutRight} />
          <Stepper
            label={words.planned}
            unit={words.minutes_unit}
            value={Math.round(one.soak.soak_s / 60)}
            min={5}
            max={2880}
            step={5}
            onChange={(min) => p.onPlanned(min * 60)}
          />
          {one.state === "drying" ? (
            <Scribed
              wide
              label={words.dry_enough}
              sub={words.drying(one.soak.drying_since, p.now)}
              onTake={p.onDryEnough}
            />
          ) : (
            <Scribed wide label={words.dry_back} sub={words.dry_back_sub} onTake={p.onDryBack} />
          )}
          {inWater && <AddPieces onAdd={p.onAdd} />}
          <KeptField label={words.note} value={one.soak.note ?? ""} onKeep={p.onNote} long />
          <NeverIn onNeverIn={p.onNeverIn} />
          {p.onBack && <Scribed wide label={words.back} onTake={p.onBack} />}
        </div>
      </div>
    </Page>
  );
}

function PutRight(p: { one: Standing; now: number; onPutRight: (ms: number) => void }) {
  const ago_min = Math.max(0, Math.round((p.now - p.one.put_in) / 60_000));
  const [typed, setTyped] = useState<number | null>(null);
  const min = typed ?? ago_min;
  const at = p.now - min * 60_000;
  return (
    <section class="stack" aria-labelledby="put-right">
      <h2 id="put-right">{typed === null ? words.put_right_ask(p.one.put_in) : words.put_right}</h2>
      <Stepper
        label={words.hours_ago}
        value={Math.floor(min / 60)}
        max={999}
        onChange={(hours) => setTyped(hours * 60 + (min % 60))}
      />
      <Stepper
        label={words.minutes_ago}
        value={min % 60}
        min={-1}
        max={60}
        onChange={(minute) => setTyped(Math.max(0, Math.floor(min / 60) * 60 + minute))}
      />
      {typed !== null && (
        <Scribed
          wide
          label={words.put_right_take(at)}
          onTake={() => {
            p.onPutRight(at);
            setTyped(null);
          }}
        />
      )}
    </section>
  );
}

function AddPieces(p: { onAdd: (pieces: number) => void }) {
  const [pieces, setPieces] = useState(2);
  return (
    <section class="stack" aria-labelledby="add-pieces">
      <h2 id="add-pieces">{words.add}</h2>
      <Stepper label={words.pieces} value={pieces} min={1} max={100} onChange={setPieces} />
      <Scribed wide label={words.add_now(pieces)} sub={words.add_sub} onTake={() => p.onAdd(pieces)} />
    </section>
  );
}

function NeverIn(p: { onNeverIn: () => void }) {
  const [sure, setSure] = useState(false);
  return (
    <section class="stack">
      <Check label={words.never_in} sub={words.never_in_sub} checked={sure} onChange={setSure} />
      {sure && <Scribed wide label={words.never_in_take} onTake={p.onNeverIn} />}
    </section>
  );
}
