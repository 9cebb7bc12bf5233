// The path and the record in words. Texts only; no document.
import { howChecked } from "../../script/run-state.js";
import { say, sayOf, duration } from "./words.js";

/** @param {any} flow @param {string} id */
export function conditionName(flow, id) {
  return flow.conditions.find((/** @type {any} */ one) => one.id === id)?.name ?? id;
}

/** @param {any} flow @param {string} id */
export function hazardName(flow, id) {
  return flow.hazards.find((/** @type {any} */ one) => one.id === id)?.name ?? id;
}

/** @param {any} flow @param {string | null} id */
export function modelName(flow, id) {
  return id === null || id === "unknown" ? say("model-unknown") : flow.models.find((/** @type {any} */ one) => one.id === id)?.name ?? id;
}

/** What is missing, in words. @param {any} flow @param {{kind: string, id: string}} missing */
export function missingWords(flow, missing) {
  if (missing.kind === "condition") return say("missing-condition", { name: conditionName(flow, missing.id) });
  if (missing.kind === "person") return say("missing-person", { person: sayOf("need", missing.id) });
  return sayOf("missing", missing.kind);
}

/** @param {string} outcome */
export function outcomeWords(outcome) {
  const words = sayOf("end", outcome);
  return words === outcome ? say("end-task", { outcome: outcome.replaceAll("-", " ") }) : words;
}

/**
 * One entry of the path: what was asked and what was said.
 * @param {any} flow @param {any} entry
 * @returns {{asked: string, said: string}}
 */
export function pathWords(flow, entry) {
  const step = flow.procedures[entry.procedure].steps[entry.step];
  if (entry.what === "carry-out") return { asked: say("path-carry-out"), said: step.text };
  if (entry.what === "ending") return { asked: step.text, said: outcomeWords(entry.outcome) };
  const way = step.ways[entry.way];
  const unit = step.measure?.unit ?? "";
  const said = entry.value !== undefined ? `${entry.value} ${unit}`.trim()
    : way.kind === "unsure" ? say(step.kind === "measure" ? "unsure-measure" : "unsure")
    : way.kind === "otherwise" ? say("path-otherwise")
    : way.kind === "model" ? modelName(flow, way.text)
    : way.kind === "outcome" ? outcomeWords(way.text)
    : way.text ?? "";
  return { asked: step.kind === "by-model" ? say("known-model") : step.text, said };
}

/** @param {number} wall */
function timeOf(wall) {
  return new Date(wall).toISOString().slice(0, 16).replace("T", " ") + " UTC";
}

/** A run as plain text, without names of people. @param {any} flow @param {any} state */
export function recordText(flow, state) {
  const procedure = flow.procedures[flow.procedure];
  const lines = [say("record-title", { title: procedure.title, revision: procedure.revision ?? "-" }), flow.library];
  let first = true;
  for (const entry of state.log) {
    if (first) lines.push(timeOf(entry.at));
    first = false;
    lines.push(...recordLines(flow, state, entry));
  }
  return lines.join("\n") + "\n";
}

/** A run of another edition: its steps are not known here, so its entries stand as they were kept. @param {any} state */
export function rawRecord(state) {
  return [`${state.edition}`, ...state.log.map((/** @type {any} */ { at, ...entry }) => `${timeOf(at)} ${JSON.stringify(entry)}`)].join("\n") + "\n";
}

/** @param {any} flow @param {any} state @param {any} entry @returns {string[]} */
function recordLines(flow, state, entry) {
  const textOf = (/** @type {string} */ id) => stepText(flow, entry.procedure, id);
  switch (entry.what) {
    case "note": return [say("record-note", { text: entry.text })];
    case "machine": return [say("record-machine", { serial: entry.serial })];
    case "start": return [...["ticket", "counter"].filter((name) => state.about?.[name]).map((name) => say(`record-${name}`, state.about)), ...(entry.serial ? [say("record-machine", entry)] : []), ...(flow.models.length > 0 ? [say("record-model", { model: modelName(flow, entry.model) })] : []), say("record-person", { person: sayOf("person", entry.person) })];
    case "caution": return [say(entry.caller ? "record-caution-caller" : "record-caution", { name: hazardName(flow, entry.hazard) })];
    case "back": return [say("record-back", { step: textOf(entry.to) })];
    case "wait-over": return [say("record-wait", { time: duration(entry.seconds), step: textOf(entry.step) })];
    case "resume": return [say("record-resume", { person: sayOf("person", entry.person), names: entry.confirmed.map((/** @type {string} */ id) => conditionName(flow, id)).join(", ") || say("known-none") }), ...(entry.raised ? [say(`raised-${entry.raised}`)] : [])];
    case "hand-over": return [say("record-hand-over", { missing: entry.missing.map((/** @type {any} */ one) => missingWords(flow, one)).join("; ") }), ...unsorted(flow, entry)];
    case "ending": return entry.depth === 0 ? [say("record-ending", { outcome: outcomeWords(entry.outcome), step: textOf(entry.step) }), ...(state.screen.name === "ending" && howChecked(flow, state) === "told" ? [say("checked-told")] : [])] : [];
    case "way": case "carry-out": {
      const { asked, said } = pathWords(flow, entry);
      // A question brings its own mark.
      const between = /[?.!:]$/.test(asked) ? " " : ": ";
      return [`${"  ".repeat(entry.depth)}${asked}${said === "" ? "" : between + said}${entry.told ? ` (${say("told")})` : ""}`];
    }
    default: return [];
  }
}

/** A reading that could not be sorted, since it leads different ways on different models. @param {any} flow @param {any} entry @returns {string[]} */
export function unsorted(flow, { typed, step }) {
  return typed === undefined ? [] : [say("record-reading", { value: Object.values(typed).join(" / "), step: stepText(flow, undefined, step) })];
}

/** @param {any} flow @param {string | undefined} procedure @param {string} id */
function stepText(flow, procedure, id) {
  const own = procedure ? [flow.procedures[procedure]] : Object.values(flow.procedures);
  return own.find((/** @type {any} */ one) => Object.hasOwn(one.steps, id))?.steps[id].text ?? id;
}
