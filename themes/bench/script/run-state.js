// A run: where it stands, what was noted, what it comes back to. Questions about a state and small changes of it; what leads on is in
// `flow-state.js`.
import { cautionFresh, takesMs } from "./facts.js";

/** @typedef {import("./clock.js").Clock} Clock */
/** @typedef {{kind: string, id: string}} Missing */

/** Why a procedure is never started by itself, whoever asks; `null` if it may be. @param {any} procedure @returns {Missing | null} */
export function neverStarts(procedure) {
  if (procedure.status === "withdrawn" || procedure.start === null) return { kind: "withdrawn", id: procedure.id };
  return procedure.requires.length > 0 ? { kind: "task", id: procedure.id } : null;
}

/** The procedure that is being followed. @param {any} flow @param {any} state */
export function procedureOf(flow, state) {
  return flow.procedures[state.frames.at(-1)?.procedure ?? flow.procedure];
}

/** The step one stands at, or `null`. @param {any} flow @param {any} state */
export function stepOf(flow, state) {
  return state.step === null ? null : procedureOf(flow, state).steps[state.step] ?? null;
}

/** The models the machine may be; one `null` for a library without models. @param {any} flow @param {any} state @returns {any[]} */
export function possibleModels(flow, state) {
  const ids = state.model === null ? flow.procedures[flow.procedure].models : [state.model];
  const models = flow.models.filter((/** @type {any} */ model) => ids.includes(model.id));
  return models.length > 0 ? models : [null];
}

/** @param {any} run @param {string} step */
function countKey(run, step) {
  return `${run.frames.at(-1).id}/${step}`;
}
/** @param {any} run @param {string} step */
export function timesDone(run, step) {
  return run.counts[countKey(run, step)] ?? 0;
}
/** @param {any} run @param {string} step */
export function withCount(run, step) {
  return { ...run, counts: { ...run.counts, [countKey(run, step)]: timesDone(run, step) + 1 } };
}

/** @param {any} run @param {Missing[]} missing @param {Clock} clock @param {any} reading what was typed, if that is what cannot be sorted */
export function handOver(run, missing, clock, reading = {}) {
  const entry = { what: "hand-over", step: run.step, missing, ...reading, at: clock.wall };
  return { ...run, wait: null, screen: { name: "hand-over", missing }, log: [...run.log, entry] };
}

/** Cautions to show before a step's words, most severe first: its own, on every arrival, and those of its exposures that are missing or out of date. */
export function cautionsDue(/** @type {any} */ flow, /** @type {any} */ run, /** @type {any} */ step) {
  const own = step.cautions.filter((/** @type {string} */ id) => !run.arrival.shown.includes(id));
  const needed = [...step.cautions, ...step.exposes.map((/** @type {any} */ one) => one.hazard)];
  const stale = needed.filter((id) => !cautionFresh(flow, run.facts, id));
  return flow.hazards.map((/** @type {any} */ hazard) => hazard.id).filter((/** @type {string} */ id) => own.includes(id) || stale.includes(id));
}

/** How long a step waits, in milliseconds. A condition that is already reached needs no second wait. */
export function waitMs(/** @type {any} */ flow, /** @type {any} */ run, /** @type {any} */ step) {
  const plain = (step.wait ?? 0) * 1000;
  const reached = step.waitFor === null || run.facts.holds.includes(step.waitFor);
  return reached ? plain : Math.max(plain, takesMs(flow, step.waitFor, possibleModels(flow, run)));
}

/** An answer on the path: words for the person, a line for the record. @param {any} run @param {any} step @param {number} index @param {any} reading @param {Clock} clock */
export function noted(run, step, index, reading, clock) {
  const frame = run.frames.at(-1);
  // What somebody said on the phone was told, not seen.
  const told = run.caller && ["answer", "band", "part", "unsure"].includes(step.ways[index].kind) ? { told: true } : {};
  const entry = { what: "way", procedure: frame.procedure, step: step.id, way: index, ...told, ...reading, at: clock.wall, depth: run.frames.length - 1 };
  return { ...run, path: [...run.path, entry], log: [...run.log, entry] };
}

/** What going back returns to. `deeds` are the steps whose work stays done. @param {any} state @param {any} step @param {any} way */
export function withSnapshot(state, step, way) {
  const { frames, facts, counts, path } = state;
  const acts = step.sets.length + step.clears.length + step.cures.length + (way ? way.sets.length + way.clears.length : 0) > 0;
  const again = state.arrival.again && step.kind === "do" ? withCount(state, step.id) : state;
  const snapshot = { frames, step: state.step, facts, counts, path: path.length, deeds: acts ? [{ procedure: frames.at(-1).procedure, step: step.id }] : [] };
  return { ...again, history: [...state.history, snapshot] };
}

/** A procedure that was carried out cured something: going back does not undo that either. @param {any} run @param {any} call */
export function withDeed(run, call) {
  const last = run.history.at(-1);
  const deeds = [...last.deeds, { procedure: run.frames.at(-1).procedure, step: call.id }];
  return { ...run, history: [...run.history.slice(0, -1), { ...last, deeds }] };
}

/** Conditions that must not be left behind and may hold. @param {any} flow @param {any} facts */
export function leftBehind(flow, facts) {
  return flow.conditions.filter((/** @type {any} */ one) => one.mustClear && facts.mayHold.includes(one.id)).map((/** @type {any} */ one) => one.id);
}

/** @param {any} facts @param {any} step @returns {Missing[]} */
export function notChecked(facts, step) {
  const unproved = (step.outcome === "fixed" && !facts.checked) || (step.outcome === "no-fault" && facts.uncheckedCure);
  return unproved ? [{ kind: "check", id: step.outcome }] : [];
}

/** How the check that the cure holds was made: `seen`, `told` on the phone, `null` if it was not. @param {any} flow @param {any} state */
export function howChecked(flow, state) {
  if (!state.facts.checked) return null;
  const check = state.path.findLast((/** @type {any} */ entry) => entry.what === "way" && flow.procedures[entry.procedure].steps[entry.step].ways[entry.way].fixed);
  return check?.told ? "told" : "seen";
}

/** Whether a count is of an action: what was done to the machine was done. @param {any} flow @param {any} state @param {any} then @param {string} key */
export function isAction(flow, state, then, key) {
  const [frameId, step] = key.split("/");
  const frame = [...state.frames, ...then.frames].find((one) => String(one.id) === frameId);
  // The count of a procedure that was left altogether is kept: nobody can return into it by an answer.
  return !frame || ["do", "carry-out"].includes(flow.procedures[frame.procedure].steps[step]?.kind);
}
