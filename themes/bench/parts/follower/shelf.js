// The runs that this device keeps, as one tab sees them: which it holds, which another one does.
import { forget, heldElsewhere, hold, keep, keptRuns, letGo, probe, readRun } from "../../script/runs.js";
import { deviceStore, newId } from "./device.js";

export class Shelf {
  /** @param {string} procedure of the page that the tab shows */
  constructor(procedure) {
    this.procedure = procedure;
    this.store = deviceStore();
    this.tab = newId();
    /** Whether runs can be kept: "works", or the reason why not. */
    this.room = probe(this.store);
  }

  /** Every run kept, of this page's procedure and of others. */
  runs() {
    return keptRuns(this.store);
  }

  /** @param {string} id */
  read(id) {
    return readRun(this.store, this.procedure, id);
  }

  /** Whether no other tab has the run. @param {string} id */
  isFree(id) {
    return !heldElsewhere(this.store, this.procedure, id, this.tab, Date.now());
  }

  /** Says that this tab has the run; false where another one has it, unless it is taken over. @param {string} id @param {boolean} over */
  hold(id, over = false) {
    return hold(this.store, this.procedure, id, this.tab, Date.now(), over);
  }

  /** @param {string} id */
  letGo(id) {
    letGo(this.store, this.procedure, id, this.tab);
  }

  /** @param {string} id @param {any} state @returns what became of it: "elsewhere" where another tab has the run */
  keep(id, state) {
    const kept = keep(this.store, { id, procedure: this.procedure, state }, this.tab, Date.now());
    if (this.room === "works" && kept === "failed") this.room = "failed";
    return kept;
  }

  /** @param {string} id */
  forget(id, procedure = this.procedure) {
    forget(this.store, procedure, id);
  }
}
