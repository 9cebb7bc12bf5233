// One function a screen: state in, elements out. Nothing is decided here; every button sends one event.
import { RAISED } from "../../script/flow-state.js";
import { fieldsOf, MOST_GAPS, MOST_READINGS, readingName, repeatable, takenReadings } from "../../script/reading.js";
import { howChecked, neverStarts, possibleModels, procedureOf, stepOf, waitMs } from "../../script/run-state.js";
import { alone, choice, form, mainWay, notice, person, problem, refusals, said, submit, way } from "./choices.js";
import { copyText } from "./copy.js";
import { alertSymbol, make } from "./make.js";
import { conditionName, hazardName, missingWords, modelName, outcomeWords, recordText } from "./record.js";
import { start } from "./start-screen.js";
import { duration, say, sayOf, timeAt } from "./words.js";

/**
 * @typedef {{flow: any, state: any, send: (event: any) => void, close: () => void, handOver: () => void, words: (procedure: string, step: any) => Node[], sign: (hazard: any) => Node | null, notices: string[], shelf: any}} View
 * @typedef {{kind: string, title: string, body: Node[], ways: Node[], form?: (form: HTMLFormElement) => void}} Drawing
 */

/** The screen that a state shows. @param {View} view @returns {Drawing} */
export function drawScreen(view) {
  const draw = /** @type {Record<string, (view: View) => Drawing>} */ (SCREENS)[view.state.screen.name];
  return draw(view);
}

const SCREENS = { start, caution, step, wait, resume, ending, "hand-over": handOver, refused };

/** @param {View} view */
function caution({ flow, state, send, sign }) {
  const hazard = flow.hazards.find((/** @type {any} */ one) => one.id === state.screen.hazard);
  const rows = ["nature", "consequence", "avoid"].filter((key) => hazard[key] !== null);
  const texts = rows.map((key) => make("div", { class: `caution__${key}` }, make("dt", {}, say(key)), make("dd", {}, hazard[key])));
  const word = make("span", { class: "caution__word" }, hazard.signalWord === "notice" ? null : alertSymbol(), say(`${hazard.signalWord}-word`));
  const panel = make("div", { class: `caution caution--${hazard.signalWord}`, "data-hazard": hazard.id },
    make("div", { class: "caution__panel" }, word, hazard.place === null ? null : make("span", { class: "caution__where" }, hazard.place)),
    make("div", { class: "caution__body" }, sign(hazard), make("dl", { class: "caution__texts" }, ...texts)));
  const aloud = state.caller ? make("div", { class: "follower__aloud" }, make("p", { class: "follower__small" }, say("read-aloud")), make("p", {}, hazard.spoken)) : null;
  const press = () => send({ type: "acknowledge", hazard: hazard.id });
  const body = [panel, aloud].filter((one) => one !== null);
  return { kind: say("kind-caution"), title: hazard.name, body, ways: [mainWay(say(state.caller ? "acknowledge-caller" : "acknowledge"), press)] };
}

/** @param {View} view */
function step(view) {
  const { flow, state, send, words } = view;
  const one = stepOf(flow, state);
  const body = [...stays(view), ...words(procedureOf(flow, state).id, one)];
  if (one.kind === "measure") return measurement(view, one, body);
  if (one.kind === "ask") {
    const ways = one.ways.map((/** @type {any} */ answer, /** @type {number} */ index) => [answer, index]).filter((/** @type {any} */ [answer]) => answer.kind === "answer" || answer.kind === "unsure");
    const buttons = ways.map((/** @type {any} */ [answer, index]) => way(answer.kind === "unsure" ? say("unsure") : answer.text, () => send({ type: "answer", way: index }), answer.kind === "unsure" ? "follower__way--unsure" : ""));
    return { kind: say("kind-ask"), title: one.text, body, ways: buttons };
  }
  const needed = waitMs(flow, state, one);
  if (one.waitFor !== null && state.facts.holds.includes(one.waitFor)) body.push(notice(say("wait-reached", { name: conditionName(flow, one.waitFor) })));
  const caller = state.frames.length > 1 && one.outcome !== null ? flow.procedures[state.frames.at(-2).procedure].title : null;
  const label = needed > 0 ? say("begin-wait", { time: duration(Math.ceil(needed / 1000)) }) : caller !== null ? say("callee-done", { title: caller }) : say("next");
  return { kind: say("kind-do"), title: one.text, body, ways: [mainWay(label, () => send({ type: needed > 0 ? "begin-wait" : "next" }))] };
}

