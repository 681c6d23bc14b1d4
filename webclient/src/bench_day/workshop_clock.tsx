/** The clock on the workshop's wall at a moment: drawn by the workshop's time zone, not the phone's. */
import { ClockFace } from "../drawings/ClockFace";
import { timeZone } from "../language/format";

export function WorkshopClock(p: { ms: number }) {
  const parts = new Intl.DateTimeFormat("en-US", {
    hour: "numeric",
    minute: "numeric",
    hourCycle: "h23",
    timeZone: timeZone.value,
  }).formatToParts(p.ms);
  const part = (type: string): number => Number(parts.find((each) => each.type === type)?.value ?? 0);
  return <ClockFace hour={part("hour")} minute={part("minute")} />;
}
