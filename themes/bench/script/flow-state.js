// The follower's state machine: (state, event, clock) -> state. Pure: no document, no storage, no clock but the one handed in.
// A state is plain data and can be stored. What a screen shows is read from `state.screen`; the words of a step may be drawn only on the
// screens `step`, `wait` and `ending`.
import { BREAK_MS, clocksAgree, dayOf, DEAD_MS, perhapsPassed, surelyPassed } from "./clock.js";
import { afterBack, afterBreak, afterStep, afterWay, agedBy, agedByStep, cautionShown, firstFacts, PERSONS, qualified, standsInTheWay, waited } from "./facts.js";
import { fieldsOf, measuredValue, MOST_READINGS, nearAnEdge, readingName, repeatable, takenReadings, wayOfValue } from "./reading.js";
import { cautionsDue, handOver, isAction, leftBehind, neverStarts, notChecked, noted, possibleModels, procedureOf, stepOf, timesDone, waitMs, withCount, withDeed, withSnapshot } from "./run-state.js";

/**
 * @typedef {import("./clock.js").Clock} Clock
 * @typedef {{id: number, procedure: string, caller: string | null}} Frame  a procedure being followed; `caller` is the step that carries it out
 * @typedef {{kind: string, id: string}} Missing
 * @typedef {{name: string, hazard?: string, missing?: Missing[], left?: string[], step?: string}} Screen
 * @typedef {{type: string, [key: string]: any}} Event
 */

/** Steps without a screen (`by-model`, `carry-out`, `otherwise`) that may follow one another; a proved flow never comes near. */
const MOST_SILENT_STEPS = 1000;

/** The state before anything was asked. @param {any} flow @param {Clock} clock */
export function begin(flow, clock) {
  const never = neverStarts(flow.procedures[flow.procedure]);
  return {
    schema: "stepward/run/1", edition: flow.edition, screen: never === null ? { name: "start" } : { name: "refused", missing: [never] }, frames: [], step: null, arrival: { shown: [], counted: false, again: false },
    facts: firstFacts("ordinary"), counts: {}, model: null, caller: false, about: { ticket: "", serial: "", counter: "" }, frameCount: 0,
    path: [], log: [], history: [], notice: null, refusal: null, wait: null, typed: {}, last: clock, touched: clock, changed: longAgo(clock),
  };
}

/** A page that was just opened took no other screen's place: its first tap is meant. @param {Clock} clock @returns {Clock} */
function longAgo(clock) {
  return { wall: clock.wall - DEAD_MS, running: clock.running - DEAD_MS };
}

/**
 * The next state. An event that the present screen does not offer changes nothing.
 * @param {any} flow @param {any} state @param {Event} event @param {Clock} clock
 */
export function advance(flow, state, event, clock) {
  if (event.type === "restart") return { ...begin(flow, clock), changed: clock };
  if (event.type === "reopen") return reopened(flow, state, event, clock);
  const timed = withTime(state, clock);
  if (event.type === "tick") return timed;
  // The second tap of a double tap falls on a screen it was not meant for.
  const since = clock.running - state.changed.running;
  if (since >= 0 && since < DEAD_MS) return timed;
  if (onBreak(state, event, clock)) return { ...paused(timed), touched: clock, changed: clock };
  const handler = HANDLERS[timed.screen.name]?.[event.type] ?? HANDLERS.any[event.type];
  const next = handler ? handler(flow, { ...timed, notice: null, refusal: null }, event, clock) : timed;
  return sealed(state, next, clock);
}

/** Marks when the screen last changed. @param {any} before @param {any} after @param {Clock} clock */
function sealed(before, after, clock) {
  const same = after.step === before.step && after.frames.length === before.frames.length && after.screen.name === before.screen.name && after.screen.hazard === before.screen.hazard && after.path.length === before.path.length;
  return { ...after, touched: clock, changed: same ? before.changed : clock };
}

/** Lets time pass: cautions age by what may have passed, waits grow by what surely has. @param {any} state @param {Clock} clock */
function withTime(state, clock) {
  const facts = agedBy(state.facts, perhapsPassed(state.last, clock));
  if (state.wait === null) return { ...state, facts, last: clock };
  const wait = { ...state.wait, counted: state.wait.counted + surelyPassed(state.last, clock), doubt: state.wait.doubt || !clocksAgree(state.last, clock) };
  return { ...state, facts, wait, last: clock };
}

