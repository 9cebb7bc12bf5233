// The service record of a run: what was done, in order, each entry chained to the one before it by a digest, so that a changed digit shows.
// Data only, in no language: words of the page and names of people are not in it. Its JSON Schema is published beside the site.
import { deviations } from "./deviations.js";
import { howChecked } from "./run-state.js";
import { digestOf } from "./sha256.js";

export const RECORD_SCHEMA = "stepward/record/1";

/**
 * @typedef {{n: number, at: string, what: string, chain: string, [key: string]: any}} Entry
 * @typedef {{schema: string, chain: string, entries: Entry[], [key: string]: any}} Record
 */

/** JSON with its keys in order and no blanks: one spelling for one meaning. @param {any} value @returns {string} */
export function canonical(value) {
  if (Array.isArray(value)) return `[${value.map(canonical).join(",")}]`;
  if (value === null || typeof value !== "object") return JSON.stringify(value);
  const keys = Object.keys(value).filter((key) => value[key] !== undefined).sort();
  return `{${keys.map((key) => `${JSON.stringify(key)}:${canonical(value[key])}`).join(",")}}`;
}

/** A time as RFC 3339 in UTC, to the second. @param {number} wall milliseconds since 1970 */
export function timeText(wall) {
  return new Date(wall).toISOString().replace(/\.\d+Z$/, "Z");
}

/** @param {any} flow @param {any} state @returns {Record} */
export function serviceRecord(flow, state) {
  const procedure = flow.procedures[flow.procedure];
  const head = {
    schema: RECORD_SCHEMA, library: flow.library, procedure: flow.procedure, title: procedure.title, revision: procedure.revision, edition: flow.edition,
    machine: { model: state.model, serial: state.about.serial, counter: state.about.counter }, ticket: state.about.ticket,
  };
  let chain = digestOf(canonical(head));
  const record = { ...head, chain, entries: /** @type {Entry[]} */ ([]) };
  for (const one of state.log) {
    const { at, ...rest } = entryOf(flow, one);
    const entry = { n: record.entries.length + 1, at: timeText(at), ...rest };
    chain = digestOf(chain + canonical(entry));
    record.entries.push({ ...entry, chain });
  }
  const end = endOf(flow, state);
  return { ...record, ...end, deviations: deviations(state), seal: digestOf(chain + canonical({ ...end, deviations: deviations(state) })) };
}

/** How it stands: ended, handed over, or under way; and how the machine is left. @param {any} flow @param {any} state */
function endOf(flow, state) {
  const last = state.log.findLast((/** @type {any} */ entry) => entry.what === "ending" && entry.depth === 0);
  const ended = state.screen.name === "ending" && last !== undefined;
  return {
    status: ended ? "ended" : state.screen.name === "hand-over" ? "handed-over" : "under-way",
    ending: ended ? { step: last.step, outcome: last.outcome, checked: howChecked(flow, state) } : null,
    left: { holds: [...state.facts.holds], "may-hold": state.facts.mayHold.filter((/** @type {string} */ id) => !state.facts.holds.includes(id)), "cure-unchecked": state.facts.uncheckedCure },
  };
}

/** One entry of the log as data that says everything without the flow at hand. @param {any} flow @param {any} entry @returns {any} */
function entryOf(flow, entry) {
  const { what, at, ...rest } = entry;
  switch (what) {
    case "way": {
      const step = flow.procedures[entry.procedure].steps[entry.step];
      const way = step.ways[entry.way];
      const reading = entry.typed === undefined ? {} : { typed: entry.typed, value: entry.value ?? null, unit: step.measure.unit, spread: entry.spread, first: entry.first, "near-an-edge": entry.near };
      const seen = ["answer", "band", "part", "unsure"].includes(way.kind) ? { how: entry.told ? "told" : "seen" } : {};
      return { at, what, procedure: entry.procedure, step: entry.step, way: way.kind, text: way.text, ...seen, ...reading };
    }
    case "caution": return { at, what, hazard: entry.hazard, step: entry.step, acknowledged: entry.caller ? "repeated" : "read" };
    case "wait-over": return { at, what, step: entry.step, required: entry.needed, waited: entry.seconds, "clocks-agreed": !entry.doubt };
    case "wait-begun": return { at, what, step: entry.step, required: entry.seconds };
    case "start": return { at, what, model: entry.model, person: entry.person, caller: entry.caller };
    case "back": return { at, what, to: entry.to, "stays-done": entry.deeds.map((/** @type {any} */ deed) => deed.step) };
    case "carry-out": return { at, what, procedure: entry.procedure, step: entry.step, callee: entry.callee };
    case "ending": return { at, what, procedure: entry.procedure, step: entry.step, outcome: entry.outcome };
    default: return { at, what, ...rest };
  }
}

/**
 * Where a record's chain first breaks: `head`, the number of an entry, `end`; `null` if it is whole.
 * @param {any} record @returns {"head" | "end" | number | null}
 */
export function brokenAt(record) {
  const { schema, library, procedure, title, revision, edition, machine, ticket, chain: first, entries, status, ending, left, deviations, seal } = record;
  if (schema !== RECORD_SCHEMA || digestOf(canonical({ schema, library, procedure, title, revision, edition, machine, ticket })) !== first) return "head";
  let chain = first;
  for (const [place, { chain: own, ...entry }] of entries.entries()) {
    if (entry.n !== place + 1 || digestOf(chain + canonical(entry)) !== own) return place + 1;
    chain = own;
  }
  return digestOf(chain + canonical({ status, ending, left, deviations })) === seal ? null : "end";
}
