// What of a run must not change on its way to another device: how long was waited, which cautions were given, a reading that nobody could sort.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { test } from "node:test";
import { recordText } from "../../themes/bench/parts/follower/record.js";
import { summaryText } from "../../themes/bench/parts/follower/summary.js";
import { useWords } from "../../themes/bench/parts/follower/words.js";
import { packed, unpacked } from "../../themes/bench/script/packet.js";
import { act, answer, ask, band, CATALOGUE, end, exposed, flow, measure, model, procedure, unsure } from "./flows.mjs";
import { Run } from "./run.mjs";

const { parse } = createRequire(new URL("../outside/", import.meta.url))("yaml");
useWords(parse(readFileSync(new URL("../../themes/bench/words/en.yaml", import.meta.url), "utf8")));

const waits = () => ({ ...flow([procedure("waits", [
  ask("tried", [answer("Dead", "rest", { sets: ["isolated"] }), unsure("stop")]),
  act("rest", "look", { wait: 1800 }), act("look", "stop", { exposes: exposed("toner") }), end("stop", "handed-over"),
])], CATALOGUE), edition: "0123456789abcdef" });
const waiting = () => new Run(waits(), { person: "skilled" }).answer("Dead").send({ type: "begin-wait" });
const there = (run) => unpacked(run.flow, packed(run.flow, run.state)).run;
const jump = (run, ms) => { run.clock = { wall: run.clock.wall + ms, running: run.clock.running }; return run; };

test("a clock set forward in a wait makes it no shorter on the other device", () => {
  const run = jump(waiting(), 3_600_000).send({ type: "note", text: "clock was wrong" });
  assert.equal(run.state.wait.counted, 1000);
  assert.equal(there(run).wait.counted, 1000);
});

test("what was waited for in quiet counts on the other device", () => {
  const run = waiting().tick(600_000);
  const { counted } = there(run).wait;
  assert.ok(counted > 597_000 && counted <= 600_000, `${counted}: times travel to the second`);
});

test("the time that a phone was dead in a wait does not count on the other device either", () => {
  const run = waiting().tick(60_000).send({ type: "reopen" }, 2_400_000);
  run.send({ type: "confirm", person: "skilled", alone: true, conditions: { isolated: true } });
  assert.equal(run.state.wait.counted, 61_000);
  assert.equal(there(run).wait.counted, 61_000);
});

test("a wait that was waited for is over on the other device, though the clock was set back meanwhile", () => {
  const run = jump(waiting(), -3_600_000).work(1900).next();
  assert.equal(run.state.step, "look");
  assert.equal(there(run).step, "look");
});

test("a caution that was given again since a clock was set back stays in the record", () => {
  const run = new Run(waits(), { person: "skilled" }).answer("Dead").send({ type: "begin-wait" }).work(1860).next();
  assert.equal(run.at, "caution toner");
  run.acknowledge();
  run.clock = { wall: run.clock.wall - 3_600_000, running: run.clock.running + 800_000 };
  run.send({ type: "here" });
  run.clock = { wall: run.clock.wall, running: run.clock.running + 200_000 };
  const cautions = (state) => state.log.filter((entry) => entry.what === "caution").length;
  run.back().send({ type: "begin-wait" }).work(1860).next().acknowledgeAll();
  assert.equal(cautions(there(run)), cautions(run.state));
});

test("a reading that leads different ways on different models travels, and stands in record and ticket", () => {
  const limit = { inside: false, value: null, figure: "edge" };
  const of = { ...flow([procedure("gap", [measure("gap", "mm", "5", "90", [band(limit, "short"), band(null, "stop"), unsure("stop")]), act("short", "stop"), end("stop", "handed-over")], { models: ["desk", "floor"] })],
    { models: [model("desk", { edge: { value: "30", unit: "mm" } }), model("floor", { edge: { value: "60", unit: "mm" } })] }), edition: "0123456789abcdef" };
  const run = new Run(of, { model: "unknown" }).send({ type: "reading", typed: { value: "45,5" } });
  assert.equal(run.at, "hand-over gap");
  assert.equal(there(run).screen.name, "hand-over");
  assert.deepEqual(there(run).log.at(-1).typed, { value: "45,5" });
  for (const text of [recordText(of, run.state), summaryText(of, run.state)]) assert.match(text, /Reading not sorted: 45,5\. Text of gap/);
});
