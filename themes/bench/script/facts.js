// The facts of the safety proof, from what really happened: which caution was shown how long ago, what holds at the machine, who is there.
import { bandShows } from "./reading.js";

/**
 * @typedef {{steps: number, ms: number}} Age
 * @typedef {object} Facts
 * @property {Record<string, Age>} ages    by hazard; a hazard that is not here was never shown, or no longer counts
 * @property {string[]} holds              conditions that hold
 * @property {string[]} mayHold            conditions that hold or may hold (something was undone in words, or not confirmed)
 * @property {Record<string, number>} waited  milliseconds of waiting since the condition before it began
 * @property {string} person
 * @property {boolean} checked
 * @property {boolean} uncheckedCure
 */

/** From the least qualified to the most. */
export const PERSONS = ["ordinary", "instructed", "skilled"];

/** @param {string} person @param {string | null} least */
export function qualified(person, least) {
  return least === null || PERSONS.indexOf(person) >= PERSONS.indexOf(least);
}

/** @param {string} one @param {string} other */
function lowerPerson(one, other) {
  return qualified(one, other) ? other : one;
}

/** @param {string} person @returns {Facts} */
export function firstFacts(person) {
  return { ages: {}, holds: [], mayHold: [], waited: {}, person, checked: false, uncheckedCure: false };
}

/** @param {any} flow @param {Facts} facts @param {string} hazard */
export function cautionFresh(flow, facts, hazard) {
  if (!Object.hasOwn(facts.ages, hazard)) return false;
  const age = facts.ages[hazard];
  return age.steps <= flow.cautionWithin.steps && age.ms <= flow.cautionWithin.seconds * 1000;
}

/** Ages a caution by time. @param {Facts} facts @param {number} ms */
export function agedBy(facts, ms) {
  return { ...facts, ages: mapAges(facts.ages, (age) => ({ steps: age.steps, ms: age.ms + ms })) };
}

/** Ages every caution by one step. @param {Facts} facts */
export function agedByStep(facts) {
  return { ...facts, ages: mapAges(facts.ages, (age) => ({ steps: age.steps + 1, ms: age.ms })) };
}

/** @param {Record<string, Age>} ages @param {(age: Age) => Age} change */
function mapAges(ages, change) {
  return Object.fromEntries(Object.entries(ages).map(([hazard, age]) => [hazard, change(age)]));
}

/** The caution for a hazard has just been shown. @param {Facts} facts @param {string} hazard */
export function cautionShown(facts, hazard) {
  return { ...facts, ages: { ...facts.ages, [hazard]: { steps: 0, ms: 0 } } };
}

/** No caution counts any more. @param {Facts} facts */
export function cautionsVoid(facts) {
  return { ...facts, ages: {} };
}

/** @param {any} flow @param {string} id */
function conditionOf(flow, id) {
  return flow.conditions.find((/** @type {any} */ condition) => condition.id === id);
}

/**
 * A condition, and all that comes after it, no longer holds.
 * @param {any} flow @param {Facts} facts @param {string} id @param {string[]} seen
 * @returns {Facts}
 */
export function cleared(flow, facts, id, seen = []) {
  if (seen.includes(id)) return facts;
  const without = (/** @type {string[]} */ list) => list.filter((other) => other !== id);
  const voided = flow.hazards.filter((/** @type {any} */ hazard) => hazard.requires.includes(id));
  let next = { ...facts, holds: without(facts.holds), mayHold: without(facts.mayHold), waited: { ...facts.waited, [id]: 0 }, ages: withoutAges(facts.ages, voided) };
  for (const later of flow.conditions) {
    if (later.after === id) next = cleared(flow, next, later.id, [...seen, id]);
  }
  return next;
}

/** @param {Record<string, Age>} ages @param {any[]} hazards */
function withoutAges(ages, hazards) {
  return Object.fromEntries(Object.entries(ages).filter(([id]) => !hazards.some((hazard) => hazard.id === id)));
}

/**
 * A condition begins to hold, if it can.
 * @param {any} flow @param {Facts} facts @param {string} id
 * @param {boolean} shown by waiting long enough, or by a reading
 * @returns {Facts}
 */
export function set(flow, facts, id, shown = false) {
  const condition = conditionOf(flow, id);
  if (!condition) return facts;
  let next = facts;
  for (const other of condition.clears) next = cleared(flow, next, other);
  const returning = flow.hazards.filter((/** @type {any} */ hazard) => hazard.returnsWith.includes(id));
  next = { ...next, ages: withoutAges(next.ages, returning) };
  if (condition.after !== null && !next.holds.includes(condition.after)) return next;
  if (condition.takes !== null && !shown) return next;
  const withId = (/** @type {string[]} */ list) => (list.includes(id) ? list : [...list, id]);
  return { ...next, holds: withId(next.holds), mayHold: withId(next.mayHold) };
}

/**
 * What the step itself does: `clears`, then `sets`, then `cures`.
 * @param {any} flow @param {Facts} facts @param {any} step
 */
export function afterStep(flow, facts, step) {
  let next = facts;
  for (const id of step.clears) next = cleared(flow, next, id);
  for (const id of step.sets) next = set(flow, next, id);
  return step.cures.length > 0 ? { ...next, checked: false, uncheckedCure: true } : next;
}

