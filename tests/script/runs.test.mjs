// Runs on one device: three tabs, a store that fills up, entries that nobody can read.
import assert from "node:assert/strict";
import { test } from "node:test";
import { begin, advance } from "../../themes/bench/script/flow-state.js";
import { forget, hold, keep, keptRuns, LEASE_MS, letGo, otherRunOf, probe, readRun, underWay } from "../../themes/bench/script/runs.js";
import { nastyFlow } from "./flows.mjs";
import { random } from "./observer.mjs";

/** A store in memory with so much room for keys and texts; its n-th `set` may fail. */
class Memory {
  constructor(room = Infinity, failing = new Set()) {
    this.map = new Map();
    this.room = room;
    this.failing = failing;
    this.sets = 0;
  }
  get(key) { return this.map.get(key) ?? null; }
  set(key, text) {
    this.sets++;
    const others = [...this.map].filter(([name]) => name !== key).reduce((sum, [name, value]) => sum + name.length + value.length, 0);
    if (this.failing.has(this.sets) || others + key.length + text.length > this.room) throw new Error("no room");
    this.map.set(key, text);
  }
  remove(key) { this.map.delete(key); }
  keys() { return [...this.map.keys()]; }
}

const flow = nastyFlow();
function started(ticket, serial = "", wall = 0) {
  const clock = { wall, running: wall };
  return advance(flow, begin(flow, clock), { type: "start", model: "unknown", person: "skilled", alone: true, caller: false, ticket, serial }, { wall: wall + 1000, running: wall + 1000 });
}

test("a store is tried before anything begins", () => {
  assert.equal(probe(new Memory()), "works");
  assert.equal(probe(new Memory(1000)), "full");
  assert.equal(probe(new Memory(0)), "full");
  const blocked = { get() { throw new Error(); }, set() { throw new Error(); }, remove() { throw new Error(); }, keys() { throw new Error(); } };
  assert.equal(probe(blocked), "blocked");
  const store = new Memory();
  probe(store);
  assert.deepEqual(store.keys(), [], "trying leaves nothing");
});

test("each run has a place of its own; the latest comes first", () => {
  const store = new Memory();
  for (const [id, ticket, wall] of [["a", "T-1", 5000], ["b", "T-2", 9000], ["c", "T-3", 1000]]) {
    assert.equal(keep(store, { id, procedure: "nasty", state: started(ticket, "", wall) }, `tab-${id}`, wall), "kept");
  }
  assert.deepEqual(keptRuns(store).map((one) => one.state.about.ticket), ["T-2", "T-1", "T-3"]);
  forget(store, "nasty", "b");
  assert.deepEqual(keptRuns(store).map((one) => one.id), ["a", "c"]);
});

test("a run in two tabs is written by one; the other gets it when that one lets go or is gone", () => {
  const store = new Memory();
  const run = { id: "a", procedure: "nasty", state: started("T-1") };
  assert.equal(keep(store, run, "one", 1000), "kept");
  assert.equal(keep(store, { ...run, state: started("other") }, "two", 1000 + LEASE_MS - 1), "elsewhere");
  assert.equal(readRun(store, "nasty", "a").about.ticket, "T-1");
  letGo(store, "nasty", "a", "two");
  assert.equal(hold(store, "nasty", "a", "two", 1001), false, "only the holder can let go");
  letGo(store, "nasty", "a", "one");
  assert.equal(hold(store, "nasty", "a", "two", 1002), true);
  assert.equal(hold(store, "nasty", "a", "one", 1003), false);
  assert.equal(hold(store, "nasty", "a", "one", 1002 + LEASE_MS), true, "a tab that is gone holds nothing");
  assert.equal(hold(store, "nasty", "a", "three", -10 * LEASE_MS), true, "nor does one whose clock was ahead");
});

