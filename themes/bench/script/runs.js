// The runs kept on this device, each under its own key: none overwrites another, and one that is open in two tabs is written by one of them only.
// Pure but for the store handed in (`get`, `set`, `remove`, `keys`, as the browser's storage has them); times are those of the clock handed in.

/**
 * @typedef {{get: (key: string) => string | null, set: (key: string, text: string) => void, remove: (key: string) => void, keys: () => string[]}} Store  `set` throws where there is no room, all of them where storage is blocked
 * @typedef {{id: string, procedure: string, state: any}} Kept
 */

const RUN = "stepward:run:";
const LEASE = "stepward:lease:";
const TRY = "stepward:try";
/** A tab that has not said for so long that it is there is gone. */
export const LEASE_MS = 4000;
/** Room that a run of a long procedure takes at most; so much must be free before one begins. */
const ROOM = 200_000;

/** Whether runs can be kept: `works`, `full`, `blocked`. @param {Store} store */
export function probe(store) {
  try {
    store.set(TRY, "1");
    store.remove(TRY);
  } catch {
    // A store that can be read but takes nothing is full, or has no room at all: private windows of some browsers.
    try {
      store.keys();
      return "full";
    } catch {
      return "blocked";
    }
  }
  try {
    store.set(TRY, "x".repeat(ROOM));
    store.remove(TRY);
    return "works";
  } catch {
    remove(store, TRY);
    return "full";
  }
}

/** @param {Store} store @param {string} key */
function remove(store, key) {
  try {
    store.remove(key);
  } catch {
    // Nothing more can be done about it.
  }
}

/** @param {string} procedure @param {string} id */
function runKey(procedure, id) {
  return id === "" ? `${RUN}${procedure}` : `${RUN}${procedure}:${id}`;
}

/** @param {string} procedure @param {string} id */
function leaseKey(procedure, id) {
  return `${LEASE}${procedure}:${id}`;
}

/** All runs that can be read, of all procedures, the latest first. What cannot be read stays where it is. @param {Store} store @returns {Kept[]} */
export function keptRuns(store) {
  /** @type {Kept[]} */
  const found = [];
  try {
    for (const key of store.keys().filter((one) => one.startsWith(RUN))) {
      const [procedure, id = ""] = key.slice(RUN.length).split(":");
      const state = readRun(store, procedure, id);
      if (state !== null) found.push({ id, procedure, state });
    }
  } catch {
    return found;
  }
  return found.sort((one, other) => other.state.touched.wall - one.state.touched.wall || (one.id < other.id ? -1 : 1));
}

/** @param {Store} store @param {string} procedure @param {string} id @returns {any} */
export function readRun(store, procedure, id) {
  try {
    const state = JSON.parse(store.get(runKey(procedure, id)) ?? "null");
    const whole = typeof state?.schema === "string" && Array.isArray(state.frames) && Array.isArray(state.log) && typeof state.touched?.wall === "number";
    return whole ? state : null;
  } catch {
    return null;
  }
}

/** Whether a run is not over: it still speaks of its machine. @param {any} state */
export function underWay(state) {
  return state.frames.length > 0 && !["ending", "refused"].includes(state.screen.name);
}

/** A serial number however it is typed. @param {string} serial */
function plain(serial) {
  return serial.toLowerCase().replace(/[^a-z0-9]/g, "");
}

/** Another run for the machine with this serial number that is not over. @param {Store} store @param {string} serial @param {string} procedure @param {string} id @returns {Kept | null} */
export function otherRunOf(store, serial, procedure, id) {
  if (["", "unknown"].includes(plain(serial))) return null;
  return keptRuns(store).find((one) => underWay(one.state) && plain(one.state.about?.serial ?? "") === plain(serial) && !(one.procedure === procedure && one.id === id)) ?? null;
}

/** The model under which this serial number was followed on this device before, if it was another one. @param {Store} store @param {string} serial @param {string | null} model */
export function otherModelOf(store, serial, model) {
  const number = plain(serial);
  if (["", "unknown"].includes(number) || model === null || model === "unknown") return null;
  return keptRuns(store).find(({ state }) => plain(state.about?.serial ?? "") === number && state.model !== null && state.model !== model)?.state.model ?? null;
}

/** Whether another tab has said lately that it has a run open. @param {Store} store @param {string} procedure @param {string} id @param {string} tab @param {number} wall */
export function heldElsewhere(store, procedure, id, tab, wall) {
  try {
    const [holder, since] = (store.get(leaseKey(procedure, id)) ?? " 0").split(" ");
    const age = wall - Number(since);
    // A time to come was written by a clock that has been set back since: it holds nothing.
    return holder !== "" && holder !== tab && age < LEASE_MS && age > -LEASE_MS;
  } catch {
    // Without storage there is no other tab to take care of.
    return false;
  }
}

/**
 * Says that a tab has a run open. `false` if another tab has it: then this one may only look, unless somebody takes the run over.
 * @param {Store} store @param {string} procedure @param {string} id @param {string} tab @param {number} wall @param {boolean} take
 */
export function hold(store, procedure, id, tab, wall, take = false) {
  try {
    if (!take && heldElsewhere(store, procedure, id, tab, wall)) return false;
    store.set(leaseKey(procedure, id), `${tab} ${wall}`);
    return (store.get(leaseKey(procedure, id)) ?? "").startsWith(`${tab} `);
  } catch {
    // Without storage there is no other tab to take care of.
    return true;
  }
}

/** The tab lets go of the run. @param {Store} store @param {string} procedure @param {string} id @param {string} tab */
export function letGo(store, procedure, id, tab) {
  try {
    if ((store.get(leaseKey(procedure, id)) ?? "").startsWith(`${tab} `)) store.remove(leaseKey(procedure, id));
  } catch {
    // It runs out by itself.
  }
}

/**
 * Keeps a run: `kept`, `elsewhere` (another tab has it), `failed` (no room, or blocked; what was kept before is still there).
 * @param {Store} store @param {Kept} run @param {string} tab @param {number} wall
 */
export function keep(store, run, tab, wall) {
  if (!hold(store, run.procedure, run.id, tab, wall)) return "elsewhere";
  try {
    store.set(runKey(run.procedure, run.id), JSON.stringify(run.state));
    return "kept";
  } catch {
    return "failed";
  }
}

/** Takes a run off the device. @param {Store} store @param {string} procedure @param {string} id */
export function forget(store, procedure, id) {
  remove(store, runKey(procedure, id));
  remove(store, leaseKey(procedure, id));
}
