/** Phones: let one in, and which devices may come in. On the workshop's computer, or on a maker's own. */
import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";
import { minute, now, second } from "../clock";
import { go } from "../route";
import { press } from "../wet_hands/press";
import { Check, Choice, Page, Question, Scribed, TextField } from "../workshop";
import type { Code, PairedDevice, Role } from "./model";
import { goodFor_min } from "./rules";
import {
  askPhones,
  askWayIn,
  change,
  endCode,
  makeCode,
  phones,
  switchWayIn,
  wayIn,
  who,
  withdraw,
} from "./state";
import * as words from "./words";
import "./own_style";

const AGAIN_MS = 5000;
const toPhones = (): void => go("phones");

/** `calls`: what calls beyond this phone. */
export function Screen(p: { at: readonly string[]; calls: ComponentChildren }) {
  const [code, setCode] = useState<Code | null>(null);
  const [role, setRole] = useState<Role>("maker");
  const [told, setTold] = useState<string | null>(null);
  useEffect(() => {
    void askPhones();
    if (who.peek()?.at_machine) void askWayIn();
    const again = setInterval(() => void askPhones(), AGAIN_MS); // a phone that has just joined is seen here
    return () => clearInterval(again);
  }, []);
  const make = async (): Promise<void> => {
    const said = await makeCode(role);
    await askPhones();
    setCode(said.ok ? said.body : null);
    setTold(said.ok ? null : words.no_code);
  };
  const end = (): void => {
    void endCode();
    setCode(null);
  };
  const list = phones.value?.devices ?? [];
  return (
    <Page
      title={words.phones}
      sub={words.phones_sub}
      next={{
        label: code === null ? words.let_one_in : words.new_code,
        sub: words.let_one_in_sub,
        onTake: () => void make(),
      }}
    >
      <p role="status" class="alarm">
        {told}
      </p>
      {code !== null && <Shown code={code} left={phones.value?.figures_left ?? null} onEnd={end} />}
      {who.value?.at_machine && <TheWayIn onTold={setTold} />}
      <Choice
        tiles
        legend={words.which_role}
        value={role}
        onChange={setRole}
        options={[
          { value: "maker", label: words.for_maker, sub: words.for_maker_sub },
          { value: "hand", label: words.for_hand, sub: words.for_hand_sub },
        ]}
      />
      {p.at.length > 0 && (
        <section>
          <h2>{words.at_machines}</h2>
          {p.at.map((line) => (
            <p key={line}>{line}</p>
          ))}
        </section>
      )}
      <section>
        <h2>{words.devices}</h2>
        {list.length === 0 && <p>{words.nobody}</p>}
        <ul class="pairing-list">
          {list.map((one) => (
            <li key={one.id}>
              <button type="button" {...press(() => go("phones", one.id))}>
                <strong>{one.name}</strong>
                <span>{lineOf(one, minute.value)}</span>
              </button>
            </li>
          ))}
        </ul>
      </section>
      {p.calls}
      <Scribed wide label={words.back} onTake={() => go("machine")} />
    </Page>
  );
}

/** The second door, for phones; and where one begins that was never here: open until the first has joined. */
function TheWayIn(p: { onTold: (words: string | null) => void }) {
  const way = wayIn.value;
  const [opened, setOpened] = useState<boolean | null>(null);
  if (way === null) return null;
  const begin = way.begins[0];
  const joined = phones.value?.devices.some((one) => one.withdrawn === null);
  const isOpen = opened ?? joined === false;
  return (
    <>
      <Check
        label={words.reachable}
        sub={way.on ? (phones.value?.address ?? "") : words.reachable_sub}
        checked={way.on}
        onChange={(on) => void switchWayIn(on).then((said) => p.onTold(said.ok ? null : words.not_switched))}
      />
      {way.on && begin && (
        <section class="stack">
          <Scribed wide label={words.never_here} chosen={isOpen} onTake={() => setOpened(!isOpen)} />
          {isOpen && (
            <>
              <p>{words.never_here_sub}</p>
              <Square svg={begin.square} />
              <p>{begin.address}</p>
              {way.fingerprint !== null && (
                <p>
                  {words.both_show} <strong>{way.fingerprint}</strong>
                </p>
              )}
            </>
          )}
        </section>
      )}
    </>
  );
}

