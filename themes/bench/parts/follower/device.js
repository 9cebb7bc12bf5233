// What the follower asks of the browser: its storage, a name for this tab, both clocks, a lit screen, the script that hands a run over.
import { make } from "./make.js";

/** The browser's storage; every call throws where it is blocked. @returns {import("../../script/runs.js").Store} */
export function deviceStore() {
  return {
    get: (key) => localStorage.getItem(key),
    set: (key, text) => localStorage.setItem(key, text),
    remove: (key) => localStorage.removeItem(key),
    keys: () => Object.keys(localStorage),
  };
}

/** @returns {import("../../script/clock.js").Clock} */
export function now() {
  return { wall: Date.now(), running: performance.now() };
}

/** A name that no other run or tab has. */
export function newId() {
  return Array.from(crypto.getRandomValues(new Uint8Array(6)), (byte) => byte.toString(36).padStart(2, "0")).join("");
}

/** What this tab keeps for itself, so that a reload finds its run again. @param {string} key @param {string | null} text `null` takes it off */
export function tabKeeps(key, text) {
  try {
    if (text === null) sessionStorage.removeItem(key);
    else sessionStorage.setItem(key, text);
  } catch {
    // Then a reload begins at the list of runs.
  }
}

/** @param {string} key */
export function tabKept(key) {
  try {
    return sessionStorage.getItem(key);
  } catch {
    return null;
  }
}

/** A screen that stays lit keeps the running clock running. */
export class Awake {
  /** @type {WakeLockSentinel | null} */
  lock = null;
  /** @param {boolean} wanted */
  async keep(wanted) {
    try {
      if (wanted && (this.lock === null || this.lock.released)) this.lock = await navigator.wakeLock?.request("screen") ?? null;
      if (!wanted && this.lock !== null) await this.lock.release();
    } catch {
      this.lock = null;
    }
  }
}

/** @type {Promise<void> | null} */
let loading = null;

/** Fetches the script that hands runs over and opens them; once is enough. It answers the events `stepward:hand-over` and `stepward:unpack`. */
export function handOverScript() {
  loading ??= new Promise((done, failed) => {
    const { handOver, scriptType } = document.body.dataset;
    document.addEventListener("stepward:hand-over-ready", () => done(), { once: true });
    document.head.append(make("script", { src: handOver, type: scriptType, error: () => { loading = null; failed(new Error("not loaded")); } }));
  });
  return loading;
}
