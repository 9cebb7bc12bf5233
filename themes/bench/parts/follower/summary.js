// A run in a few plain lines, for the ticket: no markup, nothing wider than a ticket system takes.
import { possibleModels, stepOf } from "../../script/run-state.js";
import { conditionName, hazardName, modelName, outcomeWords, pathWords } from "./record.js";
import { say, sayOf } from "./words.js";

export const MOST_LINES = 20;
export const WIDEST = 100;

/** @param {any} flow @param {any} state */
export function summaryText(flow, state) {
  const head = headLines(flow, state);
  const foot = footLines(flow, state);
  const said = state.path.filter((/** @type {any} */ entry) => entry.what === "way" && entry.way !== undefined && isSaid(flow, entry)).map((/** @type {any} */ entry) => answerLine(flow, state, entry));
  const room = MOST_LINES - head.length - foot.length;
  const dropped = said.length - (room - 1);
  const shown = said.length <= room ? said : [say("summary-earlier", { count: dropped }), ...said.slice(dropped)];
  return [...head, ...shown, ...foot].map((line) => fitted(line, WIDEST)).join("\n") + "\n";
}

/** What somebody said or measured; not what follows of itself. @param {any} flow @param {any} entry */
function isSaid(flow, entry) {
  return ["answer", "band", "part", "unsure"].includes(flow.procedures[entry.procedure].steps[entry.step].ways[entry.way].kind);
}

/** @param {any} flow @param {any} state */
function headLines(flow, state) {
  const procedure = flow.procedures[flow.procedure];
  const { ticket, serial, counter } = state.about;
  const unknown = say("summary-unknown");
  const model = possibleModels(flow, state)[0] === null ? unknown : modelName(flow, state.model);
  return [
    `${say("record-title", { title: procedure.title, revision: procedure.revision ?? "-" })} (${procedure.id})`,
    ...(ticket === "" ? [] : [say("summary-ticket", { ticket })]),
    say("summary-machine", { model, serial: serial || unknown, counter: counter || unknown }),
    say("summary-person", { person: sayOf("person", state.facts.person) }),
    ...(state.caller ? [say("summary-phone")] : []),
  ];
}

/** @param {any} flow @param {any} state */
function footLines(flow, state) {
  const names = (/** @type {string[]} */ ids) => ids.map((id) => conditionName(flow, id)).join("; ") || say("known-none");
  const perhaps = state.facts.mayHold.filter((/** @type {string} */ id) => !state.facts.holds.includes(id));
  const given = [...new Set(state.log.filter((/** @type {any} */ entry) => entry.what === "caution").map((/** @type {any} */ entry) => hazardName(flow, entry.hazard)))];
  const note = state.log.findLast((/** @type {any} */ entry) => entry.what === "note");
  const ended = state.screen.name === "ending" ? state.log.findLast((/** @type {any} */ entry) => entry.what === "ending" && entry.depth === 0) : null;
  // A step whose cautions are not all read is not named: what was asked before it is.
  const shown = ["step", "wait"].includes(state.screen.name) ? stepOf(flow, state).text : state.path.length > 0 ? pathWords(flow, state.path.at(-1)).asked : null;
  const end = ended ? say("summary-ended", { outcome: outcomeWords(ended.outcome) }) : shown ? say("summary-last", { step: shown }) : null;
  return [
    say("summary-state", { names: names(state.facts.holds) }), ...(perhaps.length > 0 ? [say("summary-perhaps", { names: names(perhaps) })] : []),
    say("summary-cautions", { names: given.join("; ") || say("known-none") }), ...(note ? [say("summary-note", note)] : []), ...(end === null ? [] : [end]),
  ];
}

/** @param {any} flow @param {any} state @param {any} entry */
function answerLine(flow, state, entry) {
  const { asked, said } = pathWords(flow, entry);
  const how = say(entry.told ? "told" : "seen");
  // What was answered is kept whole before what was asked.
  const room = Math.max(20, WIDEST - [...`${how}:  ${said}`].length);
  return `${how}: ${fitted(asked, room)} ${said}`;
}

/** One line, no longer than it may be. @param {string} line @param {number} widest */
function fitted(line, widest) {
  const flat = line.replace(/\s+/g, " ").replace(/[<>]/g, " ").trim();
  const letters = [...flat];
  return letters.length <= widest ? flat : `${letters.slice(0, widest - 1).join("")}…`;
}
