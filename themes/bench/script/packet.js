// A run as a short text, to be opened on another device. What travels is what people did, in order; the other device follows it again through its
// own copy of the flow. So a text that was made up leads nowhere the flow does not lead.
import { advance, begin, RAISED } from "./flow-state.js";
import { cautionShown } from "./facts.js";
import { sha256 } from "./sha256.js";

/** @typedef {import("./clock.js").Clock} Clock */
/** @typedef {{type: string, at: number, [key: string]: any}} Deed  something that somebody did, at a time on the wall clock */

const VERSION = 1;
/** Bytes of the digest that closes a packet. */
const CHECK = 6;
/** Without a deed for so long, somebody was there all the same: the log would say if not. */
const STILL_HERE_MS = 10 * 60 * 1000;
const CODES = ["start", "acknowledge", "answer", "reading", "next", "begin-wait", "back", "confirm", "note", "machine", "waited"];
const PERSONS = ["ordinary", "instructed", "skilled"];

/** What people did, from the log of a run. What the flow does of itself is not in it. @param {any} flow @param {any} state @returns {Deed[]} */
export function deedsOf(flow, state) {
  /** @type {Deed[]} */
  const deeds = [];
  let waitedFor = null;
  for (const entry of state.log) {
    const deed = deedOf(flow, entry);
    // A reading near an edge was taken twice.
    if (entry.first !== undefined) deeds.push({ type: "reading", typed: entry.first, at: entry.at });
    // The end of a wait and what follows from it are one deed.
    const follows = waitedFor !== null && entry.step === waitedFor && deed?.type === "next";
    if (deed !== null && !follows) deeds.push({ ...deed, at: entry.at });
    waitedFor = entry.what === "wait-over" ? entry.step : null;
  }
  // What of a wait surely passed is known here only: times alone would count a changed clock, and a phone that was dead.
  if (state.wait !== null) deeds.push({ type: "waited", seconds: Math.floor(state.wait.counted / 1000), at: state.last.wall });
  return deeds;
}

/** @param {any} flow @param {any} entry @returns {{type: string, [key: string]: any} | null} */
function deedOf(flow, entry) {
  switch (entry.what) {
    case "start": return { type: "start", model: entry.model, person: entry.person, alone: true, caller: entry.caller, ticket: entry.ticket, serial: entry.serial, counter: entry.counter };
    case "caution": return { type: "acknowledge", hazard: entry.hazard };
    case "wait-begun": return { type: "begin-wait" };
    case "wait-over": return { type: "next" };
    case "back": return { type: "back" };
    case "note": return { type: "note", text: entry.text };
    case "machine": return { type: "machine", serial: entry.serial };
    case "resume": return { type: "confirm", person: entry.person, alone: entry.alone, caller: entry.caller, confirmed: entry.confirmed, raised: entry.raised };
    // A reading that leads different ways on different models.
    case "hand-over": return entry.typed === undefined ? null : { type: "reading", typed: entry.typed };
    case "ending": return entry.depth > 0 ? { type: "next" } : null;
    case "way": {
      const { kind } = flow.procedures[entry.procedure].steps[entry.step].ways[entry.way];
      if (kind === "next") return { type: "next" };
      if (kind === "band" || kind === "part") return { type: "reading", typed: entry.typed };
      return kind === "answer" || kind === "unsure" ? { type: "answer", way: entry.way } : null;
    }
    default: return null;
  }
}

/** Follows deeds through a flow, each at its own time. @param {any} flow @param {Deed[]} deeds */
export function replayed(flow, deeds) {
  let wall = deeds[0]?.at ?? 0;
  const clock = () => ({ wall, running: wall });
  let state = begin(flow, clock());
  const send = (/** @type {any} */ event, /** @type {number} */ at) => {
    wall = Math.max(wall, at);
    state = advance(flow, state, event, clock());
  };
  for (const deed of deeds) {
    if (deed.type === "confirm") {
      if (state.screen.name !== "resume") send({ type: "take-over" }, wall + 1000);
      const conditions = Object.fromEntries(state.facts.holds.map((/** @type {string} */ id) => [id, deed.confirmed.includes(id)]));
      send({ ...deed, raised: deed.raised ?? "another", conditions }, Math.max(deed.at, wall + 1000));
      continue;
    }
    if (deed.type === "waited") {
      while (wall < deed.at) send({ type: "here" }, Math.min(deed.at, wall + STILL_HERE_MS));
      if (state.wait !== null) state = { ...state, wait: { ...state.wait, counted: Math.min(state.wait.counted, deed.seconds * 1000) } };
      continue;
    }
    if (deed.type === "acknowledge" && state.screen.hazard !== deed.hazard && state.step !== null) {
      state = givenAnyhow(state, deed);
      continue;
    }
    // Ages of cautions travel to the second: one that was still fresh there may be due here by a hair.
    while (AT_STEPS.includes(deed.type) && state.screen.name === "caution") {
      const { log } = state;
      send({ type: "acknowledge", hazard: state.screen.hazard }, wall + 1000);
      state = { ...state, log };
    }
    // A wait that was left had been waited for, whatever somebody did to the wall clock meanwhile.
    while (deed.type === "next" && state.wait !== null && state.wait.counted < state.wait.needed) send({ type: "here" }, wall + Math.min(STILL_HERE_MS, state.wait.needed - state.wait.counted));
    // Two screens never change within the dead time.
    const at = Math.max(deed.at, wall + 1000);
    while (at - wall > STILL_HERE_MS) send({ type: "here" }, wall + STILL_HERE_MS);
    send(deed, at);
  }
  return state;
}

