/** The words of what calls beyond this phone: messages by push, the calendar, the bell at the bench. */
import { clockTime, day } from "../language/format";
import type { Pushed } from "./push";

export const calls = "What else calls you";
export const not_answered = "the workshop does not answer";
export const not_done = "That was not done: the workshop did not answer. Try again on its network.";
export const back = "Back to Phones";
export const back_sub = "who may come in";
export const leave_it = "Leave it as it is";

export const push = "Messages by push";
export const push_sub = "only with internet";
export const push_state = (on: boolean, here: boolean, devices: number): string =>
  !on ? "off" : here ? "on, this device too" : `on, ${devices === 0 ? "no device yet" : "not this device"}`;
export const push_needs = "It needs the internet, here and at the workshop. The bell needs neither.";
export const push_goes =
  "Each message goes through the service of whoever made this device's browser. It is sealed: the service learns when one is sent, and to which device, not what it says.";
export const push_calls = "It calls when a soak is ready and when care comes due.";
export const push_on = "Turn it on";
export const push_on_sub = "for the workshop; each device then says yes";
export const push_makers = "The maker turns it on, here in Phones.";
export const contact = "An e-mail address for the services";
export const contact_sub = "may be left out; some services take no message without one";
export const contact_wrong = "That is no e-mail address.";
export const push_here = "Send them to this device";
export const push_here_sub = "it asks you: allow it";
export const asking_device = "The device is asked ...";
export const push_try = "Try it";
export const push_try_sub = "one message to this device";
export const push_under_way = "A message is on its way.";
export const push_gone = "The workshop has this device no more: say yes to it again.";
export const did_it_come = "Did it come?";
export const it_came = "It came";
export const it_did_not_come = "It did not";
export const came_now = "It came: this device is reached.";
export const handed_over = "The service took it; it has not come to this device yet.";
export const not_handed_over = (why: string): string => `The workshop could not send it: ${why}.`;
export const did_not_come_why =
  "Is this device on the internet, and may the browser show messages? Until one has come, nothing is promised of it.";
export const push_stop = "No more to this device";
export const push_stop_sub = "the others go on";
export const push_off = "Turn it off";
export const push_off_sub = "for the workshop";
export const ask_push_off = "Turn messages by push off?";
export const push_off_yes_sub = "every device says yes again, should it be turned on";
export const push_off_meanwhile = "Bells ring as before.";
export const push_off_leave_sub = "messages go on";
export const push_devices = "Devices that get them";
export const some_device = "a device";
export const this_device = "this one";
export const device_went = (service: string, well: string | null, wrong: string | null): string =>
  wrong !== null
    ? `${service}: ${wrong}`
    : well !== null
      ? `${service}, last taken ${day(well)}, ${clockTime(well)}`
      : `${service}, none sent yet`;

export const pushed: Readonly<Record<Pushed, string>> = {
  on: "Messages come to this device from now on. Try it.",
  elsewhere: "The workshop has turned it off.",
  refused: "This device refused. Allow messages from this page in its settings, then try again.",
  missing: "This browser takes no messages by push.",
  not_installed:
    "On this phone it works only from the home screen: add Easelside to it, open it there, then come back here.",
  unreached: "No answer came. It needs the internet here, and the workshop's network.",
  no_service: "The workshop does not know this browser's service and sends nothing to it.",
};

export const calendar = "Calendar";
export const calendar_sub = "soaks, care and plans, to look at";
export const calendar_state = (since: string | null): string =>
  since === null ? "no address" : `an address since ${day(since)}`;
export const calendar_made = (since: string | null): string =>
  since === null ? "It has an address." : `Its address was made on ${day(since)}.`;
export const calendar_holds =
  "A calendar that has the address shows what is in the water, which care comes due and what is planned, with the names of batches and machines.";
export const calendar_read =
  "Whoever has the address can read that, without joining; it changes nothing here. Give it to nobody else.";
export const calendar_no_bell =
  "Calendars look now and then, some once a day: it is to look at, and rings nowhere.";
export const make_address = "Make the address";
export const make_address_sub = "a long one that nobody guesses";
export const calendar_once = "It is shown this once. Copy it, or read the QR code with the other device.";
export const calendar_here = "Other devices cannot reach this computer now: it works on this one only.";
export const calendar_trusts = "The other device must trust the workshop first, as a phone that joins does.";
export const square_said = "The address as a QR code that a camera reads";
export const the_address = "The address";
export const copy = "Copy it";
export const copied = "Copied.";
export const not_copied = "It could not be copied: select it, or read the QR code.";
export const calendar_lost =
  "It was shown when it was made. Lost? Make a new one: the one before no longer opens.";
export const new_address = "A new address";
export const new_address_sub = "the one before no longer opens";
export const ask_new = "Make a new address?";
export const withdraw = "Withdraw it";
export const withdraw_sub = "no calendar reads it any more";
export const ask_withdraw = "Withdraw the calendar's address?";
export const withdraw_meanwhile = "What a calendar has already read stays there until it looks again.";
export const leave_sub = "calendars go on reading";

export const bench = "The bench rings";
export const bench_sub = "on the workshop's computer";
export const bench_state = (there: boolean, works: boolean | null): string =>
  !there ? "by its open page" : works === false ? "its bell failed" : "by a bell of its own";
export const bench_page = "A page that stands open on the workshop's computer rings like any phone.";
export const bench_this_page = (line: string): string => `This very page: ${line}.`;
export const bench_command =
  "It also has a bell of its own, a command that it was started with. That one rings with no page open, for five minutes or until somebody silences it on any device.";
export const bench_none =
  "It was started with no bell of its own. Started like this, it rings with no page open too:";
export const bench_how = "easelside serve --bell aplay --bell bell.wav";
export const bench_went = (works: boolean | null): string =>
  works === null
    ? "It has not rung since it was started."
    : works
      ? "The last ring went well."
      : "The last ring failed: the workshop's log says why.";
export const bench_ring = "Ring at the bench";
export const bench_ring_sub = "once, to hear it";
export const bench_rings_now = "It rings at the bench ...";
export const did_it_ring = "Was it heard there?";
export const heard_line = "heard there";
export const quiet_hours = "Quiet hours";
export const quiet_state = ({ from, until }: { from: string | null; until: string | null }): string =>
  `${from === null || until === null ? "none yet" : `${from} to ${until}`}; for the bench's bell and push`;
export const quiet_sub =
  "The bench's bell and push keep still then, but for a soak that was put in during them.";
export const quiet_from = "From";
export const quiet_until = "Until";