test("a run kept by an earlier page, without an id, is found; what nobody can read stays", () => {
  const store = new Memory();
  store.set("stepward:run:nasty", JSON.stringify(started("old")));
  store.set("stepward:run:nasty:bad", "{ not json");
  store.set("stepward:run:nasty:odd", '{"schema":"stepward/run/1"}');
  store.set("something else", "{}");
  assert.deepEqual(keptRuns(store).map((one) => [one.procedure, one.id, one.state.about.ticket]), [["nasty", "", "old"]]);
  assert.equal(store.map.size, 4);
});

test("two runs for one machine are noticed by its serial number, however it is typed", () => {
  const store = new Memory();
  const state = started("T-1", "LX-2041 a");
  keep(store, { id: "a", procedure: "nasty", state }, "one", 0);
  assert.equal(otherRunOf(store, "lx2041A", "other", "b")?.id, "a");
  assert.equal(otherRunOf(store, "LX-2041 a", "nasty", "a"), null, "not itself");
  assert.equal(otherRunOf(store, "", "other", "b"), null);
  keep(store, { id: "a", procedure: "nasty", state: { ...state, screen: { name: "ending" } } }, "one", 1);
  assert.equal(otherRunOf(store, "LX-2041 a", "other", "b"), null, "a run that is over holds no machine");
});

test("three tabs at random: no run is lost, none is written by two at once", () => {
  const roll = random(11);
  for (let round = 0; round < 300; round++) {
    const store = new Memory();
    const tabs = ["one", "two", "three"].map((tab) => ({ tab, open: null, said: {} }));
    const truth = new Map();
    let wall = 0;
    for (let count = 0; count < 60; count++) {
      wall += roll(LEASE_MS);
      const me = tabs[roll(3)];
      const id = `run-${roll(4)}`;
      if (me.open !== null && roll(6) === 0) {
        letGo(store, "nasty", me.open, me.tab);
        me.open = null;
      }
      const mine = me.open ?? id;
      const state = { ...started(`${me.tab}-${count}`), counts: { count } };
      const result = keep(store, { id: mine, procedure: "nasty", state }, me.tab, wall);
      const holder = truth.get(mine);
      const busy = holder !== undefined && holder.tab !== me.tab && holder.open && wall - holder.wall < LEASE_MS;
      assert.equal(result, busy ? "elsewhere" : "kept");
      if (result === "kept") {
        for (const other of tabs.filter((one) => one !== me && one.open === mine)) other.open = null;
        truth.set(mine, { tab: me.tab, wall, open: true, count });
        me.open = mine;
      }
      for (const [known, one] of truth) {
        if (tabs.find((tab) => tab.tab === one.tab).open !== known) one.open = one.open && wall - one.wall < LEASE_MS && hold(store, "nasty", known, "nobody", wall) === false;
        assert.equal(readRun(store, "nasty", known).counts.count, one.count, "the last that was kept is what is read");
      }
      for (const [known] of truth) letGo(store, "nasty", known, "nobody");
    }
  }
});

test("whichever write fails, what was kept before is still there and the failure is said", () => {
  for (let failing = 1; failing <= 12; failing++) {
    const store = new Memory(Infinity, new Set([failing]));
    let last = null;
    for (let count = 0; count < 6; count++) {
      const before = store.sets;
      const result = keep(store, { id: "a", procedure: "nasty", state: { ...started("T"), counts: { count } } }, "one", count * 1000);
      const hit = failing > before && failing <= store.sets;
      if (result === "kept") last = count;
      // A lease that could not be written is no loss; a run that could not be is said.
      assert.equal(result === "failed", hit && failing % 2 === 0);
      if (last !== null) assert.equal(readRun(store, "nasty", "a").counts.count, last);
    }
  }
});

test("a run that is over is not under way", () => {
  assert.equal(underWay(started("T")), true);
  assert.equal(underWay({ ...started("T"), screen: { name: "ending" } }), false);
  assert.equal(underWay(begin(flow, { wall: 0, running: 0 })), false);
});
