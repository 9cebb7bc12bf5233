// The flows of a published site: of `site-demo`, or of the folder that `SITE` names.
import { readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { pathToFileURL } from "node:url";
import { useWords } from "../../themes/bench/parts/follower/words.js";

const SITE = process.env.SITE ? pathToFileURL(`${process.env.SITE}/`) : new URL("../../site-demo/", import.meta.url);

const pages = readdirSync(new URL("procedures/", SITE)).filter((name) => name.endsWith(".html"));
export const flows = pages.flatMap((name) => {
  const data = /<script type="application\/json" id="flow-data">(.*?)<\/script>/s.exec(readFileSync(new URL(`procedures/${name}`, SITE), "utf8"));
  return data ? [JSON.parse(data[1])] : [];
});

export function flowNamed(id) {
  const found = flows.find((flow) => flow.procedure === id);
  if (!found) throw new Error(`the site has no flow ${id}`);
  return found;
}

/** The interface's words, for what is told in words. */
export function useDemoWords() {
  const { parse } = createRequire(new URL("../outside/", import.meta.url))("yaml");
  useWords(parse(readFileSync(new URL("../../themes/bench/words/en.yaml", import.meta.url), "utf8")));
}
