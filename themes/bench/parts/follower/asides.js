// Screens beside the run: a note, handing it over, a run that is kept or open elsewhere, a link that cannot be opened. None of them moves the run.
import { form, mainWay, notice, submit, way } from "./choices.js";
import { copyText } from "./copy.js";
import { make } from "./make.js";
import { conditionName, rawRecord, recordText } from "./record.js";
import { ago, labelOf } from "./start-screen.js";
import { say } from "./words.js";

/** @typedef {import("./screens.js").View} View */
/** @typedef {{name: string, [key: string]: any}} Aside */

/** @param {View} view @param {Aside} aside @returns {import("./screens.js").Drawing} */
export function drawAside(view, aside) {
  return /** @type {Record<string, (view: View, aside: Aside) => import("./screens.js").Drawing>} */ (ASIDES)[aside.name](view, aside);
}

const ASIDES = { note, packet, elsewhere, closed, refusedLink };

/** @param {View} view */
function note({ send, close }) {
  const area = make("textarea", { id: "follower-note", name: "note", class: "follower__record", rows: 3, maxlength: 200, "aria-describedby": "follower-note-help" });
  const body = [make("label", { for: "follower-note", class: "follower__recordname" }, say("note-label")), area, make("p", { class: "follower__small", id: "follower-note-help" }, say("note-help"))];
  const sent = form((answers) => { close(); send({ type: "note", text: String(answers.get("note") ?? "") }); });
  return { kind: say("note-saved"), title: say("note-title"), body, ways: [submit(say("note-save")), way(say("close"), close)], form: sent };
}

/** Filled in by the script that makes links, when it is there. @param {View} view @param {Aside} aside */
function packet({ flow, state, close }, { failed }) {
  const into = make("div", { class: "follower__packet", "data-packet": true }, make("p", {}, say(failed ? "packet-failed" : "packet-loading")));
  if (failed) into.append(copyText("follower-record", say("record"), recordText(flow, state), say("copy")));
  return { kind: say("kind-packet"), title: say("packet-title"), body: [into], ways: [way(say("close"), close)] };
}

/** @param {View} view @param {Aside} aside */
function elsewhere({ flow, state, shelf }, { free, take, typed, other }) {
  const where = say(free ? "elsewhere-free" : "elsewhere-held", { label: labelOf(state), ago: ago(shelf.wall - state.touched.wall) });
  const body = [notice(say(typed ? "same-machine" : "elsewhere-why", { serial: state.about.serial, label: labelOf(state) })), make("p", { "data-where": free ? "free" : "held" }, where), copyText("follower-record", say("record"), recordText(flow, state), say("copy"))];
  const leave = typed ? way(say("same-machine-not"), other) : way(say("closed-new"), () => shelf.open(null));
  return { kind: say("kind-elsewhere"), title: say(typed ? "same-machine-title" : "elsewhere-title"), body, ways: [mainWay(say("elsewhere-take"), take), leave] };
}

/** A run that has ended, or cannot go on: its record, and nothing of its steps. @param {View} view @param {Aside} aside */
function closed({ flow, shelf }, { why, saved }) {
  const text = why === "edition" ? rawRecord(saved) : recordText(flow, saved);
  const holds = why === "edition" ? [] : saved.facts.holds.map((/** @type {string} */ id) => make("li", {}, conditionName(flow, id)));
  const left = holds.length > 0 ? make("div", { class: "follower__left" }, make("h3", {}, say("machine-left")), make("ul", {}, ...holds)) : null;
  const body = [make("p", {}, say(`closed-${why}-why`)), left, copyText("follower-record", say("record"), text, say("copy"), 12)].filter((one) => one !== null);
  return { kind: say("kind-closed"), title: say(`closed-${why}`), body, ways: [way(say("closed-new"), () => shelf.open(null))] };
}

/** @param {View} view @param {Aside} aside */
function refusedLink({ shelf }, { reason, id, revision, text, same }) {
  // The id comes out of an address that anybody may have written.
  const there = reason === "procedure" && /^[a-z0-9-]+$/.test(id) ? make("p", {}, make("a", { class: "follower__link", href: `${id}.html#run=${text}` }, say("packet-open-there", { id }))) : null;
  const own = same && same.procedure === shelf.procedure ? [mainWay(say("same-machine-open"), () => shelf.open(same.id))] : [];
  const other = same && same.procedure !== shelf.procedure ? make("p", {}, make("a", { class: "follower__link", href: `${same.procedure}.html#open=${same.id}` }, say("same-machine-open"))) : null;
  const body = [make("p", { class: "follower__do" }, say(`packet-refused-${reason}`, { revision })), there, other].filter((one) => one !== null);
  return { kind: say("kind-hand-over"), title: say("packet-refused"), body, ways: [...own, way(say("closed-new"), () => shelf.open(null))] };
}
