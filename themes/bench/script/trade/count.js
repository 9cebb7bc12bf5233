// Exact limits of a Poisson count at 95 %: as `src/trade/count.rs`.

const TAIL = 0.025;
const HALVINGS = 200;

/** The chance of at most `count` where `mean` are expected. @param {number} count @param {number} mean */
function atMost(count, mean) {
  let term = Math.exp(-mean);
  let sum = term;
  for (let n = 1; n <= count; n += 1) {
    term *= mean / n;
    sum += term;
  }
  return sum;
}

/** @param {number} wanted @param {number} most @param {(mean: number) => number} chance */
function meanWhere(wanted, most, chance) {
  let [low, high] = [0, most];
  for (let n = 0; n < HALVINGS; n += 1) {
    const middle = (low + high) / 2;
    if (chance(middle) > wanted) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** @param {number} count @returns {[number, number]} */
export function poissonLimits(count) {
  const most = count + 6 * Math.sqrt(count + 1) + 10;
  const low = count === 0 ? 0 : meanWhere(1 - TAIL, most, (mean) => atMost(count - 1, mean));
  return [low, meanWhere(TAIL, most, (mean) => atMost(count, mean))];
}