/** Endings may be read for as long as anybody likes; to go back from one is to go on. @param {any} state @param {Event} event @param {Clock} clock */
function onBreak(state, event, clock) {
  const atRest = ["ending", "hand-over"].includes(state.screen.name) && event.type !== "back";
  return !atRest && !["start", "refused", "resume"].includes(state.screen.name) && perhapsPassed(state.touched, clock) > BREAK_MS;
}

/** Person and machine must be asked again by name before anything goes on. @param {any} state */
function paused(state) {
  return { ...state, screen: { name: "resume" }, typed: {}, notice: null, refusal: null };
}

/** If the page was closed in between no clock ran that could be trusted, so no waiting counts; on the same page both did. @param {any} flow @param {any} state @param {Event} event @param {Clock} clock */
function reopened(flow, state, event, clock) {
  if (state.edition !== flow.edition) return { ...begin(flow, clock), notice: { name: "older-edition" } };
  const now = { ...(event.samePage ? withTime(state, clock) : state), last: clock, touched: clock, changed: longAgo(clock) };
  return ["start", "refused"].includes(state.screen.name) ? { ...begin(flow, clock) } : paused(now);
}

/** @type {Record<string, Record<string, (flow: any, state: any, event: Event, clock: Clock) => any>>} */
const HANDLERS = {
  start: { start: started },
  caution: { acknowledge: acknowledged },
  step: { answer: answered, reading: measured, next: done, "begin-wait": waitBegun, meant: retyped },
  wait: { next: waitOver },
  resume: { confirm: resumed },
  any: { back: wentBackSo, note: remarked, machine: identified, "take-over": (_flow, state) => (state.frames.length > 0 ? paused(state) : state) },
};

/** Before the first step: which machine, who is at it, is anybody else working on it. */
function started(/** @type {any} */ flow, /** @type {any} */ state, /** @type {Event} */ event, /** @type {Clock} */ clock) {
  const procedure = flow.procedures[flow.procedure];
  const models = [...procedure.models, "unknown", ...(procedure.models.length < flow.models.length ? ["other"] : [])];
  const modelSaid = flow.models.length === 0 || models.includes(event.model);
  const missing = [!modelSaid && "model", !PERSONS.includes(event.person) && "person", typeof event.alone !== "boolean" && "alone", typeof event.caller !== "boolean" && "caller"].filter(Boolean);
  if (missing.length > 0) return { ...state, typed: event, refusal: { reason: "unanswered", missing } };
  const refuse = (/** @type {Missing} */ why) => ({ ...state, screen: { name: "refused", missing: [why] } });
  if (event.model === "other") return refuse({ kind: "model", id: procedure.id });
  if (!event.alone) return refuse({ kind: "alone", id: procedure.id });
  if (!qualified(event.person, procedure.for)) return refuse({ kind: "person", id: procedure.for });
  const model = flow.models.length === 0 || event.model === "unknown" ? null : event.model;
  const run = {
    ...state, model, caller: event.caller, about: aboutOf(event), facts: firstFacts(event.person), frames: [{ id: 0, procedure: flow.procedure, caller: null }], frameCount: 1,
    log: [{ what: "start", model: event.model ?? null, person: event.person, caller: event.caller, at: clock.wall, ...aboutOf(event) }],
  };
  return remarked(flow, arrived(flow, run, procedure.start, clock), { type: "note", text: event.remark }, clock);
}

/** The longest text that a run keeps of what somebody typed beside the answers. */
const LONGEST_TEXT = 200;

/** What tells this run and its machine from others. Anything may be left out. @param {Event} event */
function aboutOf(event) {
  const text = (/** @type {unknown} */ value) => String(value ?? "").replace(/\s+/g, " ").trim().slice(0, LONGEST_TEXT);
  return { ticket: text(event.ticket), serial: text(event.serial), counter: text(event.counter) };
}

/** A remark at the present step. It changes nothing else. @param {any} _flow @param {any} state @param {Event} event @param {Clock} clock */
function remarked(_flow, state, event, clock) {
  const text = String(event.text ?? "").replace(/\s+/g, " ").trim().slice(0, LONGEST_TEXT);
  if (text === "" || state.frames.length === 0) return state;
  const entry = { what: "note", procedure: state.frames.at(-1).procedure, step: state.step, text, at: clock.wall };
  return { ...state, log: [...state.log, entry] };
}

