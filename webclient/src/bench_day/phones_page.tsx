/** Phones: a device that is not let in joins here; on the workshop's computer others are let in. */
import { useEffect, useState } from "preact/hooks";
import { exchange, letIn } from "../exchange/state";
import { Joins } from "../pairing/Joins";
import { DeviceOpened, OnlyTold, Screen } from "../pairing/Screen";
import { askPhones, askWho, phones, who } from "../pairing/state";
import { go, route, takeBroughtCode } from "../route";
import { atMachineLines } from "./at_machines";
import { BenchRings, QuietHours } from "./calls_bench";
import { CallsByCalendar } from "./calls_calendar";
import { Calls } from "./calls_list";
import { CallsByPush } from "./calls_push";

export default function PhonesPage() {
  const [hasAsked, setAsked] = useState(false);
  const [brought, setBrought] = useState<string | null>(null);
  const [id, part] = route.value.rest;
  useEffect(() => {
    const code = takeBroughtCode();
    void askWho().then(() => {
      setAsked(true);
      if (who.peek()?.comes_in !== true) setBrought(code); // one that is in needs no code
    });
    if (phones.peek() === null) void askPhones();
  }, [route.value]);
  const me = who.value;
  if (me === null && letIn.value === "yes") return hasAsked ? <OnlyTold what="no_answer" /> : null;
  if (me === null && letIn.value === "unknown") return hasAsked ? <OnlyTold what="no_answer" /> : null;
  if (me === null || !me.comes_in)
    return (
      <Joins
        isWithdrawn={(me?.why ?? letIn.value) === "withdrawn"}
        brought={brought}
        onJoined={() => void joined()}
        onExport={() => go("records", "copies")}
      />
    );
  const maker = me.role !== "hand";
  if (id === "push") return <CallsByPush key={part} maker={maker} asks={maker && part === "off"} />;
  if (id === "bell") return <BenchRings at_machine={me.at_machine} />;
  if (!maker) return <OnlyTold what="as_hand" calls={<Calls maker={false} />} />;
  if (id === "calendar") return <CallsByCalendar key={part} asks={part} />;
  if (id === "quiet") return <QuietHours />;
  const device = phones.value?.devices.find((one) => one.id === id);
  if (device) return <DeviceOpened key={device.id} device={device} asks={part === "withdraw"} />;
  return <Screen at={atMachineLines.value} calls={<Calls maker />} />;
}

/** What waited here is sent first; then Today shows what the workshop holds. */
async function joined(): Promise<void> {
  await exchange.run();
  go("today");
}
