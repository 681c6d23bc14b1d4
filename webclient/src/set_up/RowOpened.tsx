/** One row of the slip, opened: what to look at, how much is right, and which is yours. */
import { EdgeToLight } from "../drawings/EdgeToLight";
import { Projection } from "../drawings/Projection";
import { ScrewTurn } from "../drawings/ScrewHead";
import { ScrapChip } from "../drawings/setup_marks";
import { lengthFigure } from "../language/length";
import { go } from "../route";
import { usePedal } from "../wet_hands/pedal";
import { Caution, Page, Scribed } from "../workshop";
import { OilCaution } from "../workshop/Cautions";
import { ForeseenSlot } from "../workshop/foreseen_slot";
import type { What } from "./model";
import { rows, wrongs } from "./row_words";
import { RowMark, rowLabel, rowSub, type SetUpFacts } from "./SetUp";
import { answer } from "./state";
import * as words from "./words";
import "./screen.css";

export function RowOpened(p: { facts: SetUpFacts; what: What }) {
  const { facts, what } = p;
  const isOilDue = what === "pivot" && facts.changed.has(what);
  const label = isOilDue ? words.oiled : rows[what].good;
  const say = (isOiled: boolean): void => {
    answer(facts.at, { [what]: "good" }, isOiled);
    go("set-up");
  };
  const good = (): void => say(true);
  const notLooked = (): void => {
    answer(facts.at, { [what]: "not_looked" });
    go("set-up");
  };
  const wrong = (code: string): void => {
    answer(facts.at, { [what]: "needs_work" });
    go("set-up", what, code);
  };
  usePedal({
    main: { label, onTake: good },
    ring: [{ label: words.not_looked, onTake: notLooked }],
  });
  const next = { label, sub: isOilDue ? words.row_is_good : rows[what].good_sub, onTake: good };
  return (
    <Page title={rowLabel(what, facts)} sub={rowSub(what, facts)} bench next={next}>
      {what === "edge" ? (
        <>
          {facts.blade && <ForeseenSlot of="edge" with={{ blade: facts.blade.id, short: true }} />}
          <EdgeSides onGood={good} onWrong={wrong} />
        </>
      ) : what === "projection" ? (
        <ProjectionSides facts={facts} onWrong={wrong} />
      ) : (
        <OtherSides facts={facts} what={what} onWrong={wrong} />
      )}
      {isOilDue && <Scribed wide label={words.not_oiled} onTake={() => say(false)} />}
      <Scribed wide label={words.not_looked} ring={words.not_looked} onTake={notLooked} />
    </Page>
  );
}

function EdgeSides(p: { onGood: () => void; onWrong: (code: string) => void }) {
  return (
    <>
      <h2>{rows.edge.look}</h2>
      <div class="stack sides-drawn">
        <Scribed
          wide
          label={words.straight}
          sub={words.straight_sub}
          drawing={<EdgeToLight seen="straight" width={168} />}
          onTake={p.onGood}
        />
        {wrongs.edge.map(({ code, label, sub }) => (
          <Scribed
            key={code}
            wide
            label={label}
            sub={sub}
            drawing={<EdgeToLight seen={code === "nicked" ? "nicked" : "hollow"} width={168} />}
            onTake={() => p.onWrong(code)}
          />
        ))}
      </div>
      <Caution order={words.fingers_edge} text={words.fingers_edge_text} />
    </>
  );
}

function ProjectionSides(p: { facts: SetUpFacts; onWrong: (code: string) => void }) {
  const feeler = lengthFigure(p.facts.setting?.projection_mm ?? 0.05, 2);
  return (
    <>
      <p>
        {rows.projection.look} {rows.projection.tolerance}
      </p>
      <Projection edgeWords={words.straight_edge} feelerWords={words.feeler(feeler)} soleWords={words.sole} />
      <p class="scrap-line">
        <strong>{words.or_scrap}</strong>
        <span class="quiet">{words.not_to_scale}</span>
      </p>
      <p class="scrap-line">
        <span class="chip">
          <ScrapChip chip="shred" /> {words.shred}
        </span>
        <span class="chip">
          <ScrapChip chip="thin" /> {words.thin_chip}
        </span>
      </p>
      <Caution order={words.fingers_clear} text={words.fingers_clear_text} />
      <div class="side-by-side">
        {wrongs.projection.map(({ code, label }) => (
          <Scribed key={code} label={label} onTake={() => p.onWrong(code)} />
        ))}
      </div>
    </>
  );
}

function OtherSides(p: { facts: SetUpFacts; what: What; onWrong: (code: string) => void }) {
  const { facts, what } = p;
  const stop =
    what === "middle_stop"
      ? facts.setting?.middle_stop
      : what === "shoulder_stop"
        ? facts.setting?.shoulder_stop
        : undefined;
  return (
    <>
      <p>{rows[what].look}</p>
      <p>
        <strong>{rows[what].tolerance}</strong>
      </p>
      {what === "middle_stop" || what === "shoulder_stop" ? (
        <div class="screw-drawn">
          <ScrewTurn eighths={stop?.way === "turns" ? stop.value * 8 : 0} nutWords={words.lock_nut} />
        </div>
      ) : (
        <div class="mark-drawn">
          <RowMark what={what} facts={facts} />
        </div>
      )}
      {what === "pivot" && <OilCaution />}
      {(what === "scrap" || what === "template") && (
        <Caution order={words.fingers_clear} text={words.fingers_clear_text} />
      )}
      <div class="stack">
        {wrongs[what].map(({ code, label, sub }) => (
          <Scribed
            key={code}
            wide
            label={label}
            sub={sub === "" ? undefined : sub}
            onTake={() => p.onWrong(code)}
          />
        ))}
      </div>
    </>
  );
}
