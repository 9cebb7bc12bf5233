// What is handed over: a link, the same as a code, a text for the ticket, the record as a file.
import { packed } from "../../script/packet.js";
import { qrCode } from "../../script/qr.js";
import { otherModelOf } from "../../script/runs.js";
import { bag, sharesLeft } from "../../script/shares.js";
import { brokenAt, serviceRecord } from "../../script/service-record.js";
import { copyText } from "./copy.js";
import { deviceStore } from "./device.js";
import { make } from "./make.js";
import { modelName } from "./record.js";
import { shareText, summaryText } from "./summary.js";
import { say } from "./words.js";

/** Modules of white around a code that a reader needs (ISO/IEC 18004). */
const QUIET = 4;

/** @param {{flow: any, state: any, into: HTMLElement, send: (event: any) => void, address: string}} asked */
export function drawPacket({ flow, state, into, send, address }) {
  const link = `${address}#run=${packed(flow, state)}`;
  into.replaceChildren(
    ...(state.about.serial === "" ? [askSerial(send)] : []),
    ...otherModel(flow, state),
    make("p", {}, say("packet-why")),
    ...(address.startsWith("file:") ? [make("p", { class: "follower__notice" }, say("packet-folder"))] : []),
    copyText("follower-link", say("packet-link"), link, say("packet-copy"), 3),
    code(link),
    copyText("follower-ticket", say("packet-ticket"), summaryText(flow, state), say("packet-ticket-copy"), 12),
    ...stillPossible(flow, state),
    record(flow, state),
  );
}

/** The serial number was another model's on this device. @param {any} flow @param {any} state @returns {Node[]} */
function otherModel(flow, state) {
  const { serial } = state.about;
  const was = otherModelOf(deviceStore(), serial, state.model);
  return was === null ? [] : [make("p", { class: "follower__problem" }, say("other-model", { serial, model: modelName(flow, was) }))];
}

/** What may still be wrong, and what to bring for it. @param {any} flow @param {any} state @returns {Node[]} */
function stillPossible(flow, state) {
  const left = state.facts.checked ? [] : sharesLeft(flow, state);
  if (left.length === 0) return [];
  const rows = (/** @type {{name: string, share: number | null}[]} */ all) => all.map(({ name, share }) => make("li", { class: "follower__share" }, make("span", {}, name), make("span", { class: "follower__percent" }, share === null ? say("share-always") : shareText(share))));
  const part = (/** @type {string} */ kind, /** @type {Node[]} */ items) => (items.length === 0 ? [] : [make("h3", { class: "follower__part" }, say(kind)), make("ul", { class: "follower__shares", "data-shares": kind }, ...items)]);
  return [...part("packet-faults", rows(left)), make("p", { class: "follower__small" }, say("packet-faults-why")), ...part("packet-bring", rows(bag(flow, left)))];
}

/** Asked once; "not known" is an answer too. @param {(event: any) => void} send */
function askSerial(send) {
  const input = /** @type {HTMLInputElement} */ (make("input", { id: "follower-serial", class: "follower__text", maxlength: 200, autocomplete: "off" }));
  const save = () => send({ type: "machine", serial: input.value });
  const unknown = () => send({ type: "machine", serial: "unknown" });
  return make("div", { class: "follower__notice" }, make("label", { for: "follower-serial" }, say("packet-serial")), input,
    make("div", { class: "follower__row" }, make("button", { type: "button", class: "follower__minor", click: save }, say("packet-serial-save")), make("button", { type: "button", class: "follower__minor", click: unknown }, say("packet-serial-unknown"))));
}

/** Dark on white in every colour scheme: readers want it so. @param {string} link */
function code(link) {
  const rows = qrCode(link);
  if (rows === null) return make("p", {}, say("packet-long"));
  const size = rows.length + 2 * QUIET;
  const dark = rows.flatMap((row, y) => runsOf(row).map(([x, wide]) => `M${x + QUIET} ${y + QUIET}h${wide}v1h-${wide}z`)).join("");
  const svg = drawing("svg", { viewBox: `0 0 ${size} ${size}`, class: "follower__code", role: "img", "aria-label": say("packet-code-alt"), "shape-rendering": "crispEdges" });
  svg.append(drawing("rect", { width: size, height: size, fill: "#ffffff" }), drawing("path", { d: dark, fill: "#000000" }));
  const figure = make("figure", { class: "follower__figure" }, make("figcaption", { class: "follower__recordname" }, say("packet-code")));
  figure.append(svg);
  return figure;
}

/** Where dark modules begin in a row, and how many there are. @param {boolean[]} row @returns {[number, number][]} */
function runsOf(row) {
  /** @type {[number, number][]} */
  const runs = [];
  for (const [x, dark] of row.entries()) {
    const last = runs.at(-1);
    if (dark && last && last[0] + last[1] === x) last[1] += 1;
    else if (dark) runs.push([x, 1]);
  }
  return runs;
}

/** @param {string} tag @param {Record<string, unknown>} attributes */
function drawing(tag, attributes) {
  const element = document.createElementNS("http://www.w3.org/2000/svg", tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, String(value));
  return element;
}

/** The record as a file; where a browser gives no file, it can be copied. @param {any} flow @param {any} state */
function record(flow, state) {
  const whole = serviceRecord(flow, state);
  const text = `${JSON.stringify(whole, null, 2)}\n`;
  const broken = brokenAt(whole);
  const chain = make("p", { class: "follower__small", "data-chain": broken ?? "whole" }, broken === null ? say("packet-chain-whole") : say("packet-chain-broken", { place: broken }));
  const link = download(text, `${flow.procedure}-${new Date(state.log[0].at).toISOString().slice(0, 16).replace(/[T:]/g, "-")}.json`);
  return make("div", { class: "follower__copy" }, make("h3", { class: "follower__part" }, say("packet-record")), link, chain, copyText("follower-json", say("packet-record-json"), text, say("copy"), 5));
}

/** @param {string} text @param {string} name @returns {Node | null} */
function download(text, name) {
  try {
    const href = URL.createObjectURL(new Blob([text], { type: "application/json" }));
    return make("a", { class: "follower__link", href, download: name }, say("packet-download"));
  } catch {
    return null;
  }
}
