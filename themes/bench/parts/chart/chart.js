// The chart's window: begins at the start symbol, and keeps the step that is followed in sight. Only the window scrolls, never the page.

/** @param {HTMLElement} section */
export function startChart(section) {
  const region = section.querySelector(".chart-scroll");
  if (!(region instanceof HTMLElement)) return;

  /** @param {Element | null} node */
  const bringIn = (node) => {
    if (!node) return;
    const box = node.getBoundingClientRect();
    const view = region.getBoundingClientRect();
    region.scrollLeft += box.left + box.width / 2 - view.left - view.width / 2;
    region.scrollTop += box.top + box.height / 2 - view.top - Math.min(view.height / 2, 160);
  };

  bringIn(region.querySelector("#chart--start"));
  const watcher = new MutationObserver(() => bringIn(region.querySelector(".is-here")));
  watcher.observe(region, { subtree: true, attributes: true, attributeFilter: ["class"] });
}