/** The machine's serial number, asked once when a run is handed over without one. @param {any} _flow @param {any} state @param {Event} event @param {Clock} clock */
function identified(_flow, state, event, clock) {
  const { serial } = aboutOf(event);
  if (serial === "" || state.frames.length === 0) return state;
  return { ...state, about: { ...state.about, serial }, log: [...state.log, { what: "machine", serial, at: clock.wall }] };
}

/** Goes to a step, and on through steps without a screen, to the first that has one. @returns {any} */
function arrived(/** @type {any} */ flow, /** @type {any} */ state, /** @type {string} */ target, /** @type {Clock} */ clock) {
  let run = state;
  let id = target;
  for (let silent = 0; silent < MOST_SILENT_STEPS; silent++) {
    const step = procedureOf(flow, run).steps[id];
    run = { ...run, step: id, wait: null, typed: {}, arrival: { shown: [], counted: false, again: false } };
    if (!step) return handOver(run, [{ kind: "step", id }], clock);
    const limit = step.atMost !== null && timesDone(run, id) >= step.atMost;
    const [next, missing] = limit ? byWay(run, step, step.ways.findIndex((/** @type {any} */ way) => way.kind === "otherwise"), clock)
      : step.kind === "by-model" ? byModel(flow, run, step, clock)
      : step.kind === "carry-out" ? intoCallee(flow, run, step, clock)
      : [null, null];
    if (missing) return handOver(run, missing, clock);
    if (next === null) return guarded(flow, run, clock);
    run = next.run;
    id = next.step;
  }
  return handOver(run, [{ kind: "step", id }], clock);
}

/** @param {any} run @param {any} step @param {number} index @param {Clock} clock @returns {any[]} */
function byWay(run, step, index, clock) {
  const way = step.ways[index];
  if (!way) return [null, [{ kind: "way", id: step.id }]];
  return [{ run: noted(run, step, index, {}, clock), step: way.then }, null];
}

/** One way for the model; for an unknown one only where all models go the same way. @param {any} flow @param {any} run @param {any} step @param {Clock} clock */
function byModel(flow, run, step, clock) {
  const named = (/** @type {string} */ text) => step.ways.findIndex((/** @type {any} */ way) => way.kind === "model" && way.text === text);
  const indices = possibleModels(flow, run).map((model) => (model !== null && named(model.id) >= 0 ? named(model.id) : named("others")));
  const targets = new Set(indices.map((index) => step.ways[index]?.then));
  if (targets.size !== 1 || indices[0] < 0) return [null, [{ kind: "model", id: step.id }]];
  return byWay(run, step, indices[0], clock);
}

/** @param {any} flow @param {any} run @param {any} step @param {Clock} clock @returns {any[]} */
function intoCallee(flow, run, step, clock) {
  const callee = flow.procedures[step.callee];
  if (!callee || callee.start === null || callee.status === "withdrawn") return [null, [{ kind: "withdrawn", id: step.callee }]];
  const missing = callee.requires.filter((/** @type {string} */ need) => !run.facts.holds.includes(need)).map((/** @type {string} */ id) => ({ kind: "condition", id }));
  if (!qualified(run.facts.person, callee.for)) missing.push({ kind: "person", id: callee.for });
  if (!possibleModels(flow, run).every((model) => model === null || callee.models.includes(model.id))) missing.push({ kind: "model", id: step.callee });
  if (missing.length > 0) return [null, missing];
  const counted = withCount(run, step.id);
  const entry = { what: "carry-out", procedure: procedureOf(flow, run).id, step: step.id, callee: step.callee, at: clock.wall, depth: run.frames.length - 1 };
  const frame = { id: run.frameCount, procedure: step.callee, caller: step.id };
  const inside = { ...counted, facts: agedByStep(run.facts), frames: [...run.frames, frame], frameCount: run.frameCount + 1, path: [...run.path, entry], log: [...run.log, entry] };
  return [{ run: inside, step: callee.start }, null];
}

