// A run in a few plain lines, for the ticket: no markup, nothing wider than a ticket system takes.
import { howChecked, possibleModels, stepOf } from "../../script/run-state.js";
import { bag, ruledOutByWord, sharesLeft } from "../../script/shares.js";
import { conditionName, hazardName, modelName, outcomeWords, pathWords, unsorted } from "./record.js";
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
  const stopped = state.screen.name === "hand-over" ? unsorted(flow, state.log.at(-1)) : [];
  const end = ended ? say(howChecked(flow, state) === "told" ? "summary-ended-told" : "summary-ended", { outcome: outcomeWords(ended.outcome) }) : shown ? say("summary-last", { step: shown }) : null;
  return [
    say("summary-state", { names: names(state.facts.holds) }), ...(perhaps.length > 0 ? [say("summary-perhaps", { names: names(perhaps) })] : []),
    say("summary-cautions", { names: given.join("; ") || say("known-none") }), ...faultLines(flow, state), ...(note ? [say("summary-note", note)] : []), ...stopped, ...(end === null ? [] : [end]),
  ];
}

/** What may still be wrong and what to bring; nothing of it once the fault is shown to be gone. @param {any} flow @param {any} state @returns {string[]} */
function faultLines(flow, state) {
  if (state.facts.checked || (flow.faults?.known ?? []).length === 0) return [];
  const left = sharesLeft(flow, state);
  if (left.length === 0) return [say("summary-no-fault-fits")];
  const byWord = ruledOutByWord(flow, state, left).map((one) => one.name);
  return [
    ...listed("summary-faults", left.map((one) => `${one.name} ${shareText(one.share)}`), 2),
    ...(byWord.length === 0 ? [] : listed("summary-by-word", byWord, 1)),
    ...listed("summary-bring", bag(flow, left).map((one) => (one.share === null ? one.name : `${one.name} ${shareText(one.share)}`)), 2),
  ];
}

/** @param {number} share */
export function shareText(share) {
  const whole = Math.round(share * 100);
  return whole === 0 ? say("share-least") : say("share", { share: whole });
}

/** Names in a line or more; what has no room is counted. @param {string} key @param {string[]} names @param {number} most lines @returns {string[]} */
function listed(key, names, most) {
  const lines = [say(key)];
  for (const [place, name] of names.entries()) {
    const rest = names.length - place;
    const line = lines.at(-1) ?? "";
    const between = place === 0 ? " " : "; ";
    // The last line keeps room to count what comes after it.
    const room = WIDEST - (lines.length === most && rest > 1 ? say("summary-more", { count: rest - 1 }).length + 2 : 0);
    if ([...line, ...between, ...name].length <= room) lines[lines.length - 1] = line + between + name;
    else if (lines.length < most) lines.push(`  ${name}`);
    else return [...lines.slice(0, -1), `${line}; ${say("summary-more", { count: rest })}`];
  }
  return names.length === 0 ? [] : lines;
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
  const flat = line.replace(/[<>]/g, " ").replace(/(\S)\s+/g, "$1 ").trimEnd();
  const letters = [...flat];
  return letters.length <= widest ? flat : `${letters.slice(0, widest - 1).join("")}…`;
}
