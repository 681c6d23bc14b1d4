/** Which blade goes out, which comes in, what does that undo, and when was it really? */
import { useState } from "preact/hooks";
import { ProjectionMark } from "../drawings/Projection";
import { ScrewHead } from "../drawings/ScrewHead";
import { Tally } from "../drawings/Tally";
import { number } from "../language/format";
import { Caution, Page, Scribed, Stepper, TextField } from "../workshop";
import { EdgeCaution, ManualFirst } from "../workshop/Cautions";
import type { ChangeWarning } from "./rules";
import { UNDONE_BY_A_CHANGE } from "./rules";
import type { When } from "./state";
import { cutWords, NewBlade, WhichIn } from "./WhichBlade";
import * as words from "./words";
import "./screen.css";

/** What a session cut of a batch, or a tally, within or after which the change may have been. `after`: the instant after its last piece. */
export interface Stretch {
  record: string;
  name: string;
  day: string;
  pieces: number;
  /** How many of the batch came off before them; what they are in the record, where they are not its first. */
  before?: number;
  numbers?: readonly number[];
  after: string;
  under_way: boolean;
}

export interface BladeAt {
  id: string;
  label: string;
  pieces: number;
}

export interface ChangeFacts {
  machine: { id: string; name: string };
  /** The instant, ready to read. */
  at: string;
  out: BladeAt | null;
  /** Blades that lie ready, those with a fresh edge first. */
  ready: readonly BladeAt[];
  warnings: readonly ChangeWarning[];
  /** The newest stretches on this machine, newest first. */
  stretches: readonly Stretch[];
}

export interface ChangeDoes {
  onFit: (blade: string, when: When | "now") => void;
  onNewBlade: (label: string) => string;
  onTakeOut: () => void;
  onLeave: () => void;
  /** A day and a time as the fields write them, as an instant. */
  instantOf: (day: string, time: string) => string | null;
}

export function BladeChange(p: { facts: ChangeFacts; does: ChangeDoes }) {
  const { facts, does } = p;
  const [picked, setPicked] = useState<string | null>(null);
  const into = facts.ready.find((blade) => blade.id === picked) ?? facts.ready[0] ?? null;
  const [adding, setAdding] = useState(false);
  const [choosing, setChoosing] = useState(false);
  if (into === null || adding)
    return (
      <NewBlade
        facts={facts}
        does={does}
        onPicked={(id) => {
          setPicked(id);
          setAdding(false);
        }}
      />
    );
  if (choosing)
    return (
      <WhichIn
        facts={facts}
        does={does}
        onPicked={(id) => {
          setPicked(id);
          setChoosing(false);
        }}
        onNew={() => {
          setAdding(true);
          setChoosing(false);
        }}
        onBack={() => setChoosing(false)}
      />
    );
  return <TheChange facts={facts} does={does} into={into} onOther={() => setChoosing(true)} />;
}

const keeps = (out: BladeAt): string =>
  out.pieces === 0 ? words.cut_none(out.label) : words.keeps_all(out.label, number(out.pieces));

