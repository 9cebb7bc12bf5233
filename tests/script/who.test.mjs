// Who is at the machine and which machine it is: a more qualified person is explained, a new person reads the cautions again, what was told is not
// what was seen, a serial number of another model is noticed, a run that waits for a call back goes on waiting.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { test } from "node:test";
import { recordText } from "../../themes/bench/parts/follower/record.js";
import { summaryText } from "../../themes/bench/parts/follower/summary.js";
import { useWords } from "../../themes/bench/parts/follower/words.js";
import { advance } from "../../themes/bench/script/flow-state.js";
import { packed, unpacked } from "../../themes/bench/script/packet.js";
import { hold, keep, otherModelOf } from "../../themes/bench/script/runs.js";
import { serviceRecord } from "../../themes/bench/script/service-record.js";
import { act, answer, ask, CATALOGUE, end, exposed, flow, model, procedure, unsure } from "./flows.mjs";
import { Run } from "./run.mjs";

const { parse } = createRequire(new URL("../outside/", import.meta.url))("yaml");
useWords(parse(readFileSync(new URL("../../themes/bench/words/en.yaml", import.meta.url), "utf8")));

const job = (more = {}) => ({ ...flow([procedure("job", [
  ask("tried", [answer("Dead", "lift", { sets: ["isolated"] }), unsure("stop")]),
  act("lift", "rest", { exposes: exposed("high-voltage"), cautions: ["high-voltage"], cures: ["scar"] }),
  act("rest", "test", { wait: 1200 }),
  ask("test", [answer("Clean", "close", { fixed: true }), answer("Not yet", "stop"), unsure("stop")]),
  end("close", "fixed"), end("stop", "handed-over"),
], { models: ["desk", "floor"] })], { ...CATALOGUE, models: [model("desk"), model("floor")] }), edition: "0123456789abcdef", ...more });

const confirm = (run, more) => run.send({ type: "confirm", person: "skilled", alone: true, conditions: Object.fromEntries(run.state.facts.holds.map((id) => [id, true])), ...more });

test("HD-03: who is more qualified than before is asked why, and the answer is in the record", () => {
  const run = new Run(job(), { person: "instructed" }).answer("Dead").send({ type: "take-over" });
  confirm(run, {});
  assert.deepEqual(run.state.refusal.missing, ["raised"]);
  assert.deepEqual(confirm(run, { raised: "because" }).state.refusal.missing, ["raised"]);
  confirm(run, { raised: "mistaken" });
  assert.equal(run.at, "caution high-voltage");
  const record = serviceRecord(run.flow, run.state);
  assert.equal(record.entries.find((entry) => entry.what === "resume").raised, "mistaken");
  assert.deepEqual(record.deviations.map(({ what, person, why }) => [what, person, why]), [["person-raised", "skilled", "mistaken"]]);
  assert.match(recordText(run.flow, run.state), /The same person; what was said before was wrong/);
  const there = unpacked(run.flow, packed(run.flow, run.state)).run;
  assert.equal(there.log.find((entry) => entry.what === "resume").raised, "mistaken", "it travels with the run");
});

test("HD-03: the same person, or one less qualified, is asked nothing more", () => {
  for (const person of ["instructed", "ordinary"]) {
    const run = new Run(job(), { person: "instructed" }).answer("Dead").send({ type: "take-over" });
    assert.equal(confirm(run, { person }).state.refusal, null, person);
  }
});

test("FT-17: a colleague who takes over acknowledges the caution in force before the step: the record shows two acknowledgements", () => {
  const run = new Run(job(), { person: "skilled" }).answer("Dead").acknowledge();
  assert.equal(run.at, "step lift");
  run.send({ type: "take-over" });
  assert.equal(confirm(run, {}).at, "caution high-voltage");
  assert.equal(run.acknowledge().at, "step lift");
  const entries = serviceRecord(run.flow, run.state).entries.map((entry) => entry.hazard ?? entry.what);
  assert.deepEqual(entries, ["start", "way", "high-voltage", "resume", "high-voltage"]);
});

const toTheEnd = (options) => {
  const run = new Run(job(), { person: "skilled", ...options }).answer("Dead").acknowledgeAll().next().send({ type: "begin-wait" });
  return run.work(1260).next().answer("Clean");
};

