// Before the first step: what is asked, and the runs that are kept on this device.
import { heldElsewhere, underWay } from "../../script/runs.js";
import { alone, choice, form, modelChoices, notice, person, problem, refusals, said, submit } from "./choices.js";
import { make } from "./make.js";
import { modelName, outcomeWords } from "./record.js";
import { say, timeAt } from "./words.js";

/** @typedef {import("./screens.js").View} View */

/** What tells this run from others; each may be left out. */
const ABOUT = ["ticket", "serial", "counter"];

/** @param {View} view */
export function start(view) {
  const { flow, state, send, notices, shelf } = view;
  const about = ABOUT.map((name) => make("label", { class: "follower__field" }, make("span", {}, say(`ask-${name}`)),
    make("input", { name, class: "follower__text", maxlength: 200, autocomplete: "off", inputmode: name === "counter" ? "numeric" : null, value: state.typed[name] ?? "" })));
  const runs = runsHere(view);
  // What is under way is looked for first.
  const first = shelf.runs.some((/** @type {any} */ kept) => kept.procedure === shelf.procedure && underWay(kept.state));
  const body = [
    ...notices.map(notice), ...sameMachine(view), ...otherModel(view), ...(first ? runs : []), ...refusals(state),
    flow.models.length > 0 ? choice(state, "model", say("ask-model"), modelChoices(flow)) : null,
    person(state), alone(state),
    choice(state, "caller", say("ask-caller"), [["no", say("caller-no")], ["yes", say("caller-yes")]]),
    make("fieldset", { class: "follower__choice follower__about" }, make("legend", {}, say("about-machine")), make("p", { class: "follower__hint" }, say("about-help")), ...about),
    make("p", { class: "follower__small", "data-room": shelf.room }, say(`store-${shelf.room}`)),
    ...(first ? [] : runs),
  ].filter((one) => one !== null);
  const sent = form((answers) => send({
    type: "start", model: said(answers, "model"), person: said(answers, "person"), alone: said(answers, "alone"), caller: said(answers, "caller"),
    ...Object.fromEntries(ABOUT.map((name) => [name, String(answers.get(name) ?? "")])),
  }));
  return { kind: say("kind-start"), title: say("follow"), body, ways: [submit(say("begin"))], form: sent };
}

/** Two runs for one machine are not followed side by side. @param {View} view */
function sameMachine({ shelf }) {
  if (shelf.same === null) return [];
  const { state } = shelf.same;
  const said = problem(say("same-machine", { serial: state.about.serial, label: labelOf(state) }));
  said.append(make("br"), opener(shelf, shelf.same, say("same-machine-open")));
  return [said];
}

/** The serial number was another model's on this device. @param {View} view */
function otherModel({ flow, state, shelf }) {
  return shelf.doubt === null ? [] : [problem(say("other-model", { serial: state.typed.serial, model: modelName(flow, shelf.doubt.was) }))];
}

/** @param {any} state */
export function labelOf(state) {
  return state.about?.ticket || state.about?.serial || say("run-untitled", { day: new Date(state.log[0]?.at ?? state.touched.wall).toISOString().slice(0, 10) });
}

/** A run of this procedure opens here, one of another on its own page. @param {any} shelf @param {any} kept @param {string} words */
function opener(shelf, kept, words) {
  if (kept.procedure !== shelf.procedure) return make("a", { class: "follower__link", href: `${kept.procedure}.html#open=${kept.id}` }, words);
  return make("button", { type: "button", class: "follower__minor", "data-open": kept.id, click: () => shelf.open(kept.id) }, words);
}

/** @param {View} view @returns {Node[]} */
function runsHere(view) {
  const { shelf } = view;
  const own = shelf.runs.filter((/** @type {any} */ kept) => kept.procedure === shelf.procedure);
  const others = shelf.runs.filter((/** @type {any} */ kept) => kept.procedure !== shelf.procedure);
  const list = (/** @type {any[]} */ runs, /** @type {string} */ title) =>
    runs.length === 0 ? [] : [make("h3", { class: "follower__part" }, title), make("ul", { class: "follower__runs" }, ...runs.map((kept) => row(view, kept)))];
  return [...list(own, say("runs-here")), ...list(others, say("runs-other"))];
}

/** @param {View} view @param {any} kept */
function row({ flow, shelf }, kept) {
  const { state } = kept;
  const ended = state.log.findLast((/** @type {any} */ entry) => entry.what === "ending" && entry.depth === 0);
  const stands = kept.procedure === shelf.procedure && state.edition !== flow.edition ? say("run-edition")
    : heldElsewhere(shelf.store, kept.procedure, kept.id, shelf.tab, shelf.wall) ? say("run-elsewhere")
    : !underWay(state) ? `${say("run-over")}${ended ? `: ${outcomeWords(ended.outcome)}` : ""}`
    : state.screen.name === "hand-over" ? say("run-stopped")
    : shelf.waitsHere(kept) ? waits(state)
    : say("run-answers", { count: state.path.length });
  const title = kept.procedure === shelf.procedure ? null : make("span", {}, state.title ?? kept.procedure);
  let sure = false;
  const forget = make("button", { type: "button", class: "follower__minor", "data-forget": kept.id, click: () => {
    if (sure) return shelf.forget(kept);
    sure = true;
    forget.textContent = say("run-forget-sure");
  } }, say("run-forget"));
  return make("li", { class: "follower__run" }, make("span", { class: "follower__runname" }, make("strong", {}, labelOf(state)), title, make("span", { class: "follower__small" }, `${stands}, ${ago(shelf.wall - state.touched.wall)}`)),
    opener(shelf, kept, say("run-open")), forget);
}

/** When a run that was left waiting on this page may go on. @param {any} state */
function waits({ wait, last }) {
  const left = wait.needed - wait.counted - (performance.now() - last.running);
  return left <= 0 ? say("run-waited") : say("run-waits", { time: timeAt(Date.now() + left) });
}

/** @param {number} ms */
export function ago(ms) {
  const minutes = Math.max(0, Math.floor(ms / 60_000));
  if (minutes < 120) return say("ago-minutes", { count: minutes });
  return minutes < 48 * 60 ? say("ago-hours", { count: Math.floor(minutes / 60) }) : say("ago-days", { count: Math.floor(minutes / 1440) });
}
