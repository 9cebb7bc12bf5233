// Room for a drawing inside another: the sheet is cut along a line across and a line down, and both are pulled apart. Lines stay level and upright, nothing
// that stood apart meets, and the rectangle between the cuts is empty. Pure.

/**
 * @typedef {{x: number, y: number}} Point
 * @typedef {{left: number, top: number, right: number, bottom: number}} Box
 * @typedef {{x: number, y: number, width: number, height: number}} Cut  where it is cut, and how far it is pulled apart
 */

/** Where to cut beside and below a box: below every box that reaches beyond its foot. @param {Box} box @param {Box[]} all @returns {Point} */
export function cutFor(box, all) {
  let y = box.bottom;
  for (let again = true; again; ) {
    const over = all.filter((one) => one.top < y && one.bottom > y);
    again = over.length > 0;
    y = Math.max(y, ...over.map((one) => one.bottom));
  }
  return { x: box.right, y };
}

/** Where a point comes to lie. Cuts at the same place share their room. @param {Cut[]} cuts @returns {(point: Point) => Point} */
export function pulled(cuts) {
  const room = (/** @type {"x" | "y"} */ along, /** @type {"width" | "height"} */ by) => {
    const most = new Map();
    for (const cut of cuts) most.set(cut[along], Math.max(most.get(cut[along]) ?? 0, cut[by]));
    return [...most];
  };
  const [across, down] = [room("x", "width"), room("y", "height")];
  const moved = (/** @type {[number, number][]} */ list, /** @type {number} */ value) => list.reduce((sum, [at, by]) => (value > at ? sum + by : sum), value);
  return ({ x, y }) => ({ x: moved(across, x), y: moved(down, y) });
}

/** The corners of a line: first point, control points, last point. @param {string} path @returns {Point[]} */
export function cornersOf(path) {
  const corners = [];
  for (const [, letter, numbers] of path.matchAll(/([MLQ])([^MLQ]*)/g)) {
    const [x, y] = numbers.trim().split(/[ ,]+/).map(Number);
    if (letter === "L") corners.push({ x, y, soft: true });
    else corners.push({ x, y, soft: false });
  }
  // A stretch that leads into a bend ends before its corner.
  return corners.filter((corner, place) => !corner.soft || place === corners.length - 1).map(({ x, y }) => ({ x, y }));
}

const CORNER = 6;

/** A line by its corners, rounded. @param {Point[]} points */
export function pathOf(points) {
  const length = (/** @type {Point} */ a, /** @type {Point} */ b) => Math.abs(a.x - b.x) + Math.abs(a.y - b.y);
  const towards = (/** @type {Point} */ from, /** @type {Point} */ to, /** @type {number} */ by) => `${from.x + by * Math.sign(to.x - from.x)} ${from.y + by * Math.sign(to.y - from.y)}`;
  return points.map((point, place) => {
    const [before, next] = [points[place - 1], points[place + 1]];
    if (!before) return `M${point.x} ${point.y}`;
    if (!next) return `L${point.x} ${point.y}`;
    const radius = Math.min(CORNER, Math.floor(length(before, point) / 2), Math.floor(length(point, next) / 2));
    return `L${towards(point, before, radius)}Q${point.x} ${point.y} ${towards(point, next, radius)}`;
  }).join("");
}