function TheChange(p: { facts: ChangeFacts; does: ChangeDoes; into: BladeAt; onOther: () => void }) {
  const { facts, does, into } = p;
  const { out } = facts;
  const [back, setBack] = useState(0);
  const stretch = facts.stretches[back] ?? null;
  const earlier = facts.stretches[back + 1] ?? null;
  const [when, setWhen] = useState<"now" | "after" | "inside" | "day">("now");
  const [piece, setPiece] = useState(Math.max(1, Math.min(12, stretch?.pieces ?? 1)));
  const [day, setDay] = useState("");
  const [time, setTime] = useState("18:00");
  const told = when === "day" ? does.instantOf(day, time) : null;
  const take = (): void => {
    if (when === "inside" && stretch)
      does.onFit(into.id, {
        at: stretch.after,
        inside: { record: stretch.record, piece: stretch.numbers?.[piece - 1] ?? piece },
      });
    else if (when === "after" && stretch) does.onFit(into.id, { at: stretch.after, inside: null });
    else if (when === "day") told !== null && does.onFit(into.id, { at: told, inside: null });
    else does.onFit(into.id, "now");
  };
  const late = when !== "now";
  return (
    <Page
      title={words.change}
      sub={words.change_sub(facts.machine.name, facts.at)}
      next={{
        label: late ? words.change_late : out === null ? words.fit : words.change_now,
        sub: late ? words.counts_follow : words.then_set,
        onTake: take,
        disabled: when === "day" && told === null,
      }}
    >
      <h2 class="change-head">
        {out === null ? words.first_in(into.label) : words.out_in(out.label, into.label)}
      </h2>
      <Scribed
        wide
        label={words.blade(into.label)}
        sub={words.tap_other(cutWords(into))}
        onTake={p.onOther}
      />
      {out !== null && <Undoes />}
      <Warnings warnings={facts.warnings} />
      <h2>{words.when}</h2>
      <fieldset class="stack" aria-label={words.when}>
        <Scribed
          wide
          label={words.now}
          sub={out === null ? words.now_sub : keeps(out)}
          chosen={when === "now"}
          onTake={() => setWhen("now")}
        />
        {stretch && back === 0 && !stretch.under_way && (
          <Scribed
            wide
            label={words.after(stretch.day, number(stretch.pieces))}
            chosen={when === "after"}
            onTake={() => setWhen("after")}
            sub={out === null ? undefined : keeps(out)}
          />
        )}
        {stretch && stretch.pieces > 1 && (
          <Inside
            stretch={stretch}
            out={out}
            into={into}
            piece={piece}
            chosen={when === "inside"}
            onPiece={(n) => {
              setPiece(n);
              setWhen("inside");
            }}
            onTake={() => setWhen("inside")}
            also={back > 0}
          />
        )}
        {earlier && (
          <Scribed
            wide
            label={words.earlier}
            sub={words.after(earlier.name, number(earlier.pieces))}
            onTake={() => {
              setBack(back + 1);
              setPiece(Math.max(1, Math.min(12, earlier.pieces)));
              setWhen("inside");
            }}
          />
        )}
        <Scribed wide label={words.another_time} chosen={when === "day"} onTake={() => setWhen("day")} />
        {when === "day" && (
          <div class="side-by-side">
            <TextField label={words.on_day} type="date" value={day} onChange={setDay} />
            <TextField label={words.at_time} type="time" value={time} onChange={setTime} />
          </div>
        )}
      </fieldset>
      <EdgeCaution />
      <ManualFirst />
    </Page>
  );
}

function Undoes() {
  return (
    <section aria-label={words.undoes}>
      <p>{words.undoes}</p>
      <ul class="undone">
        {UNDONE_BY_A_CHANGE.map((what) => (
          <li key={what}>
            <span class="crossed">
              {what === "projection" ? (
                <ProjectionMark width={72} />
              ) : (
                <ScrewHead eighths={what === "middle_stop" ? 3 : 0} width={66} />
              )}
            </span>
            <span>{words.undone[what]}</span>
          </li>
        ))}
      </ul>
      <p>{words.afresh}</p>
    </section>
  );
}

function Warnings(p: { warnings: readonly ChangeWarning[] }) {
  return (
    <>
      {p.warnings.map((warning) =>
        warning.what === "session_under_way" ? (
          <Caution key={warning.session} order={words.under_way} />
        ) : (
          <p key={warning.label} class="alarm">
            <strong>
              {words.planned(
                warning.pieces === null ? warning.label : number(warning.pieces),
                warning.when === "today" ? words.today : words.tomorrow,
              )}
              {warning.when === "today" ? words.so_today : words.so_tomorrow}
            </strong>
          </p>
        ),
      )}
    </>
  );
}

function Inside(p: {
  stretch: Stretch;
  out: BladeAt | null;
  into: BladeAt;
  piece: number;
  chosen: boolean;
  onPiece: (n: number) => void;
  onTake: () => void;
  also: boolean;
}) {
  const { stretch, piece, out, into } = p;
  const move = stretch.pieces - piece + 1;
  const before = stretch.before ?? 0;
  return (
    <div class={p.chosen ? "inside inside-chosen" : "inside"}>
      <Scribed
        wide
        label={words.inside}
        sub={words.inside_of(stretch.name)}
        chosen={p.chosen}
        onTake={p.onTake}
      />
      <Stepper
        label={words.inside}
        value={before + piece}
        min={before + 1}
        max={before + stretch.pieces}
        onChange={(n) => p.onPiece(n - before)}
      />
      <div class="inside-tally">
        <Tally n={stretch.pieces} thread={piece - 1} />
      </div>
      <p>
        {out === null
          ? words.goes_to(number(move), into.label)
          : words.stay_move(number(piece - 1), out.label, number(move), into.label)}
      </p>
      {p.also && <p>{words.also_later}</p>}
    </div>
  );
}