/** What is only done where a step's words are in sight. */
const AT_STEPS = ["answer", "reading", "next", "begin-wait"];

/** A caution that was shown again there for a reason that times alone do not tell (a clock set back): it was given, and stays in the record. @param {any} state @param {Deed} deed */
function givenAnyhow(state, deed) {
  const entry = { what: "caution", hazard: deed.hazard, step: state.step, caller: state.caller, at: deed.at };
  return { ...state, facts: cautionShown(state.facts, deed.hazard), log: [...state.log, entry] };
}

/** The packet of a run, as text that may stand in an address. @param {any} flow @param {any} state */
export function packed(flow, state) {
  const out = new Writer();
  out.byte(VERSION);
  out.text(flow.procedure);
  out.number(flow.procedures[flow.procedure].revision ?? 0);
  for (const pair of flow.edition.match(/../g) ?? []) out.byte(parseInt(pair, 16));
  let last = 0;
  for (const deed of deedsOf(flow, state)) {
    const at = Math.max(last, Math.floor(deed.at / 1000));
    out.byte(CODES.indexOf(deed.type));
    out.number(at - last);
    last = at;
    put(out, flow, deed);
  }
  const bytes = Uint8Array.from(out.bytes);
  return base64url([...bytes, ...sha256(bytes).slice(0, CHECK)]);
}

/** @param {Writer} out @param {any} flow @param {Deed} deed */
function put(out, flow, deed) {
  switch (deed.type) {
    case "start":
      out.number(1 + modelIds(flow).indexOf(deed.model));
      out.byte(PERSONS.indexOf(deed.person) + (deed.caller ? 4 : 0));
      for (const text of [deed.ticket, deed.serial, deed.counter]) out.text(text ?? "");
      break;
    case "acknowledge": out.number(flow.hazards.findIndex((/** @type {any} */ one) => one.id === deed.hazard)); break;
    case "answer": out.number(deed.way); break;
    case "reading":
      out.number(Object.keys(deed.typed).length);
      for (const [field, typed] of Object.entries(deed.typed)) {
        out.text(field === "value" ? "" : field);
        out.text(String(typed));
      }
      break;
    case "confirm":
      out.byte(PERSONS.indexOf(deed.person) + (deed.caller ? 4 : 0) + (deed.alone ? 8 : 0) + 16 * (RAISED.indexOf(deed.raised) + 1));
      out.number(deed.confirmed.length);
      for (const id of deed.confirmed) out.number(flow.conditions.findIndex((/** @type {any} */ one) => one.id === id));
      break;
    case "note": out.text(deed.text); break;
    case "machine": out.text(deed.serial); break;
    case "waited": out.number(deed.seconds); break;
  }
}

/** @param {any} flow @returns {string[]} */
function modelIds(flow) {
  return [...flow.models.map((/** @type {any} */ model) => model.id), "unknown"];
}

/**
 * The run in a packet, or why there is none: `cut` (not whole, or a slip in it), `newer` (written by a later version of this page), `procedure` (of
 * another one: `id` says which), `edition` (of another revision or text of this one: `revision` says which), `other` (it does not fit this flow).
 * @param {any} flow @param {string} text @returns {{run: any} | {reason: string, id?: string, revision?: number}}
 */
export function unpacked(flow, text) {
  const bytes = fromBase64url(text);
  const body = bytes?.slice(0, -CHECK);
  if (!bytes || !body || bytes.length <= CHECK || !sha256(body).slice(0, CHECK).every((byte, place) => byte === bytes[body.length + place])) return { reason: "cut" };
  try {
    const reader = new Reader(body);
    if (reader.byte() !== VERSION) return { reason: "newer" };
    const id = reader.text();
    const revision = reader.number();
    if (id !== flow.procedure) return { reason: "procedure", id };
    const edition = flow.edition.replace(/../g, () => reader.byte().toString(16).padStart(2, "0"));
    if (edition !== flow.edition) return { reason: "edition", revision };
    const run = replayed(flow, deedsIn(reader, flow));
    return run.frames.length > 0 ? { run } : { reason: "other" };
  } catch {
    return { reason: "other" };
  }
}

