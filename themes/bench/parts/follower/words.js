// The words of the page's interface, as the page brings them in its own language. `{names}` in them are filled in.

/** @type {Record<string, Record<string, string>> | null} by group and key */
let words = null;

/** Words from elsewhere than the page: for tests. @param {Record<string, Record<string, string>>} groups */
export function useWords(groups) {
  words = groups;
}

/** @param {string} key @param {string} group */
function find(key, group) {
  words ??= JSON.parse(document.getElementById("interface-words")?.textContent ?? "{}");
  return /** @type {any} */ (words)[group]?.[key];
}

/** @param {string} key @param {Record<string, unknown>} values @param {string} group */
export function say(key, values = {}, group = "follower") {
  const text = find(key, group) ?? key;
  return text.replace(/\{([a-z]+)\}/g, (/** @type {string} */ whole, /** @type {string} */ name) => (Object.hasOwn(values, name) ? String(values[name]) : whole)).trim();
}

/** The word of a family (`person`, `need`, `end` ...) for an id; the id itself where there is none. @param {string} family @param {string} id */
export function sayOf(family, id) {
  return find(`${family}-${id}`, "follower") === undefined ? id : say(`${family}-${id}`);
}

/** The time of day, to the minute, as it is written here; a minute begun counts whole. @param {number} wall */
export function timeAt(wall) {
  return new Date(Math.ceil(wall / 60_000) * 60_000).toLocaleTimeString(document.documentElement.lang || "en", { hour: "2-digit", minute: "2-digit" });
}

/** `90` s is `1 min 30 s`. @param {number} seconds */
export function duration(seconds) {
  /** @type {[number, string][]} */
  const parts = [[Math.floor(seconds / 3600), "h"], [Math.floor(seconds / 60) % 60, "min"], [seconds % 60, "s"]];
  return parts.filter(([count]) => count > 0).map(([count, unit]) => `${count} ${unit}`).join(" ") || "0 s";
}
