// One function a screen: state in, elements out. Nothing is decided here; every button sends one event.
import { PERSONS } from "../../script/facts.js";
import { fieldsOf } from "../../script/reading.js";
import { neverStarts, possibleModels, procedureOf, stepOf, waitMs } from "../../script/run-state.js";
import { alertSymbol, make } from "./make.js";
import { conditionName, hazardName, missingWords, modelName, outcomeWords, recordText } from "./record.js";
import { duration, say, sayOf } from "./words.js";

/**
 * @typedef {{flow: any, state: any, send: (event: any) => void, words: (procedure: string, step: any) => Node[], sign: (hazard: any) => Node | null, notices: string[]}} View
 * @typedef {{kind: string, title: string, body: Node[], ways: Node[], form?: (form: HTMLFormElement) => void}} Drawing
 */

/** The screen that a state shows. @param {View} view @returns {Drawing} */
export function drawScreen(view) {
  const draw = /** @type {Record<string, (view: View) => Drawing>} */ (SCREENS)[view.state.screen.name];
  return draw(view);
}

const SCREENS = { start, caution, step, wait, resume, ending, "hand-over": handOver, refused };

/** A large button, reached by a number key too. @param {string} label @param {() => void} press @param {string} kind */
function way(label, press, kind = "") {
  return make("button", { type: "button", class: `follower__way ${kind}`.trim(), "data-choice": true, click: press }, make("span", { class: "follower__label" }, label));
}

/** @param {string} label */
function submit(label) {
  return make("button", { type: "submit", class: "follower__way follower__way--main" }, make("span", { class: "follower__label" }, label));
}

/** A group of radio buttons; what was chosen before stays chosen, and a question left open says so. @param {any} state @param {string} name @param {string} legend @param {[string, string][]} choices @param {string | null} hint */
function choice(state, name, legend, choices, hint = null) {
  const condition = name.startsWith("still-") ? name.slice("still-".length) : null;
  const given = condition === null ? state.typed[name] : state.typed.conditions?.[condition];
  const chosen = given === true ? "yes" : given === false ? "no" : given;
  const open = state.refusal?.missing?.includes(condition ?? name);
  const options = choices.map(([value, label]) => make("label", { class: "follower__option" }, make("input", { type: "radio", name, value, checked: value === chosen }), make("span", {}, label)));
  const kind = open ? "follower__choice follower__choice--open" : "follower__choice";
  return make("fieldset", { class: kind }, make("legend", {}, legend), hint === null ? null : make("p", { class: "follower__hint" }, hint), open ? make("p", { class: "follower__open" }, say("stillOpen")) : null, ...options);
}

/** @param {FormData} answers @param {string} name */
function said(answers, name) {
  const value = answers.get(name);
  return value === null ? undefined : value === "yes" ? true : value === "no" ? false : String(value);
}

/** @type {[string, string][]} */
const personChoices = PERSONS.map((id) => [id, sayOf("person", id)]);
/** @param {any} state */
function aloneChoice(state) {
  return choice(state, "alone", say("askAlone"), [["yes", say("aloneYes")], ["no", say("aloneNo")]]);
}

/** @param {View} view */
function start({ flow, state, send, notices }) {
  const procedure = flow.procedures[flow.procedure];
  /** @type {[string, string][]} */
  const models = procedure.models.map((/** @type {string} */ id) => [id, modelName(flow, id)]);
  models.push(["unknown", say("modelUnknown")]);
  if (procedure.models.length < flow.models.length) models.push(["other", say("modelOther")]);
  const body = [
    ...notices.map(notice),
    ...refused_(state),
    flow.models.length > 0 ? choice(state, "model", say("askModel"), models) : null,
    choice(state, "person", say("askPerson"), personChoices),
    aloneChoice(state),
    choice(state, "caller", say("askCaller"), [["no", say("callerNo")], ["yes", say("callerYes")]]),
  ].filter((one) => one !== null);
  const form = (/** @type {HTMLFormElement} */ element) => {
    const answers = new FormData(element);
    send({ type: "start", model: said(answers, "model"), person: said(answers, "person"), alone: said(answers, "alone"), caller: said(answers, "caller") });
  };
  return { kind: say("kindStart"), title: say("follow"), body, ways: [submit(say("begin"))], form };
}

