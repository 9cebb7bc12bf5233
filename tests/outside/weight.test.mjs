// What a site weighs on its way to a telephone, compressed as the web does it (node's own zlib): one procedure with all it needs for a first use, and a library of forty.
// Everything is weighed with gzip (RFC 1952), the coarser of the two ways; the scripts of a page together also with brotli (RFC 7932), which browsers ask for first.
import assert from 'node:assert/strict';
import { cpSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { brotliCompressSync, gzipSync } from 'node:zlib';
import { parse } from 'yaml';
import { folder, root, stepward } from './support/library.mjs';

/** The bars of the job: a page with all it needs, the script of it, a first flow with start page and stop card, and the whole site. */
const BARS = { page: 100_000, script: 25_000, first: 300_000, site: 5_000_000 };
const FLOWS = 40;

const weigh = (path) => gzipSync(readFileSync(path), { level: 6 }).length;
const total = (paths) => paths.reduce((sum, path) => sum + weigh(path), 0);

/** The demo's procedures over and over under new ids, each copy going to the copies of its own round. */
function fortyProcedures(place) {
  const content = join(place, 'content');
  cpSync(join(root, 'content'), content, { recursive: true });
  const ids = readdirSync(join(content, 'procedures')).map((name) => name.replace('.md', ''));
  const texts = new Map(ids.map((id) => [id, readFileSync(join(content, 'procedures', `${id}.md`), 'utf8')]));
  const live = ids.filter((id) => !/^status: withdrawn/m.test(texts.get(id)));
  const by = new Map(parse(readFileSync(join(content, 'approvals.yaml'), 'utf8')).approvals.map((one) => [one.procedure, one.by]));
  const copies = [];
  for (let round = 2; live.length + copies.length < FLOWS; round++) {
    const named = new RegExp(`(carry-out: *|refer-to: *|\\]\\()(${live.join('|')})(?=\\s|\\.md)`, 'g');
    for (const id of live) {
      // A code names one procedure only.
      const text = texts.get(id).replace(named, `$1$2-${round}`).replace(/^codes: .*\n/m, '').replace(/^title: .*$/m, (line) => `${line} ${round}`);
      writeFileSync(join(content, 'procedures', `${id}-${round}.md`), text);
      copies.push({ id: `${id}-${round}`, of: id });
    }
  }
  // As the demo's own were approved, what is carried out before what carries it out.
  for (const [id, role] of by) {
    const named = copies.filter((one) => one.of === id).map((one) => one.id);
    if (named.length === 0) continue;
    const approved = stepward(['approve', '--library', content, '--by', role, '--today', '2026-11-24', ...named]);
    assert.equal(approved.status, 0, approved.out + approved.err);
  }
  return content;
}

test('a procedure with all it needs is under 100 kB, its script under 25 kB, a first use under 300 kB, and a site of 40 procedures under 5 MB, compressed', { timeout: 600_000 }, (context) => {
  const place = folder(context);
  const site = join(place, 'site');
  const published = stepward(['publish', '--library', fortyProcedures(place), '--to', site, '--today', '2026-11-24']);
  assert.equal(published.status, 0, published.out + published.err);

  const files = readdirSync(site, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile()).map((entry) => join(entry.parentPath ?? entry.path, entry.name));
  const pages = files.filter((path) => /\/procedures\/[^/]+\.html$/.test(path) && readFileSync(path, 'utf8').includes('id="flow-data"'));
  assert.ok(pages.length >= FLOWS, `${pages.length} procedures`);

  let heaviest = { bytes: 0 };
  for (const page of pages) {
    const text = readFileSync(page, 'utf8');
    const needed = [...text.matchAll(/(?:src|href)="\.\.\/(assets\/[^"]+)"/g)].map((found) => join(site, found[1]));
    const scripts = [...new Set(needed.filter((path) => path.endsWith('.js')))];
    const sheets = [...new Set(needed.filter((path) => path.endsWith('.css')))];
    assert.ok(scripts.length >= 1 && sheets.length === 1, `${page} needs ${needed}`);
    const script = scripts.reduce((sum, path) => sum + brotliCompressSync(readFileSync(path)).length, 0);
    assert.ok(script <= BARS.script, `${page}: script ${script} bytes`);
    const bytes = weigh(page) + total(scripts) + total(sheets);
    assert.ok(bytes <= BARS.page, `${page}: ${bytes} bytes`);
    if (bytes > heaviest.bytes) heaviest = { page, bytes, script, gzipped: total(scripts) };
  }
  const shell = total(['index.html', 'stop.html', 'offline.js', 'site.webmanifest', 'icon.svg'].map((name) => join(site, name)));
  const all = total(files);
  context.diagnostic(`heaviest: ${heaviest.page.slice(site.length + 1)} ${heaviest.bytes} bytes, its scripts ${heaviest.gzipped}, with brotli ${heaviest.script}; with start page, stop card and worker ${heaviest.bytes + shell}`);
  context.diagnostic(`${pages.length} procedures, ${files.length} files: ${all} bytes; without review, rules, schemas and certificates ${total(files.filter((path) => !/\/(review|rules|schemas)\/|certificate/.test(path)))}`);
  assert.ok(heaviest.bytes + shell <= BARS.first, `${heaviest.bytes + shell}`);
  assert.ok(all <= BARS.site, `${all}`);
});