/** The guard before every step: what stands in the way, which caution is due; only then the step. @returns {any} */
function guarded(/** @type {any} */ flow, /** @type {any} */ run, /** @type {Clock} */ clock) {
  const step = stepOf(flow, run);
  /** @type {Missing[]} */
  const missing = standsInTheWay(flow, run.facts, step, dayOf(clock));
  for (const frame of run.frames) {
    const least = flow.procedures[frame.procedure].for;
    if (!qualified(run.facts.person, least) && !missing.some((one) => one.id === least)) missing.push({ kind: "person", id: least });
  }
  if (step.measure?.readings.length > 0 && !step.measure.formula?.rpn) missing.push({ kind: "formula", id: step.id });
  if (!Number.isFinite(waitMs(flow, run, step))) missing.push({ kind: "model", id: step.id });
  if (missing.length > 0) return handOver(run, missing, clock);
  const hazard = cautionsDue(flow, run, step)[0];
  if (hazard !== undefined) return { ...run, screen: { name: "caution", hazard } };
  const counted = run.arrival.counted ? run : withCount({ ...run, arrival: { ...run.arrival, counted: true } }, step.id);
  if (counted.wait !== null) return { ...counted, screen: { name: "wait" } };
  // The end of a procedure that is carried out is a step like any other; the end of the run needs no "done".
  const over = step.outcome !== null && run.frames.length === 1 && waitMs(flow, counted, step) === 0;
  return over ? ended(flow, counted, step, clock) : { ...counted, screen: { name: "step" } };
}

function acknowledged(/** @type {any} */ flow, /** @type {any} */ state, /** @type {Event} */ event, /** @type {Clock} */ clock) {
  if (event.hazard !== state.screen.hazard) return state;
  const entry = { what: "caution", hazard: event.hazard, step: state.step, caller: state.caller, at: clock.wall };
  const run = { ...state, facts: cautionShown(state.facts, event.hazard), arrival: { ...state.arrival, shown: [...state.arrival.shown, event.hazard] }, log: [...state.log, entry] };
  return guarded(flow, run, clock);
}

function answered(/** @type {any} */ flow, /** @type {any} */ state, /** @type {Event} */ event, /** @type {Clock} */ clock) {
  const step = stepOf(flow, state);
  const way = step.ways[event.way];
  const offered = way && (way.kind === "unsure" || (step.kind === "ask" && way.kind === "answer"));
  return offered ? left(flow, state, step, event.way, {}, clock) : state;
}

/** What may be typed beside the first reading of a length: over how many gaps, and more readings. */
const EXTRA_FIELDS = ["gaps", ...Array.from({ length: MOST_READINGS - 1 }, (_, place) => readingName(place + 2))];

function measured(/** @type {any} */ flow, /** @type {any} */ state, /** @type {Event} */ event, /** @type {Clock} */ clock) {
  const step = stepOf(flow, state);
  if (step.kind !== "measure") return state;
  const names = [...fieldsOf(step).map((field) => field.id), ...(repeatable(step) ? EXTRA_FIELDS : [])];
  const said = (/** @type {string} */ name) => String(event.typed?.[name] ?? "").trim();
  const typed = Object.fromEntries(names.filter((name) => !EXTRA_FIELDS.includes(name) || said(name) !== "").map((name) => [name, said(name)]));
  const refuse = (/** @type {any} */ refusal) => ({ ...state, typed, refusal });
  const taken = takenReadings(step, typed);
  if ("reason" in taken) return refuse(taken);
  const { values, places, single, spread } = taken;
  const models = possibleModels(flow, state);
  /** @type {string[]} */
  const results = [];
  for (const model of models) {
    const result = measuredValue(step, values, model);
    if ("reason" in result) return refuse(result);
    results.push(result.value);
  }
  const ways = models.map((model, place) => wayOfValue(step, results[place], model));
  const same = new Set(ways.map((index) => step.ways[index]?.then));
  const first = state.arrival.near ?? null;
  if (same.size !== 1 || ways[0] < 0) return handOver({ ...state, typed }, [{ kind: "model", id: step.id }], clock, { typed, ...(first === null ? {} : { first }) });
  const apart = models.some((model) => new Set(single.map((value) => step.ways[wayOfValue(step, value, model)]?.then)).size > 1);
  if (apart) return refuse({ reason: "apart", field: "value", spread, unit: step.measure.unit });
  const near = models.some((model, place) => nearAnEdge(step, values, places, model, ways[place]));
  if (near && first === null) {
    return { ...state, typed: {}, arrival: { ...state.arrival, near: typed }, refusal: { reason: "near", field: fieldsOf(step)[0].id, value: results[0], unit: step.measure.unit } };
  }
  // A value that hangs on a model nobody knows is not written down as if it were known.
  const value = new Set(results).size === 1 ? { value: results[0] } : {};
  const more = { ...(spread === null ? {} : { spread }), ...(first === null ? {} : { first }), ...(near ? { near } : {}) };
  return left(flow, { ...state, typed: {} }, step, ways[0], { typed, ...value, ...more }, clock);
}