/** @param {any} state */
function refused_(state) {
  if (state.refusal?.reason === "not-alone") return [problem(say("notAlone"))];
  return state.refusal?.reason === "unanswered" ? [problem(say("unanswered"))] : [];
}

/** @param {string} text */
function notice(text) {
  return make("p", { class: "follower__notice" }, text);
}

/** @param {string} text */
function problem(text) {
  return make("p", { class: "follower__problem", role: "alert" }, text);
}

/** @param {View} view */
function caution({ flow, state, send, sign }) {
  const hazard = flow.hazards.find((/** @type {any} */ one) => one.id === state.screen.hazard);
  const rows = ["nature", "consequence", "avoid"].filter((key) => hazard[key] !== null);
  const texts = rows.map((key) => make("div", { class: `caution__${key}` }, make("dt", {}, say(/** @type {"nature"} */ (key))), make("dd", {}, hazard[key])));
  const word = make("span", { class: "caution__word" }, hazard.signalWord === "notice" ? null : alertSymbol(), say(/** @type {"dangerWord"} */ (`${hazard.signalWord}Word`)));
  const panel = make("div", { class: `caution caution--${hazard.signalWord}`, "data-hazard": hazard.id },
    make("div", { class: "caution__panel" }, word, hazard.place === null ? null : make("span", { class: "caution__where" }, hazard.place)),
    make("div", { class: "caution__body" }, sign(hazard), make("dl", { class: "caution__texts" }, ...texts)));
  const aloud = state.caller ? make("div", { class: "follower__aloud" }, make("p", { class: "follower__small" }, say("readAloud")), make("p", {}, hazard.spoken)) : null;
  const press = () => send({ type: "acknowledge", hazard: hazard.id });
  const body = [panel, aloud].filter((one) => one !== null);
  return { kind: say("kindCaution"), title: hazard.name, body, ways: [way(say(state.caller ? "acknowledgeCaller" : "acknowledge"), press, "follower__way--main")] };
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
    return { kind: say("kindAsk"), title: one.text, body, ways: buttons };
  }
  const needed = waitMs(flow, state, one);
  if (one.waitFor !== null && state.facts.holds.includes(one.waitFor)) body.push(notice(say("waitReached", { name: conditionName(flow, one.waitFor) })));
  const caller = state.frames.length > 1 && one.outcome !== null ? flow.procedures[state.frames.at(-2).procedure].title : null;
  const label = needed > 0 ? say("beginWait", { time: duration(Math.ceil(needed / 1000)) }) : caller !== null ? say("calleeDone", { title: caller }) : say("next");
  return { kind: say("kindDo"), title: one.text, body, ways: [way(label, () => send({ type: needed > 0 ? "begin-wait" : "next" }), "follower__way--main")] };
}

/** What stays done after going back. @param {View} view */
function stays({ flow, state }) {
  if (state.notice?.name !== "stays-done") return [];
  const deeds = state.notice.deeds.map((/** @type {any} */ deed) => make("li", {}, flow.procedures[deed.procedure].steps[deed.step].text));
  return [make("div", { class: "follower__notice" }, make("p", {}, say("staysDone")), make("ul", {}, ...deeds))];
}

/** @param {View} view @param {any} one @param {Node[]} body @returns {Drawing} */
function measurement({ state, send }, one, body) {
  const fields = fieldsOf(one);
  const drawn = fields.map((field) => readingField(field, state, send, fields.length === 1 ? one.text : field.ask ?? field.id));
  const unsure = one.ways.findIndex((/** @type {any} */ answer) => answer.kind === "unsure");
  const ways = [submit(say(fields.length === 1 ? "enter" : "enterAll"))];
  if (unsure >= 0) ways.push(way(say("unsureMeasure"), () => send({ type: "answer", way: unsure }), "follower__way--unsure"));
  const form = (/** @type {HTMLFormElement} */ element) => {
    const answers = new FormData(element);
    send({ type: "reading", typed: Object.fromEntries(fields.map((field) => [field.id, String(answers.get(field.id) ?? "")])) });
  };
  return { kind: say("kindMeasure"), title: one.text, body: [...body, ...drawn], ways, form };
}

