// Going back several answers at once is going back one by one; a number told in mid-run travels with the run; the caller is asked for after a break.
import assert from "node:assert/strict";
import { test } from "node:test";
import { packed, unpacked } from "../../themes/bench/script/packet.js";
import { nastyFlow } from "./flows.mjs";
import { Run } from "./run.mjs";

const flow = { ...nastyFlow(), edition: "0123456789abcdef" };
const walk = () => new Run(flow, { person: "skilled" }).acknowledgeAll().answer("Power is off").next().acknowledgeAll().next();

test("three steps back at once are three steps back, and name all that stays done", () => {
  const once = walk().send({ type: "back", times: 3 });
  const each = walk().back().back().back();
  assert.equal(once.at, each.at);
  assert.deepEqual([once.state.facts.holds, once.state.facts.mayHold, once.state.counts, once.state.path], [each.state.facts.holds, each.state.facts.mayHold, each.state.counts, each.state.path]);
  assert.deepEqual(once.state.log.filter((one) => one.what === "back").map((one) => one.to), each.state.log.filter((one) => one.what === "back").map((one) => one.to));
  assert.deepEqual(once.state.notice.deeds.map((one) => one.step), ["power"]);
});

test("more steps back than there are lead to the first", () => {
  const run = walk().send({ type: "back", times: 99 });
  assert.equal(run.state.step, "look");
  assert.equal(run.state.history.length, 0);
});

test("a serial number told in mid-run travels in the packet; an empty one is none", () => {
  const run = walk().send({ type: "machine", serial: "  " });
  assert.equal(run.state.about.serial, "");
  run.send({ type: "machine", serial: " AB-1 " });
  const { run: opened } = unpacked(flow, packed(flow, run.state));
  assert.equal(opened.about.serial, "AB-1");
  assert.equal(opened.step, run.state.step);
});

test("after a break the caller is asked for where the page asks", () => {
  const run = walk().send({ type: "take-over" });
  const confirmed = { type: "confirm", person: "skilled", alone: true, conditions: Object.fromEntries(run.state.facts.holds.map((id) => [id, true])) };
  run.send({ ...confirmed, caller: undefined });
  assert.deepEqual(run.state.refusal.missing, ["caller"]);
  run.send({ ...confirmed, caller: true });
  assert.equal(run.state.caller, true);
});