/** What stays done after going back. @param {View} view */
function stays({ flow, state }) {
  if (state.notice?.name !== "stays-done") return [];
  const deeds = state.notice.deeds.map((/** @type {any} */ deed) => make("li", {}, flow.procedures[deed.procedure].steps[deed.step].text));
  return [make("div", { class: "follower__notice" }, make("p", {}, say("stays-done")), make("ul", {}, ...deeds))];
}

/** @param {View} view @param {any} one @param {Node[]} body @returns {Drawing} */
function measurement({ state, send }, one, body) {
  const fields = fieldsOf(one);
  const first = state.arrival.near;
  const before = first ? [make("p", { class: "follower__small" }, say("first-reading", { value: first.value ?? Object.values(first).join(" / "), unit: one.measure.unit }))] : [];
  const drawn = fields.map((field) => readingField(field, state, send, fields.length === 1 ? one.text : field.ask ?? field.id));
  const more = repeatable(one) ? [moreReadings(one, state, send)] : [];
  const unsure = one.ways.findIndex((/** @type {any} */ answer) => answer.kind === "unsure");
  const ways = [submit(say(fields.length === 1 ? "enter" : "enter-all"))];
  if (unsure >= 0) ways.push(way(say("unsure-measure"), () => send({ type: "answer", way: unsure }), "follower__way--unsure"));
  const sent = form((answers) => send({ type: "reading", typed: Object.fromEntries([...answers].map(([name, value]) => [name, String(value)])) }));
  return { kind: say("kind-measure"), title: one.text, body: [...body, ...before, ...drawn, ...more], ways, form: sent };
}

/** A length may be measured over several gaps, and more than once: mean and spread are shown while one types. @param {any} one @param {any} state @param {(event: any) => void} send */
function moreReadings(one, state, send) {
  const [field] = fieldsOf(one);
  const names = Array.from({ length: MOST_READINGS - 1 }, (_, place) => readingName(place + 2));
  const gaps = readingField({ id: "gaps", unit: "", from: "1", to: String(MOST_GAPS) }, state, send, say("gaps"));
  const others = names.map((name, place) => readingField({ ...field, id: name }, state, send, say("reading-n", { n: place + 2 })));
  const result = make("p", { class: "follower__mean", role: "status" });
  const used = ["gaps", ...names].some((name) => (state.typed[name] ?? "") !== "" || state.refusal?.field === name);
  const box = make("details", { class: "follower__several", open: used }, make("summary", {}, say("several")), gaps, ...others, result);
  const tell = () => {
    const typed = Object.fromEntries([...new FormData(/** @type {HTMLFormElement} */ (box.closest("form")))].map(([name, value]) => [name, String(value)]));
    const taken = takenReadings(one, typed);
    const told = "reason" in taken || (taken.spread === null && ["", "1"].includes(typed.gaps ?? ""));
    result.textContent = told ? "" : say(taken.spread === null ? "mean-one" : "mean-of", { mean: taken.values.value, spread: taken.spread, unit: one.measure.unit });
  };
  box.addEventListener("input", tell);
  queueMicrotask(() => box.closest("form")?.addEventListener("input", tell));
  return box;
}