/**
 * What the way taken does.
 * @param {any} flow @param {Facts} facts @param {any} step @param {number} index
 * @param {any[]} models the machine may be any of these; a band shows a condition only if it does on all of them
 */
export function afterWay(flow, facts, step, index, models) {
  const way = step.ways[index];
  let next = facts;
  for (const id of way.clears) next = cleared(flow, next, id);
  if (way.kind === "band") next = afterReading(flow, next, step, index, models);
  else for (const id of way.sets) next = set(flow, next, id);
  if (way.person !== null) next = { ...next, person: way.person };
  return way.fixed ? { ...next, checked: true, uncheckedCure: false } : next;
}

/** @param {any} flow @param {Facts} facts @param {any} step @param {number} index @param {any[]} models */
function afterReading(flow, facts, step, index, models) {
  const decided = new Set(step.ways.filter((/** @type {any} */ way) => way.kind === "band").flatMap((/** @type {any} */ way) => way.sets));
  const shows = (/** @type {string} */ id) => models.every((model) => bandShows(step, index, conditionOf(flow, id)?.shownBy, model));
  let next = facts;
  for (const id of decided) {
    if (conditionOf(flow, id)?.shownBy && !shows(id)) next = cleared(flow, next, id);
  }
  for (const id of step.ways[index].sets) next = set(flow, next, id, shows(id));
  return next;
}

/** Seconds that a condition takes on any of these models: the longest. @param {any} flow @param {string} id @param {any[]} models */
export function takesMs(flow, id, models) {
  const takes = conditionOf(flow, id)?.takes;
  if (!takes) return 0;
  const onModel = (/** @type {any} */ model) => takes.seconds ?? takes.byModel[model?.id] ?? Infinity;
  return Math.max(...models.map(onModel)) * 1000;
}

/** Somebody waited so long. @param {any} flow @param {Facts} facts @param {number} ms @param {any[]} models */
export function waited(flow, facts, ms, models) {
  let next = facts;
  const running = flow.conditions.filter((/** @type {any} */ condition) => condition.takes !== null && facts.holds.includes(condition.after));
  for (const { id } of running) {
    next = { ...next, waited: { ...next.waited, [id]: (Object.hasOwn(next.waited, id) ? next.waited[id] : 0) + ms } };
    if (next.waited[id] >= takesMs(flow, id, models)) next = set(flow, next, id, true);
  }
  return next;
}

/**
 * Going back undoes words and answers, never the machine: what holds is what held then and holds now; what no longer counts stays so.
 * @param {Facts} then @param {Facts} now
 * @returns {Facts}
 */
export function afterBack(then, now) {
  const both = Object.keys(then.waited).filter((id) => Object.hasOwn(now.waited, id));
  return {
    ages: now.ages,
    holds: then.holds.filter((id) => now.holds.includes(id)),
    mayHold: [...new Set([...then.mayHold, ...now.mayHold])],
    waited: Object.fromEntries(both.map((id) => [id, Math.min(then.waited[id], now.waited[id])])),
    person: lowerPerson(then.person, now.person),
    checked: then.checked && now.checked,
    uncheckedCure: then.uncheckedCure || now.uncheckedCure,
  };
}

/**
 * What the machine's state keeps of a break: only what somebody confirmed by name.
 * @param {any} flow @param {Facts} facts @param {string} person @param {string[]} confirmed
 */
export function afterBreak(flow, facts, person, confirmed) {
  let next = { ...cautionsVoid(facts), person };
  for (const id of facts.holds) {
    if (!confirmed.includes(id)) next = cleared(flow, next, id);
  }
  return { ...next, mayHold: facts.mayHold };
}

/**
 * What stands in the way of a step: conditions that do not hold, a person not qualified enough.
 * @param {any} flow @param {Facts} facts @param {any} step @param {string} today
 * @returns {{kind: "condition" | "person", id: string}[]}
 */
export function standsInTheWay(flow, facts, step, today) {
  const after = afterStep(flow, facts, step);
  /** @type {{kind: "condition" | "person", id: string}[]} */
  const missing = [];
  for (const { hazard: id, waived } of step.exposes) {
    const hazard = flow.hazards.find((/** @type {any} */ one) => one.id === id);
    const holds = (/** @type {string} */ need) => facts.holds.includes(need) && after.holds.includes(need);
    if (!(waived.requires >= today)) missing.push(...hazard.requires.filter((/** @type {string} */ need) => !holds(need)).map(asCondition));
    if (!(waived.least >= today) && !qualified(facts.person, hazard.least)) missing.push(asPerson(hazard.least));
  }
  missing.push(...step.requires.filter((/** @type {string} */ need) => !facts.holds.includes(need)).map(asCondition));
  const before = step.waitFor === null ? null : conditionOf(flow, step.waitFor)?.after ?? null;
  if (before !== null && !facts.holds.includes(before)) missing.push(asCondition(before));
  if (!qualified(facts.person, step.least)) missing.push(asPerson(step.least));
  return missing.filter((one, place) => missing.findIndex((other) => other.id === one.id) === place);
}

/** @param {string} id @returns {{kind: "condition", id: string}} */
function asCondition(id) {
  return { kind: "condition", id };
}

/** @param {string} id @returns {{kind: "person", id: string}} */
function asPerson(id) {
  return { kind: "person", id };
}
