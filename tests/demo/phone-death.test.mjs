// FT-05 and FT-06 as tables over every screen of every flow of the demo: the phone dies there and comes back, at once or later, with its clock as it was
// or changed. Pages are read from `site-demo`, or from the folder that `SITE` names.
import assert from "node:assert/strict";
import { test } from "node:test";
import { advance } from "../../themes/bench/script/flow-state.js";
import { flows } from "./flows.mjs";
import { everyScreen } from "./screens.mjs";

const HOUR = 3_600_000;
const DAY = 24 * HOUR;
/** How long it was dead by the wall clock; the running clock of the new page begins anew. */
const AWAY = [["at once", 5000], ["an hour later", HOUR], ["the next day", DAY], ["400 days later", 400 * DAY], ["with its clock an hour back", -HOUR], ["with its clock a year back", -365 * DAY]];
const PERSONS = ["ordinary", "instructed", "skilled"];

const started = flows.filter((flow) => flow.procedures[flow.procedure].requires.length === 0 && flow.procedures[flow.procedure].start !== null);
const everything = new Map(started.map((flow) => [flow.procedure, everyScreen(flow, "skilled")]));

/** Of runs that stand at the same screen for different models or with other conditions holding, two: the one of which least holds and the one of which most does. */
function ofEach(runs) {
  const at = ({ state }) => JSON.stringify([state.screen.name, state.screen.hazard ?? null, state.frames.map((frame) => [frame.procedure, frame.caller]), state.step]);
  const sorted = [...runs].sort((one, other) => one.state.facts.holds.length - other.state.facts.holds.length);
  const least = new Map(sorted.toReversed().map((one) => [at(one), one]));
  const most = new Map(sorted.map((one) => [at(one), one]));
  return [...new Set([...least.values(), ...most.values()])];
}
const screens = new Map([...everything].map(([id, runs]) => [id, ofEach(runs)]));

/** Kept by the browser as text, and read again by a page that knows nothing else. */
const stored = (state) => JSON.parse(JSON.stringify(state));

/** The run after it was opened again and everything about it was answered so. */
function back(flow, { state, clock }, away, confirms) {
  let at = { wall: clock.wall + away, running: 700 };
  const send = (event, ms = 1000) => {
    at = { wall: at.wall + ms, running: at.running + ms };
    return advance(flow, run, event, at);
  };
  let run = advance(flow, stored(state), { type: "reopen" }, at);
  assert.equal(run.screen.name, "resume", "first it asks");
  assert.equal(run.wait?.counted ?? 0, state.wait?.counted ?? 0, "time away counts for nothing");
  run = send({ type: "confirm", person: state.facts.person, alone: true, caller: state.caller, conditions: Object.fromEntries(state.facts.holds.map((id) => [id, confirms])) });
  const shown = [];
  while (run.screen.name === "caution") {
    shown.push(run.screen.hazard);
    run = send({ type: "acknowledge", hazard: run.screen.hazard });
  }
  return { run, shown, at, send };
}

const where = ({ frames, step, path, counts, model, about, history }) => ({ frames, step, path, counts, model, about, history: history.length });
const stepOf = (flow, state) => flow.procedures[state.frames.at(-1).procedure].steps[state.step];

test("the demo has at least three flows, and every step of theirs with a screen is in the table", () => {
  assert.ok(started.length >= 3);
  for (const flow of started) {
    const seen = new Set(screens.get(flow.procedure).filter(({ state }) => ["step", "wait", "ending"].includes(state.screen.name)).map(({ state }) => `${state.frames.at(-1).procedure}/${state.step}`));
    const { start, steps } = flow.procedures[flow.procedure];
    // A step that only `otherwise` leads to takes a loop tried to its end; limits.test.mjs is about that.
    const led = new Set([start, ...Object.values(steps).flatMap((step) => step.ways.filter((way) => way.kind !== "otherwise").map((way) => way.then))]);
    const main = Object.values(steps).filter((step) => !["by-model", "carry-out"].includes(step.kind) && led.has(step.id)).map((step) => `${flow.procedure}/${step.id}`);
    assert.deepEqual(main.filter((id) => !seen.has(id)), [], `${flow.procedure}: never shown`);
  }
});

