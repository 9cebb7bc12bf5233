// Every flow of a published site, followed by somebody who does what is asked, at once and without a break: then the follower's guard never
// steps in, for the compiler has proved that it need not. Pages are read from `site-demo`, or from the folder that `SITE` names.
import assert from "node:assert/strict";
import { test } from "node:test";
import { advance, begin } from "../../themes/bench/script/flow-state.js";
import { fieldsOf } from "../../themes/bench/script/reading.js";
import { Observer, random } from "../script/observer.mjs";
import { flows } from "./flows.mjs";

const EVENTS = 20_000;

test("the site has flows", () => assert.ok(flows.length > 0));

/** What somebody does who does what is asked. */
function fittingEvent(flow, state, step, roll) {
  const procedure = flow.procedures[flow.procedure];
  switch (state.screen.name) {
    case "start": return { type: "start", model: procedure.models[roll(Math.max(1, procedure.models.length))], person: procedure.for, alone: true, caller: roll(2) === 0 };
    case "caution": return { type: "acknowledge", hazard: state.screen.hazard };
    case "wait": return { type: state.wait.counted < state.wait.needed ? "here" : "next" };
    case "step": return step.kind === "do" ? { type: roll(2) ? "next" : "begin-wait" } : step.kind === "measure" && roll(8) ? { type: "reading", typed: readings(step, roll) } : anyAnswer(step, roll);
    default: return { type: "restart" };
  }
}

function anyAnswer(step, roll) {
  const open = [...step.ways.keys()].filter((index) => ["answer", "unsure"].includes(step.ways[index].kind));
  return { type: "answer", way: open[roll(open.length)] };
}

function readings(step, roll) {
  return Object.fromEntries(fieldsOf(step).map((field) => {
    const value = Number(field.from) + ((Number(field.to) - Number(field.from)) * roll(1001)) / (roll(3) ? 1000 : 20_000);
    return [field.id, field.whole ? String(Math.round(value)) : value.toFixed(2)];
  }));
}

for (const [place, flow] of flows.entries()) {
  const procedure = flow.procedures[flow.procedure];
  if (procedure.requires.length > 0) continue;
  test(`${flow.procedure}: the guard never steps in, and nothing is shown too early`, () => {
    const roll = random(4242 + place);
    const observer = new Observer(flow);
    let clock = { wall: Date.UTC(2026, 10, 25), running: 0 };
    let state = begin(flow, clock);
    let endings = 0;
    for (let count = 0; count < EVENTS; count++) {
      const step = state.step === null ? null : flow.procedures[state.frames.at(-1).procedure].steps[state.step];
      const event = fittingEvent(flow, state, step, roll);
      const ms = event.type === "here" ? 60_000 : 500;
      clock = { wall: clock.wall + ms, running: clock.running + ms };
      const after = advance(flow, state, event, clock);
      observer.saw(state, after, clock);
      assert.notEqual(after.screen.name, "hand-over", `${after.step}: ${JSON.stringify(after.screen.missing)}`);
      if (["step", "wait", "ending"].includes(after.screen.name)) {
        observer.inSight(flow.procedures[after.frames.at(-1).procedure].steps[after.step], after, clock, after.screen.name === "step" && event.type !== "reading");
      }
      if (after.screen.name === "ending" && state.screen.name !== "ending") {
        endings += 1;
        assert.deepEqual([after.screen.left, after.screen.missing], [[], []], `${after.step}: left behind, or not checked`);
      }
      state = after;
    }
    assert.ok(endings > 0, "no ending was reached");
  });
}
