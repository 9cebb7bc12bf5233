// What may still be wrong after the answers so far, and what to bring for it: from the weights of the procedure's faults and from what each answer says
// of them (`when`). One fault at a time is taken to be there (Bayes' rule, textbook). Nothing here decides a way; no caution and no check hangs on it.
// Fetched on demand, with the rest of handing over.

/** @typedef {{id: string, name: string, share: number}} Share  `share` from 0 to 1, all of them together 1 */

/**
 * The faults that may still be there, the likeliest first. None, where the procedure declares no faults or the answers fit none of them.
 * @param {any} flow @param {any} state @param {(entry: any) => boolean} counts which entries of the path count
 * @returns {Share[]}
 */
export function sharesLeft(flow, state, counts = () => true) {
  const known = flow.faults?.known ?? [];
  if (known.length === 0) return [];
  /** @type {Map<string, number>} */
  const weights = new Map(known.map((/** @type {any} */ fault) => [fault.id, Number(fault.weight)]));
  for (const likely of likelihoods(flow, state, counts)) {
    for (const [id, weight] of weights) weights.set(id, weight * likely(id));
  }
  const sum = [...weights.values()].reduce((one, other) => one + other, 0);
  if (!(sum > 0)) return [];
  const shares = known.map((/** @type {any} */ { id, name }) => ({ id, name, share: (weights.get(id) ?? 0) / sum }));
  return shares.filter((/** @type {Share} */ one) => one.share > 0).sort((/** @type {Share} */ one, /** @type {Share} */ other) => other.share - one.share);
}

/** For each answer that says something of faults: how likely each fault gives it. @param {any} flow @param {any} state @param {(entry: any) => boolean} counts @returns {((fault: string) => number)[]} */
function likelihoods(flow, state, counts) {
  /** @type {Set<string>} */
  const cured = new Set();
  /** A question asked again says once what it says: the last answer counts. @type {Map<string, (fault: string) => number>} */
  const found = new Map();
  for (const entry of state.path) {
    if (entry.what !== "way" || entry.procedure !== flow.procedure || entry.depth > 0) continue;
    const step = flow.procedures[flow.procedure].steps[entry.step];
    for (const fault of step.cures) cured.add(fault);
    const gives = flow.faults.gives[entry.step]?.[entry.way] ?? null;
    if (gives === null || !counts(entry)) continue;
    if (names(gives, "fixed") || names(gives, "not-fixed")) found.set(`${entry.step} ${found.size}`, checkOf(new Set(cured), names(gives, "fixed")));
    else found.set(entry.step, (fault) => chanceOf(flow.faults.gives[entry.step], entry.way, fault));
  }
  return [...found.values()];
}

/** Whether a way names a fault, or one of the words of a check. @param {any} gives @param {string} id */
function names(gives, id) {
  return gives !== null && typeof gives === "object" && Object.hasOwn(gives, id);
}

/** A check after a cure: what was cured so far is not there any more, or it was that. @param {Set<string>} cured @param {boolean} fixed @returns {(fault: string) => number} */
function checkOf(cured, fixed) {
  return (fault) => (cured.has(fault) === fixed ? 1 : 0);
}

/** How likely a fault gives a way of a step. Of a fault that the step says nothing about, each way says as little. @param {any[]} gives @param {number} way @param {string} fault */
function chanceOf(gives, way, fault) {
  const named = gives.map((one) => (names(one, fault) ? Number(one[fault]) : null));
  if (named.every((one) => one === null)) return gives[way] === "rest" || !gives.includes("rest") ? 1 : 0;
  return named[way] ?? 0;
}

/**
 * The tools and supplies that may be needed, with how likely each is; first, and without a share, what the procedure asks for whatever the fault.
 * @param {any} flow @param {Share[]} left @returns {{name: string, share: number | null}[]}
 */
export function bag(flow, left) {
  const things = (flow.faults?.bring ?? []).map((/** @type {any} */ { name, cures }) => {
    const share = left.filter((one) => cures.includes(one.id)).reduce((sum, one) => sum + one.share, 0);
    return { name, share: cures.length === 0 || left.length === 0 ? null : share };
  });
  const needed = things.filter((/** @type {any} */ one) => one.share === null || one.share > 0);
  return needed.sort((/** @type {any} */ one, /** @type {any} */ other) => (other.share ?? 2) - (one.share ?? 2));
}

/** Faults that only what somebody told speaks against: seen answers leave them. @param {any} flow @param {any} state @param {Share[]} left @returns {Share[]} */
export function ruledOutByWord(flow, state, left) {
  if (left.length === 0) return [];
  return sharesLeft(flow, state, (entry) => !entry.told).filter((one) => !left.some((other) => other.id === one.id));
}
