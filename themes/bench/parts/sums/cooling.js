// The curve of a cooling fuser, as `src/render/bench_sums/cooling.rs` draws it for the example.

const [LEFT, RIGHT, TOP, BOTTOM, HOTTEST, POINTS] = [44, 350, 12, 168, 250, 48];

/** @param {Element} figure @param {Record<string, number>} values */
export function drawCooling(figure, { hot, room, safe, tau }) {
  const wait = tau * Math.log((hot - room) / (safe - room));
  const longest = Math.max(wait * 1.5, 1);
  const x = (/** @type {number} */ minutes) => LEFT + (minutes / longest) * (RIGHT - LEFT);
  const y = (/** @type {number} */ degrees) => BOTTOM - (degrees / HOTTEST) * (BOTTOM - TOP);
  const set = (/** @type {string} */ what, /** @type {Record<string, string>} */ attributes) => {
    const element = figure.querySelector(what);
    for (const [name, value] of Object.entries(attributes)) element?.setAttribute(name, value);
    return element;
  };
  const points = Array.from({ length: POINTS + 1 }, (_, n) => {
    const minutes = (longest * n) / POINTS;
    return `${x(minutes).toFixed(1)},${y(room + (hot - room) * Math.exp(-minutes / tau)).toFixed(1)}`;
  });
  set(".curve__line", { points: points.join(" ") });
  set(".curve__limit", { d: `M${LEFT} ${y(safe).toFixed(1)}H${RIGHT}` });
  set(".curve__limit ~ .curve__limit", { d: `M${x(wait).toFixed(1)} ${TOP}V${BOTTOM}` });
  const mark = set(".curve__text--mark", { x: x(wait).toFixed(1) });
  if (mark) mark.textContent = wait.toFixed(1);
}