/** @param {any} field @param {any} state @param {(event: any) => void} send @param {string} label */
function readingField(field, state, send, label) {
  const range = say("rangeUnit", field);
  const refusal = state.refusal?.field === field.id ? state.refusal : null;
  const id = `follower-reading-${field.id}`;
  const input = make("input", {
    id, name: field.id, inputmode: "decimal", autocomplete: "off", enterkeyhint: "done", class: "follower__input", value: state.typed[field.id] ?? "",
    "aria-describedby": `${id}-range`, "aria-invalid": refusal ? "true" : null, "aria-errormessage": refusal ? `${id}-why` : null,
  });
  const meant = (refusal?.meant ?? []).map((/** @type {any} */ guess) =>
    make("button", { type: "button", class: "follower__meant", click: () => send({ type: "meant", field: field.id, value: guess.value }) }, say(guess.because === "inch" ? "meantInch" : "meantTen", { value: guess.value, unit: field.unit })));
  return make("div", { class: "follower__reading" },
    make("label", { for: id }, label),
    make("span", { class: "follower__blank" }, input, make("span", { class: "follower__unit" }, field.unit)),
    make("span", { class: "follower__small", id: `${id}-range` }, range),
    refusal ? make("p", { class: "follower__problem", role: "alert", id: `${id}-why` }, refusalWords(refusal, field)) : null,
    ...meant);
}

/** @param {any} refusal @param {any} field */
function refusalWords(refusal, field) {
  const range = say("rangeUnit", { from: refusal.from ?? field.from, to: refusal.to ?? field.to, unit: refusal.unit ?? field.unit });
  const key = { empty: "refusedEmpty", letters: "refusedLetters", sign: "refusedSign", separators: "refusedSeparators", whole: "refusedWhole", range: "refusedRange", "no-value": "refusedValue" }[/** @type {string} */ (refusal.reason)];
  return say(/** @type {"refusedEmpty"} */ (key ?? "refusedEmpty"), { range });
}

/** @param {View} view */
function wait(view) {
  const { flow, state, send, words } = view;
  const one = stepOf(flow, state);
  const over = state.wait.counted >= state.wait.needed;
  const clock = make("p", { class: "follower__clock", role: "timer", "data-clock": true }, make("span", { class: "follower__time" }, clockWords(state.wait)), " ", make("span", { class: "follower__small" }, say("waitLeft")));
  const body = [...words(procedureOf(flow, state).id, one), over ? notice(say("waitOver")) : clock];
  if (state.wait.doubt && !over) body.push(notice(say("waitDoubt")));
  if (!over) body.push(make("p", { class: "follower__small" }, say("waitKeepOpen")));
  return { kind: say("kindWait"), title: one.text, body, ways: over ? [way(say("goOn"), () => send({ type: "next" }), "follower__way--main")] : [] };
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
  const asked = state.facts.holds.map((/** @type {string} */ id) => choice(state, `still-${id}`, conditionName(flow, id), [["yes", say("stillYes")], ["no", say("stillNo")]], say("askStill")));
  const body = [make("p", {}, say("resumeWhy")), ...refused_(state), choice(state, "person", say("askPerson"), personChoices), aloneChoice(state), ...asked];
  const form = (/** @type {HTMLFormElement} */ element) => {
    const answers = new FormData(element);
    const conditions = Object.fromEntries(state.facts.holds.map((/** @type {string} */ id) => [id, said(answers, `still-${id}`)]));
    send({ type: "confirm", person: said(answers, "person"), alone: said(answers, "alone"), conditions });
  };
  return { kind: say("kindResume"), title: say("resumeTitle"), body, ways: [submit(say("goOn"))], form };
}