/** @param {any} field @param {any} state @param {(event: any) => void} send @param {string} label */
function readingField(field, state, send, label) {
  const refusal = state.refusal?.field === field.id ? state.refusal : null;
  const id = `follower-reading-${field.id}`;
  const input = make("input", {
    id, name: field.id, inputmode: "decimal", autocomplete: "off", enterkeyhint: "done", class: "follower__input", value: state.typed[field.id] ?? "",
    "aria-describedby": `${id}-range`, "aria-invalid": refusal ? "true" : null, "aria-errormessage": refusal ? `${id}-why` : null,
  });
  const meant = (refusal?.meant ?? []).map((/** @type {any} */ guess) =>
    make("button", { type: "button", class: "follower__meant", click: () => send({ type: "meant", field: field.id, value: guess.value }) }, say(guess.because === "inch" ? "meant-inch" : "meant-ten", { value: guess.value, unit: field.unit })));
  return make("div", { class: "follower__reading" },
    make("label", { for: id }, label),
    make("span", { class: "follower__blank" }, input, make("span", { class: "follower__unit" }, field.unit)),
    make("span", { class: "follower__small", id: `${id}-range` }, say("range-unit", field)),
    refusal ? make("p", { class: "follower__problem", role: "alert", id: `${id}-why` }, refusalWords(refusal, field)) : null,
    ...meant);
}

/** @param {any} refusal @param {any} field */
function refusalWords(refusal, field) {
  const range = say("range-unit", { from: refusal.from ?? field.from, to: refusal.to ?? field.to, unit: refusal.unit ?? field.unit });
  return say(refusal.reason === "no-value" ? "refused-value" : `refused-${refusal.reason}`, { range, ...refusal });
}

/** @param {View} view */
function wait(view) {
  const { flow, state, send, words } = view;
  const one = stepOf(flow, state);
  const over = state.wait.counted >= state.wait.needed;
  const clock = make("p", { class: "follower__clock", role: "timer", "data-clock": true }, make("span", { class: "follower__time" }, clockWords(state.wait)), " ", make("span", { class: "follower__small" }, say("wait-left")));
  const body = [...words(procedureOf(flow, state).id, one), over ? notice(say("wait-over")) : clock];
  if (state.wait.doubt && !over) body.push(notice(say("wait-doubt")));
  if (!over && state.caller) body.push(make("p", { "data-call-back": true }, say("wait-call-back", { time: timeAt(Date.now() + state.wait.needed - state.wait.counted) })));
  if (!over) body.push(make("p", { class: "follower__small" }, say("wait-keep-open")));
  return { kind: say("kind-wait"), title: one.text, body, ways: over ? [mainWay(say("go-on"), () => send({ type: "next" }))] : [] };
}

/** `29:05`, or `1:02:03`. @param {{needed: number, counted: number}} running */
export function clockWords(running) {
  const left = Math.max(0, Math.ceil((running.needed - running.counted) / 1000));
  const pair = (/** @type {number} */ number) => String(number).padStart(2, "0");
  const hours = Math.floor(left / 3600);
  return `${hours > 0 ? `${hours}:` : ""}${pair(Math.floor(left / 60) % 60)}:${pair(left % 60)}`;
}

/** @param {View} view */
function resume({ flow, state, send }) {
  const asked = state.facts.holds.map((/** @type {string} */ id) => choice(state, `still-${id}`, conditionName(flow, id), [["yes", say("still-yes")], ["no", say("still-no")]], say("ask-still")));
  const body = [
    make("p", {}, say("resume-why")), ...(state.wait === null ? [] : [notice(say("wait-again"))]), ...refusals(state),
    person(state), ...raised(state), alone(state), choice(state, "caller", say("ask-caller"), [["no", say("caller-no")], ["yes", say("caller-yes")]]), ...asked,
  ];
  const sent = form((answers) => {
    const conditions = Object.fromEntries(state.facts.holds.map((/** @type {string} */ id) => [id, said(answers, `still-${id}`)]));
    send({ type: "confirm", person: said(answers, "person"), alone: said(answers, "alone"), caller: said(answers, "caller"), raised: said(answers, "raised"), conditions });
  });
  return { kind: say("kind-resume"), title: say("resume-title"), body, ways: [submit(say("go-on"))], form: sent };
}