test("HD-13: a check that was told on the phone is marked at the end, in the ticket and in the record; one that was seen is not", () => {
  const told = toTheEnd({ caller: true });
  assert.equal(told.at, "ending close");
  assert.equal(serviceRecord(told.flow, told.state).ending.checked, "told");
  assert.match(recordText(told.flow, told.state), /was told on the phone/);
  assert.match(summaryText(told.flow, told.state), /End: Fixed \(told on the phone, not seen\)/);
  const seen = toTheEnd({ caller: false });
  assert.equal(serviceRecord(seen.flow, seen.state).ending.checked, "seen");
  assert.equal(/told/.test(recordText(seen.flow, seen.state) + summaryText(seen.flow, seen.state)), false);
  const unchecked = new Run(job(), { person: "skilled" }).answer("unsure");
  assert.equal(serviceRecord(unchecked.flow, unchecked.state).ending.checked, null);
});

test("HD-13: a told fact skips no caution and no check", () => {
  const run = new Run(job(), { person: "skilled", caller: true }).answer("Dead");
  assert.equal(run.at, "caution high-voltage");
  run.acknowledge().next().send({ type: "begin-wait" });
  run.work(1260).next();
  assert.equal(run.at, "step test", "there is no way to the end but through the check");
  // The person on the phone is followed by one at the machine: everything told is asked again, and the caution shown again.
  run.back().send({ type: "take-over" });
  confirm(run, { caller: false, conditions: { isolated: false } });
  assert.equal(run.state.facts.holds.includes("isolated"), false);
});

function shop() {
  const kept = new Map();
  return { get: (key) => kept.get(key) ?? null, set: (key, text) => void kept.set(key, text), remove: (key) => void kept.delete(key), keys: () => [...kept.keys()] };
}

test("FT-10: a serial number that was another model's on this device is noticed, however it is typed", () => {
  const store = shop();
  const ended = { schema: "x", frames: [], log: [], touched: { wall: 1 }, screen: { name: "ending" }, model: "floor", about: { serial: "AB-12 34" } };
  keep(store, { id: "one", procedure: "job", state: ended }, "tab", 1000);
  assert.equal(otherModelOf(store, "ab1234", "desk"), "floor");
  for (const [serial, of] of [["ab1234", "floor"], ["ab1235", "desk"], ["", "desk"], ["unknown", "desk"], ["ab1234", null], ["ab1234", "unknown"]]) assert.equal(otherModelOf(store, serial, of), null, `${serial} ${of}`);
});

test("FT-10: a model that was confirmed in spite of it stands in the record", () => {
  const run = new Run(job(), { person: "skilled" });
  const again = advance(run.flow, advance(run.flow, run.state, { type: "restart" }, run.clock), { type: "start", model: "desk", person: "skilled", alone: true, caller: false, remark: "was floor before" }, run.pass(1000).clock);
  assert.deepEqual(again.log.map((entry) => entry.what), ["start", "note"]);
});

test("HD-10: a run that is left on the same page goes on waiting by both clocks, and asks about the machine on return", () => {
  const run = new Run(job(), { person: "skilled", caller: true }).answer("Dead").acknowledgeAll().next().send({ type: "begin-wait" });
  run.tick(60_000);
  run.send({ type: "reopen", samePage: true }, 600_000);
  assert.equal(run.at, "resume rest");
  assert.equal(confirm(run, { caller: true }).at, "wait rest");
  assert.equal(run.state.wait.counted, 661_000, "early return: what remains is shown");
  assert.equal(run.next().at, "wait rest", "and is waited for");
  run.tick(538_000);
  assert.equal(run.next().at, "step test");
});

test("HD-10: on another page, after a changed clock, or with the plug in doubt, the time away does not count", () => {
  const waiting = () => new Run(job(), { person: "skilled" }).answer("Dead").acknowledgeAll().next().send({ type: "begin-wait" });
  assert.equal(waiting().send({ type: "reopen" }, 600_000).state.wait.counted, 0);
  const changed = waiting();
  changed.clock = { wall: changed.clock.wall + 3_600_000, running: changed.clock.running };
  changed.send({ type: "reopen", samePage: true }, 1000);
  assert.deepEqual([changed.state.wait.counted, changed.state.wait.doubt], [1000, true]);
  const doubted = waiting().send({ type: "reopen", samePage: true }, 600_000);
  confirm(doubted, { conditions: { isolated: false } });
  assert.equal(doubted.state.wait.counted < 2000, true, "cooling starts again");
});

test("HD-05: a run is taken from another tab only by an act of its own", () => {
  const store = shop();
  assert.equal(hold(store, "job", "one", "first", 1000), true);
  assert.equal(hold(store, "job", "one", "second", 1500), false);
  assert.equal(hold(store, "job", "one", "second", 1500, true), true);
  assert.equal(hold(store, "job", "one", "first", 1600), false, "the first one only looks now");
});