/** The slip that the person meant is put in the field; they still enter it themselves. */
function retyped(/** @type {any} */ _flow, /** @type {any} */ state, /** @type {Event} */ event) {
  return { ...state, typed: { ...state.typed, [event.field]: String(event.value) } };
}

function waitBegun(/** @type {any} */ flow, /** @type {any} */ state, /** @type {Event} */ _event, /** @type {Clock} */ clock) {
  const step = stepOf(flow, state);
  const needed = step.kind === "do" ? waitMs(flow, state, step) : 0;
  if (needed === 0) return state;
  const entry = { what: "wait-begun", step: step.id, seconds: Math.ceil(needed / 1000), at: clock.wall };
  return { ...state, wait: { needed, counted: 0, doubt: false, begun: clock.wall }, screen: { name: "wait" }, log: [...state.log, entry] };
}

/** No skip: before its time is over the event changes nothing. */
function waitOver(/** @type {any} */ flow, /** @type {any} */ state, /** @type {Event} */ _event, /** @type {Clock} */ clock) {
  if (state.wait.counted < state.wait.needed) return state;
  const doubt = state.wait.doubt ? { doubt: true } : {};
  const entry = { what: "wait-over", step: state.step, seconds: Math.floor(state.wait.counted / 1000), needed: Math.ceil(state.wait.needed / 1000), ...doubt, at: clock.wall };
  const facts = waited(flow, state.facts, state.wait.counted, possibleModels(flow, state));
  const run = { ...state, facts, wait: null, log: [...state.log, entry] };
  return finished(flow, run, stepOf(flow, state), clock);
}

function done(/** @type {any} */ flow, /** @type {any} */ state, /** @type {Event} */ _event, /** @type {Clock} */ clock) {
  const step = stepOf(flow, state);
  return step.kind === "do" && waitMs(flow, state, step) === 0 ? finished(flow, state, step, clock) : state;
}

/** An action is done: on to the next step, back to the caller, or to the end. */
function finished(/** @type {any} */ flow, /** @type {any} */ state, /** @type {any} */ step, /** @type {Clock} */ clock) {
  if (step.outcome !== null) return ended(flow, state, step, clock);
  return left(flow, state, step, step.ways.findIndex((/** @type {any} */ way) => way.kind === "next"), {}, clock);
}

/** Leaves a step by a way: what the step and the way do comes to pass, and is written down. */
function left(/** @type {any} */ flow, /** @type {any} */ state, /** @type {any} */ step, /** @type {number} */ index, /** @type {any} */ reading, /** @type {Clock} */ clock) {
  const way = step.ways[index];
  if (!way) return handOver(state, [{ kind: "way", id: step.id }], clock);
  const remembered = withSnapshot(state, step, way);
  const facts = agedByStep(afterWay(flow, afterStep(flow, state.facts, step), step, index, possibleModels(flow, state)));
  return arrived(flow, noted({ ...remembered, facts }, step, index, reading, clock), way.then, clock);
}

/** An ending: of the whole run, or of a procedure carried out, which leads on in its caller. @returns {any} */
function ended(/** @type {any} */ flow, /** @type {any} */ state, /** @type {any} */ step, /** @type {Clock} */ clock) {
  // What an ending asks is taken as done: who goes back from it comes a step later.
  const facts = agedByStep(afterStep(flow, state.facts, step));
  const entry = { what: "ending", procedure: procedureOf(flow, state).id, step: step.id, outcome: step.outcome, at: clock.wall, depth: state.frames.length - 1 };
  const log = [...state.log, entry];
  if (state.frames.length === 1) return { ...state, facts, log, wait: null, screen: { name: "ending", left: leftBehind(flow, facts), missing: notChecked(facts, step) } };
  const known = withSnapshot(state, step, null);
  return backInCaller(flow, { ...known, facts, log, path: [...known.path, entry] }, step, clock);
}