/** Somebody more qualified than before: asked why, once that was said. @param {any} state */
function raised(state) {
  const asked = state.typed.raised !== undefined || state.refusal?.missing?.includes("raised");
  return asked ? [choice(state, "raised", say("ask-raised"), RAISED.map((id) => [id, say(`raised-${id}`)]))] : [];
}

/** @param {View} view */
function ending(view) {
  const { flow, state, words } = view;
  const one = stepOf(flow, state);
  const left = state.screen.left.map((/** @type {string} */ id) => problem(say("left-behind", { name: conditionName(flow, id) })));
  const unchecked = state.screen.missing.length > 0 ? [problem(say("not-checked"))] : howChecked(flow, state) === "told" ? [notice(say("checked-told"))] : [];
  const holds = state.facts.holds.map((/** @type {string} */ id) => make("li", {}, conditionName(flow, id)));
  const perhaps = state.facts.mayHold.filter((/** @type {string} */ id) => !state.facts.holds.includes(id)).map((/** @type {string} */ id) => conditionName(flow, id));
  const machine = make("div", { class: "follower__left" }, make("h3", {}, say("machine-left")), holds.length > 0 ? make("ul", {}, ...holds) : make("p", {}, say("nothing-known")),
    perhaps.length > 0 ? make("p", {}, say("summary-perhaps", { names: perhaps.join("; ") })) : null);
  const body = [make("p", { class: "follower__outcome" }, outcomeWords(one.outcome)), ...unchecked, ...left, ...words(procedureOf(flow, state).id, one), ...referral(one), machine, record(view)];
  return { kind: say("kind-ending"), title: one.text, body, ways: atRest(view) };
}

/** @param {any} one */
function referral(one) {
  if (one.referTo === null) return [];
  if (one.referTo.title === null) return [make("p", {}, say("by-code"))];
  return [make("p", {}, make("a", { class: "follower__link", href: `${one.referTo.id}.html` }, say("go-to-procedure", one.referTo)))];
}

/** @param {View} view */
function record({ flow, state }) {
  return copyText("follower-record", say("record"), recordText(flow, state), say("copy"), 10);
}

/** What one does with a run that stands: hand it over, or begin another. @param {View} view */
function atRest({ handOver, shelf }) {
  return [mainWay(say("hand-over-all"), handOver), way(say("closed-new"), () => shelf.open(null))];
}

/** @param {View} view */
function handOver(view) {
  const { flow, state } = view;
  const missing = make("ul", { class: "follower__missing" }, ...state.screen.missing.map((/** @type {any} */ one) => make("li", {}, missingWords(flow, one))));
  const body = [make("p", {}, say("hand-over-why")), missing, make("p", { class: "follower__do" }, say("hand-over-do")), record(view)];
  return { kind: say("kind-hand-over"), title: say("hand-over-title"), body, ways: atRest(view) };
}

/** @param {View} view */
function refused({ flow, state, send }) {
  const missing = state.screen.missing.map((/** @type {any} */ one) => make("p", { class: "follower__do" }, missingWords(flow, one)));
  const again = neverStarts(flow.procedures[flow.procedure]) === null;
  return { kind: say("kind-hand-over"), title: say("refused-title"), body: missing, ways: again ? [way(say("start-again"), () => send({ type: "restart" }))] : [] };
}

/** What is known now: person, machine, conditions, cautions in force. @param {View} view */
export function knownNow({ flow, state }) {
  const list = (/** @type {string[]} */ names) => (names.length > 0 ? names.join("; ") : say("known-none"));
  const rows = [
    [say("known-model"), possibleModels(flow, state)[0] === null ? say("known-none") : modelName(flow, state.model)],
    [say("known-person"), sayOf("person", state.facts.person)],
    [say("known-holds"), list(state.facts.holds.map((/** @type {string} */ id) => conditionName(flow, id)))],
    [say("known-cautions"), list(Object.keys(state.facts.ages).map((id) => hazardName(flow, id)))],
  ];
  return make("dl", { class: "follower__facts" }, ...rows.map(([name, value]) => make("div", {}, make("dt", {}, name), make("dd", {}, value))));
}
