// Every screen of a flow, each with a run that stands at it: found breadth first, by everything that may be answered there.
import { advance, begin } from "../../themes/bench/script/flow-state.js";
import { fieldsOf } from "../../themes/bench/script/reading.js";
import { random } from "../script/observer.mjs";

const SECOND = 1000;
/** Readings that are tried at a measurement that is computed or matched, so that each of its ways is found; elsewhere one in each band is. */
const READINGS = 800;

/** What tells one screen from another: where, and what is known of the machine. */
export function keyOf(state) {
  const { screen, frames, step, facts, model } = state;
  return JSON.stringify([screen.name, screen.hazard ?? null, frames.map((frame) => [frame.procedure, frame.caller]), step, [...facts.holds].sort(), facts.person, model]);
}

/** Runs by key, each with the clock at which it came there. */
export function everyScreen(flow, person) {
  const clock = { wall: Date.UTC(2026, 10, 25, 9), running: 1000 };
  const procedure = flow.procedures[flow.procedure];
  const roll = random(99);
  const found = new Map();
  const open = [];
  const take = (state, at) => {
    if (found.has(keyOf(state))) return;
    found.set(keyOf(state), { state, clock: at });
    open.push({ state, clock: at });
  };
  for (const model of [...procedure.models, "unknown"]) {
    const at = { wall: clock.wall + SECOND, running: clock.running + SECOND };
    take(advance(flow, begin(flow, clock), { type: "start", model, person, alone: true, caller: false }, at), at);
  }
  for (let next = open.shift(); next !== undefined; next = open.shift()) {
    for (const { event, ms } of eventsAt(flow, next.state, roll)) {
      let { state, clock: at } = next;
      // Somebody is there all the while, so that it is no break.
      for (let left = ms; left > 0; left -= 60 * SECOND) {
        at = { wall: at.wall + Math.min(left, 60 * SECOND), running: at.running + Math.min(left, 60 * SECOND) };
        state = advance(flow, state, left > 60 * SECOND ? { type: "here" } : event, at);
      }
      take(state, at);
    }
  }
  return [...found.values()];
}

function eventsAt(flow, state, roll) {
  const step = state.step === null ? null : flow.procedures[state.frames.at(-1).procedure].steps[state.step];
  const soon = (event) => ({ event, ms: SECOND });
  switch (state.screen.name) {
    case "caution": return [soon({ type: "acknowledge", hazard: state.screen.hazard })];
    case "wait": return [{ event: { type: "next" }, ms: state.wait.needed + SECOND }];
    // Three places after the point: with fewer, the last one alone may decide, and it is asked again.
    case "step": {
      const answers = [...step.ways.keys()].filter((index) => ["answer", "unsure"].includes(step.ways[index].kind)).map((way) => soon({ type: "answer", way }));
      if (step.kind === "do") return [soon({ type: "next" }), soon({ type: "begin-wait" })];
      if (step.kind !== "measure") return answers;
      const one = (field) => Number(field.from) + ((Number(field.to) - Number(field.from)) * roll(1001)) / (roll(2) ? 1000 : 4000);
      const edges = step.ways.flatMap(({ limit }) => (limit === null ? [] : limit.figure === null ? [limit.value] : flow.models.flatMap((model) => model.figures[limit.figure]?.value ?? []))).map(Number);
      const limits = [...new Set([Number(step.measure.from), ...edges, Number(step.measure.to)])].sort((one, other) => one - other);
      const middles = step.measure.readings.length > 0 ? [] : limits.slice(1).map((limit, place) => soon({ type: "reading", typed: { value: ((limit + limits[place]) / 2).toFixed(3) } }));
      const typed = () => Object.fromEntries(fieldsOf(step).map((field) => [field.id, field.whole ? String(Math.round(one(field))) : one(field).toFixed(3)]));
      // Distances of the models' own tables, over one gap where gaps are asked for.
      const tables = step.measure.match === null ? [] : [...new Set(flow.models.flatMap((model) => Object.values(model.repeats).map((entry) => entry.value)))];
      middles.push(...tables.map((value) => soon({ type: "reading", typed: Object.fromEntries(fieldsOf(step).map((field, place) => [field.id, place === 0 ? value : "1"])) })));
      if (step.measure.readings.length === 0 && step.measure.match === null) return [...answers, ...middles];
      return [...answers, ...Array.from({ length: READINGS }, () => soon({ type: "reading", typed: typed() }))];
    }
    default: return [];
  }
}