export function Square(p: { svg: string; said?: string }) {
  const src = `data:image/svg+xml,${encodeURIComponent(p.svg)}`;
  return <img class="pairing-square" alt={p.said ?? words.square_said} src={src} />;
}

function lineOf(one: PairedDevice, time: number): string {
  const when =
    one.withdrawn === null
      ? words.seen(Date.parse(one.seen), time)
      : words.withdrawn_on(Date.parse(one.withdrawn));
  return [words.role[one.role], ...(one.is_this ? [words.this_one] : []), when].join(", ");
}

/** Gone from the screen once it was used. */
function Shown(p: { code: Code; left: number | null; onEnd: () => void }) {
  const left = goodFor_min(p.code.ends, Math.max(second.value, now()));
  if (left === 0 || p.left === null) return <p class="pairing-order">{words.over}</p>;
  return (
    <section class="pairing-code" aria-label={words.let_one_in}>
      {p.code.square !== null && (
        <>
          <p class="pairing-order">{words.read_it}</p>
          <Square svg={p.code.square} />
        </>
      )}
      <p>{p.left === 0 ? words.figures_void : words.six_figures}</p>
      {p.left > 0 && (
        <p class="pairing-figures">
          {p.code.figures.slice(0, 3)} {p.code.figures.slice(3)}
        </p>
      )}
      <p>
        {words.good_for(left)}, {words.role[p.code.role]}
      </p>
      <Scribed wide label={words.end_it} sub={words.end_it_sub} onTake={p.onEnd} />
    </section>
  );
}

export function DeviceOpened(p: { device: PairedDevice; asks: boolean }) {
  const { device } = p;
  const [name, setName] = useState(device.name);
  const [role, setRole] = useState<Role>(device.role);
  const [told, setTold] = useState<string | null>(null);
  const after = (done: { ok: boolean }): void => (done.ok ? toPhones() : setTold(words.not_done));
  if (p.asks)
    return (
      <Question
        title={words.ask_withdraw(device.name)}
        sub={told}
        sides={[
          {
            label: words.withdraw,
            sub: words.withdraw_sub,
            onTake: () => void withdraw(device.id).then(after),
          },
        ]}
        meanwhile={words.withdraw_meanwhile}
        next={{ label: words.leave_it, sub: words.leave_it_sub, onTake: () => go("phones", device.id) }}
      />
    );
  const isOut = device.withdrawn !== null;
  return (
    <Page
      title={device.name}
      sub={lineOf(device, minute.value)}
      next={{
        label: words.keep,
        disabled: name.trim() === "" || isOut,
        onTake: () => void change(device.id, { name, role }).then(after),
      }}
    >
      <p role="status" class="alarm">
        {told}
      </p>
      {!isOut && (
        <>
          <TextField label={words.its_name} value={name} maxLength={60} onChange={setName} />
          <Choice
            tiles
            legend={words.its_role}
            value={role}
            onChange={setRole}
            options={[
              { value: "maker", label: words.for_maker, sub: words.for_maker_sub },
              { value: "hand", label: words.for_hand, sub: words.for_hand_sub },
            ]}
          />
          <Scribed
            wide
            label={words.withdraw}
            sub={words.withdraw_sub}
            onTake={() => go("phones", device.id, "withdraw")}
          />
        </>
      )}
      {isOut && (
        <Scribed
          wide
          label={words.take_off}
          sub={words.take_off_sub}
          onTake={() => void withdraw(device.id).then(after)}
        />
      )}
      <Scribed wide label={words.phones} sub={words.phones_sub} onTake={toPhones} />
    </Page>
  );
}

/** Nobody answers, or this one is no maker: what is so, and the way back. */
export function OnlyTold(p: { what: "no_answer" | "as_hand"; calls?: ComponentChildren }) {
  const isHand = p.what === "as_hand";
  return (
    <Page
      title={words.phones}
      sub={words.phones_sub}
      next={{ label: words.back, onTake: () => go("machine") }}
    >
      <p class="pairing-order">{isHand ? words.as_hand : words.no_answer}</p>
      <p>{isHand ? words.as_hand_sub : words.no_answer_sub}</p>
      {p.calls}
    </Page>
  );
}