/** @param {View} view */
function ending(view) {
  const { flow, state, words } = view;
  const one = stepOf(flow, state);
  const left = state.screen.left.map((/** @type {string} */ id) => problem(say("leftBehind", { name: conditionName(flow, id) })));
  const unchecked = state.screen.missing.length > 0 ? [problem(say("notChecked"))] : [];
  const holds = state.facts.holds.map((/** @type {string} */ id) => make("li", {}, conditionName(flow, id)));
  const machine = make("div", { class: "follower__left" }, make("h3", {}, say("machineLeft")), holds.length > 0 ? make("ul", {}, ...holds) : make("p", {}, say("nothingKnown")));
  const body = [make("p", { class: "follower__outcome" }, outcomeWords(one.outcome)), ...unchecked, ...left, ...words(procedureOf(flow, state).id, one), ...referral(one), machine, record(view)];
  return { kind: say("kindEnding"), title: one.text, body, ways: [] };
}

/** @param {any} one */
function referral(one) {
  if (one.referTo === null) return [];
  if (one.referTo.title === null) return [make("p", {}, say("byCode"))];
  return [make("p", {}, make("a", { class: "follower__link", href: `${one.referTo.id}.html` }, say("goToProcedure", one.referTo)))];
}

/** @param {View} view */
function record({ flow, state }) {
  const area = /** @type {HTMLTextAreaElement} */ (make("textarea", { class: "follower__record", rows: 10, readonly: true, id: "follower-record" }));
  area.value = recordText(flow, state);
  const copy = make("button", { type: "button", class: "follower__meant", click: () => copyFrom(area, copy) }, say("copy"));
  return make("div", {}, make("label", { for: "follower-record", class: "follower__recordname" }, say("record")), area, copy);
}

/** @param {HTMLTextAreaElement} area @param {HTMLElement} button */
function copyFrom(area, button) {
  area.select();
  // From a folder the clipboard interface may be missing: then the text is selected and can be copied by hand.
  navigator.clipboard?.writeText(area.value).then(() => { button.textContent = say("copied"); }, () => {});
}

/** @param {View} view */
function handOver(view) {
  const { flow, state } = view;
  const missing = make("ul", { class: "follower__missing" }, ...state.screen.missing.map((/** @type {any} */ one) => make("li", {}, missingWords(flow, one))));
  const body = [make("p", {}, say("handOverWhy")), missing, make("p", { class: "follower__do" }, say("handOverDo")), record(view)];
  return { kind: say("kindHandOver"), title: say("handOverTitle"), body, ways: [] };
}

/** @param {View} view */
function refused({ flow, state, send }) {
  const missing = state.screen.missing.map((/** @type {any} */ one) => make("p", { class: "follower__do" }, missingWords(flow, one)));
  const again = neverStarts(flow.procedures[flow.procedure]) === null;
  return { kind: say("kindHandOver"), title: say("refusedTitle"), body: missing, ways: again ? [way(say("startAgain"), () => send({ type: "restart" }))] : [] };
}

/** What is known now: person, machine, conditions, cautions in force. @param {View} view */
export function knownNow({ flow, state }) {
  const list = (/** @type {string[]} */ names) => (names.length > 0 ? names.join("; ") : say("knownNone"));
  const rows = [
    [say("knownModel"), possibleModels(flow, state)[0] === null ? say("knownNone") : modelName(flow, state.model)],
    [say("knownPerson"), sayOf("person", state.facts.person)],
    [say("knownHolds"), list(state.facts.holds.map((/** @type {string} */ id) => conditionName(flow, id)))],
    [say("knownCautions"), list(Object.keys(state.facts.ages).map((id) => hazardName(flow, id)))],
  ];
  return make("dl", { class: "follower__facts" }, ...rows.map(([name, value]) => make("div", {}, make("dt", {}, name), make("dd", {}, value))));
}
