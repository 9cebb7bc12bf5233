// What did not go as the procedure has it: for the record, and for who reads it.

/** @typedef {{what: string, n: number, [key: string]: any}} Deviation  `n` is the number of the entry it is told in */

/** @param {any} state @returns {Deviation[]} */
export function deviations(state) {
  return state.log.flatMap((/** @type {any} */ entry, /** @type {number} */ place) => {
    const n = place + 1;
    if (entry.what === "back") return [{ what: "went-back", n, step: entry.to }];
    if (entry.what === "wait-over" && entry.doubt) return [{ what: "clocks-disagreed", n, step: entry.step }];
    if (entry.what === "hand-over") return [{ what: "handed-over", n, step: entry.step, missing: entry.missing.map((/** @type {any} */ one) => one.id) }];
    if (entry.what === "resume" && entry.raised) return [{ what: "person-raised", n, person: entry.person, why: entry.raised }];
    if (entry.what === "way" && entry.near) return [{ what: "near-an-edge", n, step: entry.step }];
    return [];
  });
}