/** What the caller makes of how its procedure ended. @returns {any} */
function backInCaller(/** @type {any} */ flow, /** @type {any} */ known, /** @type {any} */ step, /** @type {Clock} */ clock) {
  const arrival = { shown: [], counted: false, again: false };
  const outer = { ...known, frames: known.frames.slice(0, -1), step: known.frames.at(-1).caller, arrival };
  const call = stepOf(flow, outer);
  const index = call.ways.findIndex((/** @type {any} */ way) => way.kind === "outcome" && way.text === step.outcome);
  if (index < 0) return handOver(outer, [{ kind: "outcome", id: step.outcome }], clock);
  const facts = afterWay(flow, afterStep(flow, outer.facts, call), call, index, possibleModels(flow, outer));
  const run = call.cures.length > 0 ? withDeed(outer, call) : outer;
  return arrived(flow, noted({ ...run, facts }, call, index, {}, clock), call.ways[index].then, clock);
}

/** As many steps back as the event says: to an answer further up the path. What stays done is named for all of them. */
function wentBackSo(/** @type {any} */ flow, /** @type {any} */ state, /** @type {Event} */ event, /** @type {Clock} */ clock) {
  let run = state;
  /** @type {any[]} */
  const deeds = [];
  for (let left = Math.min(event.times ?? 1, state.history.length); left > 0; left--) {
    run = wentBack(flow, run, event, clock);
    deeds.unshift(...(run.notice?.deeds ?? []));
  }
  return deeds.length > 0 ? { ...run, notice: { name: "stays-done", deeds } } : run;
}

/** One step back in words; the machine stays as it is, and what stays done is named. */
function wentBack(/** @type {any} */ flow, /** @type {any} */ state, /** @type {Event} */ _event, /** @type {Clock} */ clock) {
  if (state.screen.name === "resume" || state.history.length === 0) return state;
  const then = state.history.at(-1);
  const counts = { ...then.counts };
  for (const [key, times] of Object.entries(state.counts)) {
    if (isAction(flow, state, then, key)) counts[key] = Math.max(times, counts[key] ?? 0);
  }
  const notice = then.deeds.length > 0 ? { name: "stays-done", deeds: then.deeds } : null;
  const entry = { what: "back", to: then.step, deeds: then.deeds, at: clock.wall };
  const run = {
    ...state, frames: then.frames, step: then.step, facts: afterBack(then.facts, state.facts), counts, path: state.path.slice(0, then.path), history: state.history.slice(0, -1),
    wait: null, typed: {}, arrival: { shown: [], counted: true, again: true }, notice, log: [...state.log, entry], screen: { name: "back" },
  };
  return guarded(flow, run, clock);
}

/** Why somebody more qualified is there after a break: another person, or what was said before was wrong. */
export const RAISED = ["another", "mistaken"];

/** After a break: who is there, and each condition by name. */
function resumed(/** @type {any} */ flow, /** @type {any} */ state, /** @type {Event} */ event, /** @type {Clock} */ clock) {
  const asked = state.facts.holds.filter((/** @type {string} */ id) => typeof event.conditions?.[id] !== "boolean");
  const raised = PERSONS.includes(event.person) && !qualified(state.facts.person, event.person);
  const missing = [!PERSONS.includes(event.person) && "person", typeof event.alone !== "boolean" && "alone", Object.hasOwn(event, "caller") && typeof event.caller !== "boolean" && "caller", raised && !RAISED.includes(event.raised) && "raised", ...asked].filter(Boolean);
  if (missing.length > 0) return { ...state, typed: event, refusal: { reason: "unanswered", missing } };
  const confirmed = state.facts.holds.filter((/** @type {string} */ id) => event.conditions[id]);
  const caller = typeof event.caller === "boolean" ? event.caller : state.caller;
  const entry = { what: "resume", person: event.person, alone: event.alone, caller, confirmed, ...(raised ? { raised: event.raised } : {}), at: clock.wall };
  const facts = afterBreak(flow, state.facts, event.person, confirmed);
  const log = [...state.log, entry];
  if (!event.alone) return { ...state, facts, log, typed: event, refusal: { reason: "not-alone", missing: ["alone"] } };
  // Waiting counts only while what it waits on surely held.
  const kept = state.facts.holds.every((/** @type {string} */ id) => facts.holds.includes(id));
  const wait = state.wait === null || kept ? state.wait : { ...state.wait, counted: 0 };
  const run = { ...state, caller, facts, log, wait, typed: {}, arrival: { ...state.arrival, shown: [] }, screen: { name: "back" } };
  return run.arrival.counted ? guarded(flow, run, clock) : arrived(flow, run, run.step, clock);
}