for (const flow of started) {
  for (const [when, away] of AWAY) {
    test(`${flow.procedure}: dead on any screen and back ${when}, everything confirmed: the same screen, nothing lost`, () => {
      for (const one of screens.get(flow.procedure)) {
        const { state } = one;
        // An ended run is opened as its record.
        if (state.screen.name === "ending") continue;
        const { run, shown } = back(flow, one, away, true);
        const name = `${state.screen.name} ${state.step}`;
        if (state.screen.name === "hand-over") {
          // What stood in the way may be mended meanwhile, or be asked again; the step is the same.
          assert.ok(["hand-over", "step"].includes(run.screen.name), name);
          assert.deepEqual([run.step, run.frames, run.path], [state.step, state.frames, state.path], name);
          continue;
        }
        assert.deepEqual(where(run), where(state.screen.name === "caution" ? { ...state, counts: run.counts } : state), name);
        assert.deepEqual(run.log.slice(0, state.log.length), state.log, `${name}: what was said is there`);
        assert.equal(run.screen.name, state.screen.name === "caution" ? screenAfterCaution(flow, state) : state.screen.name, name);
        if (["step", "wait"].includes(run.screen.name)) {
          const step = stepOf(flow, run);
          const needed = [...step.cautions, ...step.exposes.map((exposure) => exposure.hazard)];
          assert.deepEqual([...new Set(needed)].filter((hazard) => !shown.includes(hazard)), [], `${name}: its cautions are in force again only when shown`);
        }
        if (state.wait !== null) assert.equal(run.wait.counted <= state.wait.counted + 60_000, true, `${name}: only time on the page counts`);
      }
    });
  }

  test(`${flow.procedure}: dead on any screen, and nobody confirms anything: what asks for it is not shown, and waits begin again`, () => {
    for (const one of screens.get(flow.procedure).filter(({ state }) => state.screen.name !== "ending")) {
      const { state } = one;
      const { run } = back(flow, one, HOUR, false);
      assert.deepEqual(run.facts.holds, []);
      if (run.wait !== null && state.facts.holds.length > 0) assert.equal(run.wait.counted <= 60_000, true, `${state.step}: cooling counts from nought`);
      if (!["step", "wait"].includes(run.screen.name)) continue;
      const step = stepOf(flow, run);
      assert.deepEqual(step.requires, [], step.id);
      for (const { hazard, waived } of step.exposes) {
        if (waived.requires === null) assert.deepEqual(flow.hazards.find((other) => other.id === hazard).requires, [], `${step.id} in front of ${hazard}`);
      }
    }
  });

  test(`${flow.procedure}: in every wait a clock set forward or back, and a phone that slept, count for no more than both clocks say`, () => {
    for (const { state, clock } of screens.get(flow.procedure).filter((one) => one.state.wait !== null)) {
      for (const [wall, running, counts] of [[HOUR, 1000, 1000], [-HOUR, 1000, 0], [1000, HOUR, 1000], [HOUR, 0, 0], [20_000, 20_000, 20_000], [400 * DAY, 5000, 5000]]) {
        const after = advance(flow, stored(state), { type: "tick" }, { wall: clock.wall + wall, running: clock.running + running });
        assert.equal(after.wait.counted - state.wait.counted, counts, `${state.step}: ${wall} and ${running} ms`);
        const left = advance(flow, after, { type: "next" }, { wall: after.last.wall + 400, running: after.last.running + 400 });
        if (after.wait.counted + 400 < after.wait.needed) assert.notEqual(left.log.at(-1).what, "wait-over", `${state.step}: it was left early`);
      }
    }
  });
}

test("there are waits in the demo", () => {
  assert.ok([...screens.values()].flat().filter(({ state }) => state.wait !== null).length >= 3);
});

// HD-03: as somebody without instruction nothing is ever shown that asks for more, whatever is answered; as the flow tells who came, it goes on.
for (const person of PERSONS) {
  test(`all screens as ${person}: no step above whoever is at the machine`, () => {
    let steps = 0;
    for (const flow of started) {
      for (const { state } of person === "skilled" ? everything.get(flow.procedure) : everyScreen(flow, person)) {
        if (!["step", "wait", "ending"].includes(state.screen.name)) continue;
        const step = stepOf(flow, state);
        const there = whoIsThere(flow, state);
        const asks = [step.least, ...step.exposes.filter((one) => one.waived.least === null).map((one) => flow.hazards.find((hazard) => hazard.id === one.hazard).least)];
        for (const least of asks.filter((one) => one !== null)) assert.ok(PERSONS.indexOf(there) >= PERSONS.indexOf(least), `${flow.procedure}: ${step.id} is shown to ${there}`);
        steps += 1;
      }
    }
    assert.ok(steps > 100, `${steps} screens`);
  });
}

/** From the log alone: who said to be there last. */
function whoIsThere(flow, state) {
  const last = state.log.findLast((entry) => ["start", "resume"].includes(entry.what) || (entry.what === "way" && flow.procedures[entry.procedure].steps[entry.step].ways[entry.way].person !== null));
  return last.person ?? flow.procedures[last.procedure].steps[last.step].ways[last.way].person;
}

/** The words of a step that ends the run are shown as its ending; one with a wait begins as a step. */
function screenAfterCaution(flow, state) {
  const step = stepOf(flow, state);
  return step.outcome !== null && state.frames.length === 1 && (step.wait ?? 0) === 0 && step.waitFor === null ? "ending" : "step";
}
