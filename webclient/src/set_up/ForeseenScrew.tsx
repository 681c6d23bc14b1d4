/** How far, and which way? Said from measured pieces once several agree; before that, by the thread alone. */
import type { ComponentChildren } from "preact";
import { ScrewTurn } from "../drawings/ScrewHead";
import { flag, num } from "../logbook/read";
import { slip } from "../logbook/slips";
import { logbook } from "../logbook/state";
import { go } from "../route";
import { Scribed } from "../workshop";
import {
  AGREEING,
  alike,
  clockwiseDegrees,
  effectOf,
  handTurn,
  lowered_mm,
  type Move,
  moveFor,
  offBy,
  type Point,
  stoodSince,
} from "./foreseen_rules";
import { readingsOf } from "./foreseen_state";
import * as words from "./foreseen_words";
import { type Machine, readSetting, type Stop } from "./model";
import { pitch_mm, settingsOf } from "./rules";
import { goes_to, height, lock_nut, per_turn, stands_now } from "./words";

export interface ScrewFacts {
  machine: Machine;
  what: "middle_stop" | "shoulder_stop";
  /** where it is told why already */
  bare?: boolean | undefined;
  /** takes the turn over, and draws it itself: turns, clockwise positive */
  onTurns?: ((turns: number) => void) | undefined;
}

/** On the page on which a screw is moved, with the way to measure a piece. */
export function ForeseenScrew(p: ScrewFacts & { from: Stop | null; to: Stop }) {
  return (
    <section class="stack">
      <HeightLine {...p} />
      <ScrewAdvice {...p} />
      <Scribed
        wide
        label={words.measure}
        sub={words.measureSub}
        onTake={() => go("evidence", "reading", p.machine.id)}
      />
    </section>
  );
}

/** What the screw's thread says of the way from one position to the next. */
function HeightLine(p: ScrewFacts & { from: Stop | null; to: Stop }) {
  const point = p.what === "middle_stop" ? "middle" : "shoulder";
  const thread = p.machine[`${point}_thread`];
  const down = lowered_mm(p.from, p.to, thread, p.machine[`${point}_lowers`]);
  const pitch = thread === null ? null : pitch_mm(thread);
  return (
    <>
      {down !== null && Math.abs(down) > 0.0005 && (
        <p>
          <strong>{words.moves(height(down), down > 0)}</strong>
        </p>
      )}
      {p.to.way === "turns" && (
        <p>{pitch === null ? words.no_thread : per_turn(height(pitch), height(pitch / 8))}</p>
      )}
    </>
  );
}

/** What is known of one point of a machine; to be called where it is rendered. */
export function screwNow(machine: Machine, point: Point) {
  const settings = settingsOf(
    machine.id,
    logbook.rows("setting").flatMap((row) => readSetting(row) ?? []),
  );
  const thread = machine[`${point}_thread`];
  const body = slip("screw", `${machine.id}/${point}`)?.body;
  const raised = body?.["last_raised"];
  const row = logbook.row("machine", machine.id);
  const wanted = num(row, `${point}_wanted_mm`);
  return {
    readings: alike(readingsOf(machine.id, point), stoodSince(settings, point)),
    wanted: wanted !== null && wanted > 0 ? wanted : null,
    wantedWet: flag(row, `${point}_wanted_wet`) !== false,
    effect: effectOf(body),
    lastRaised: typeof raised === "boolean" ? raised : null,
    pitch: thread === null ? null : pitch_mm(thread),
    lowers: machine[`${point}_lowers`],
    stop: settings[0]?.[`${point}_stop`] ?? null,
  };
}

export function ScrewAdvice(p: ScrewFacts) {
  const point: Point = p.what === "middle_stop" ? "middle" : "shoulder";
  const now = screwNow(p.machine, point);
  const { readings, wanted, effect, pitch } = now;
  if (readings.length === 0)
    return (
      <Quiet>
        {pitch === null
          ? words.noThread
          : words.aHundredth((360 * 0.01) / pitch / effect.effect, effect.moves)}
      </Quiet>
    );
  if (wanted === null) return <Quiet>{words.noWanted}</Quiet>;
  if (readings.at(-1)?.wet !== now.wantedWet) return <Quiet>{words.otherwise(now.wantedWet)}</Quiet>;
  const values = readings.map(({ value_mm }) => value_mm);
  const off = offBy(values, wanted, effect.piece_mm);
  if (off === null) return <Quiet>{words.more(AGREEING - values.length)}</Quiet>;
  const move = moveFor(values, wanted, effect, now.lastRaised);
  if (move === null)
    return (
      <Quiet>
        {Math.abs(off.off) < 0.01 || off.error < 0.01
          ? words.leave(off.pieces, wanted)
          : words.scatter(off.pieces)}
      </Quiet>
    );
  return <Turn {...p} point={point} move={move} now={now} />;
}

const Quiet = (p: { children: ComponentChildren }) => (
  <p class="quiet" role="status">
    {p.children}
  </p>
);

function Turn(p: ScrewFacts & { point: Point; move: Move; now: ReturnType<typeof screwNow> }) {
  const { move, point, now } = p;
  const why = !p.bare && (
    <Scribed wide label={words.why} onTake={() => go("evidence", "screw", p.machine.id, point)} />
  );
  if (now.pitch === null || now.lowers === null)
    return (
      <>
        <p role="status">
          {words.off(move, point)} <strong>{words.goes(move)}</strong> ({words.heightRange(move)},{" "}
          {words.from(now.effect.moves)}).
        </p>
        <Quiet>{words.onlyHeight}</Quiet>
        {why}
      </>
    );
  const { pitch, lowers } = now;
  const [exact = 0, low = 0, high = 0] = [move.raise_mm, move.low_mm, move.high_mm].map((height) =>
    clockwiseDegrees(height, pitch, lowers),
  );
  const hand = handTurn(exact);
  if (hand.sixteenths === 0)
    return (
      <>
        <Quiet>
          {words.off(move, point)} {words.tooLittle}
        </Quiet>
        {why}
      </>
    );
  const said = words.turn(point, exact, hand);
  const stood = now.stop?.way === "turns" ? now.stop.value * 8 : 0;
  return (
    <>
      <p role="status">
        {words.off(move, point)} <strong>{said}</strong>
      </p>
      <p>
        {words.turnRange(low, high)}, {words.from(now.effect.moves)}. {words.goes(move)}.
      </p>
      {!p.onTurns && (
        <div class="screw-drawn">
          <ScrewTurn
            eighths={stood}
            by={hand.sixteenths / 2}
            nowWords={stands_now}
            thenWords={goes_to}
            nutWords={lock_nut}
            title={said}
          />
        </div>
      )}
      {p.onTurns && now.stop?.way === "turns" && (
        <Scribed
          wide
          label={words.setSo}
          onTake={() => {
            p.onTurns?.(hand.sixteenths / 16);
            window.scrollTo(0, 0); // the head that has turned stands there
          }}
        />
      )}
      {why}
    </>
  );
}
