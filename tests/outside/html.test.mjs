// Every page of the demo through the checker of the HTML standard's maintainers (vnu-jar, npm), as a web page and without one error or warning.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';

const require = createRequire(import.meta.url);
const site = fileURLToPath(new URL('../../site-demo/', import.meta.url));

function pages(folder) {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return pages(path);
    return entry.name.endsWith('.html') ? [path] : [];
  });
}

test('every page of the demo is valid HTML', { timeout: 300_000 }, () => {
  const files = pages(site);
  assert.ok(files.length >= 10, `only ${files.length} pages`);
  const run = spawnSync('java', ['-Xss4m', '-jar', require('vnu-jar'), '--format', 'json', ...files], { encoding: 'utf8', maxBuffer: 64 * 1024 * 1024 });
  assert.equal(run.error, undefined);
  const all = JSON.parse(run.stderr || '{"messages":[]}').messages;
  // A file has no origin, so the checker cannot know what 'self' means in the pages' own security policy; the browser tests show that it lets them work.
  const said = all.filter((message) => (message.type === 'error' || message.subType === 'warning') && !message.message.includes('Content Security Policy'));
  const lines = said.map((message) => `${message.url.replace(/^.*site-demo/, 'site-demo')}:${message.lastLine}: ${message.message}`);
  assert.deepEqual(lines, []);
});
