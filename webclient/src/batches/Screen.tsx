/** Where does each batch lie? A line a piece, in the column of the stage where it is now. */
import { StageColumns } from "../drawings/StageColumns";
import { day as dayWords, number, pieceCount } from "../language/format";
import { press } from "../wet_hands/press";
import type { Next } from "../workshop";
import { BagLabel, Page, Scribed, Table } from "../workshop";
import type { Batch, Lot, Stage } from "./model";
import type { Stands } from "./rules";
import * as words from "./words";
import { stageHeads } from "./words";
import "./screen.css";

export interface Shown {
  batch: Batch;
  lot: Lot | null;
  label: string;
  stands: Stands;
}

export interface BatchesProps {
  sub: string;
  /** Open ones, newest first; the columns that any of them has. */
  shown: readonly Shown[];
  older: number;
  stages: readonly Stage[];
  today: string;
  /** Planned or done within this week and the next, by day. */
  week: readonly Shown[];
  next: Next;
  onOpen: (batch: string) => void;
  onOlder: () => void;
  onNewBatch: () => void;
  onNewLot: () => void;
  onLater: () => void;
  onOpening: () => void;
}

const dayOn = (day: string | null, today: string): string =>
  day === null ? "" : day === today ? words.today : dayWords(day);

export function Batches(p: BatchesProps) {
  return (
    <Page
      title={words.title}
      sub={p.sub}
      next={p.next}
      extra={[
        { label: words.writeUp, onTake: p.onLater },
        { label: words.newBatch, onTake: p.onNewBatch },
      ]}
    >
      {p.shown.length === 0 && <p>{words.none}</p>}
      {p.shown.length > 0 && (
        <div class="batches-columns">
          <StageColumns
            caption={words.caption}
            corner={words.corner}
            stages={p.stages.map((code) => ({ code, label: stageHeads[code] }))}
            rows={p.shown.map((one) => ({
              key: one.batch.id,
              label: (
                <button type="button" class="bag-button" {...press(() => p.onOpen(one.batch.id))}>
                  <BagLabel label={one.label} day={dayOn(one.batch.plannedDay, p.today)} />
                  <span class="heard">, {words.open}</span>
                </button>
              ),
              stages: p.stages.map((code) => {
                const at = one.stands.stages.find((stage) => stage.stage === code);
                return { passed: at?.passed ?? null, here: at?.lying ?? 0 };
              }),
            }))}
          />
        </div>
      )}
      {p.older > 0 && <Scribed wide label={words.showOlder} sub={words.older(p.older)} onTake={p.onOlder} />}
      {p.week.length > 0 && (
        <div class="laptop-only">
          <Week {...p} />
        </div>
      )}
      <div class="side-by-side">
        <Scribed label={words.newLot} sub={words.lotsSub} onTake={p.onNewLot} />
        <Scribed label={words.opening} onTake={p.onOpening} />
      </div>
    </Page>
  );
}

/** The laptop has room for the week's batches as a table. */
function Week(p: BatchesProps) {
  const c = words.columns;
  return (
    <Table
      caption={words.week}
      columns={[
        { head: c.day },
        { head: c.batch },
        { head: c.lot },
        { head: c.wanted, figure: true },
        { head: c.start, figure: true },
        { head: c.good, figure: true },
        { head: c.stands },
        { head: c.next },
      ]}
      rows={p.week.map((one) => ({
        key: one.batch.id,
        ringed: false,
        cells: [
          dayOn(one.batch.plannedDay, p.today),
          one.label,
          one.lot?.label ?? "",
          one.batch.wantedGood === null ? "" : number(one.batch.wantedGood),
          one.batch.pieces === null ? "" : number(one.batch.pieces),
          one.stands.stages.some((stage) => stage.stage === "profiled" && stage.passed !== null)
            ? number(one.stands.good)
            : "",
          standsAt(one.stands),
          one.stands.next
            ? `${stageHeads[one.stands.next.stage]}: ${pieceCount(one.stands.next.pieces)}`
            : "",
        ],
      }))}
    />
  );
}

/** "28 shaped": the furthest stage that anything came through. */
export function standsAt(stands: Stands): string {
  const furthest = [...stands.stages].reverse().find((stage) => stage.lying > 0);
  return furthest ? words.stood(furthest.lying, furthest.stage) : words.planned;
}