/** @param {Reader} reader @param {any} flow */
function deedsIn(reader, flow) {
  /** @type {Deed[]} */
  const deeds = [];
  let seconds = 0;
  while (!reader.done()) {
    const type = CODES[reader.byte()];
    seconds += reader.number();
    deeds.push({ type, at: seconds * 1000, ...take(reader, flow, type) });
  }
  return deeds;
}

/** @param {Reader} reader @param {any} flow @param {string} type @returns {Record<string, any>} */
function take(reader, flow, type) {
  switch (type) {
    case "start": {
      const model = modelIds(flow)[reader.number() - 1];
      const who = reader.byte();
      return { model, person: PERSONS[who & 3], alone: true, caller: (who & 4) > 0, ticket: reader.text(), serial: reader.text(), counter: reader.text() };
    }
    case "acknowledge": return { hazard: flow.hazards[reader.number()].id };
    case "answer": return { way: reader.number() };
    case "reading": return { typed: Object.fromEntries(Array.from({ length: reader.number() }, () => [reader.text() || "value", reader.text()])) };
    case "confirm": {
      const who = reader.byte();
      const confirmed = Array.from({ length: reader.number() }, () => flow.conditions[reader.number()].id);
      return { person: PERSONS[who & 3], caller: (who & 4) > 0, alone: (who & 8) > 0, raised: RAISED[(who >> 4) - 1], confirmed };
    }
    case "note": return { text: reader.text() };
    case "machine": return { serial: reader.text() };
    case "waited": return { seconds: reader.number() };
    case "next": case "begin-wait": case "back": return {};
    default: throw new Error("no such deed");
  }
}

/** Numbers seven bits a byte, the lowest first (as LEB128); texts with their length before them. */
class Writer {
  /** @type {number[]} */
  bytes = [];
  /** @param {number} value */
  byte(value) {
    this.bytes.push(value & 255);
  }
  /** @param {number} value */
  number(value) {
    let left = value;
    for (; left >= 128; left = Math.floor(left / 128)) this.byte((left % 128) + 128);
    this.byte(left);
  }
  /** @param {string} text */
  text(text) {
    const bytes = new TextEncoder().encode(text);
    this.number(bytes.length);
    bytes.forEach((byte) => this.byte(byte));
  }
}

class Reader {
  /** @param {number[]} bytes */
  constructor(bytes) {
    this.bytes = bytes;
    this.at = 0;
  }
  done() {
    return this.at >= this.bytes.length;
  }
  byte() {
    if (this.done()) throw new Error("cut");
    return this.bytes[this.at++];
  }
  number() {
    let value = 0;
    for (let factor = 1; ; factor *= 128) {
      const byte = this.byte();
      value += (byte % 128) * factor;
      if (byte < 128) return value;
    }
  }
  text() {
    const length = this.number();
    if (this.at + length > this.bytes.length) throw new Error("cut");
    this.at += length;
    return new TextDecoder().decode(Uint8Array.from(this.bytes.slice(this.at - length, this.at)));
  }
}

const LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

/** Base64 for addresses (RFC 4648, 5), without padding. @param {number[]} bytes */
function base64url(bytes) {
  let text = "";
  for (let at = 0; at < bytes.length; at += 3) {
    const three = (bytes[at] << 16) | ((bytes[at + 1] ?? 0) << 8) | (bytes[at + 2] ?? 0);
    const letters = [18, 12, 6, 0].map((shift) => LETTERS[(three >> shift) & 63]).join("");
    text += letters.slice(0, Math.min(4, bytes.length - at + 1));
  }
  return text;
}

/** The bytes, or `null` if the text is no such thing. @param {string} text */
function fromBase64url(text) {
  const values = [...text].map((letter) => LETTERS.indexOf(letter));
  if (values.includes(-1) || values.length % 4 === 1) return null;
  /** @type {number[]} */
  const bytes = [];
  for (let at = 0; at < values.length; at += 4) {
    const part = values.slice(at, at + 4);
    const four = part.reduce((sum, value, place) => sum | (value << (18 - 6 * place)), 0);
    const three = [16, 8, 0].map((shift) => (four >> shift) & 255);
    // Bits that belong to no byte are zero, so that each packet has one spelling.
    if (three.slice(part.length - 1).some((rest) => rest !== 0)) return null;
    bytes.push(...three.slice(0, part.length - 1));
  }
  return bytes;
}
