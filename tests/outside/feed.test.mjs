// The feed as a general reader of feeds takes it (rss-parser, over xml2js), and by the counts of RFC 4287, sections 4.1.1 and 4.1.2; dates by RFC 3339.
import assert from 'node:assert/strict';
import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { test } from 'node:test';
import { root } from './support/library.mjs';

const require = createRequire(import.meta.url);
const Parser = require('rss-parser');
const { parseStringPromise } = require('xml2js');
const site = join(root, 'site-demo');
const text = readFileSync(join(site, 'changes.xml'), 'utf8');
const DATE = /^\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])T\d\d:\d\d:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d)$/;

test('a reader of feeds finds every released procedure, and what is withdrawn as withdrawn', async (context) => {
  const feed = await new Parser().parseString(text);
  const manifest = JSON.parse(readFileSync(join(site, 'stepward-site.json'), 'utf8'));
  const pages = Object.keys(manifest.files).filter((path) => /^procedures\/[^.]+\.html$/.test(path)).sort();
  assert.deepEqual([...new Set(feed.items.map((item) => item.link))].sort(), pages);
  for (const item of feed.items) {
    assert.ok(existsSync(join(site, item.link)), item.link);
    const isFollowed = readFileSync(join(site, item.link), 'utf8').includes('id="follower"');
    assert.equal(item.title.startsWith('Withdrawn'), !isFollowed, item.title);
    assert.ok(item.title.length > 3 && item.summary.length > 3, item.title);
  }
  assert.ok(feed.items.some((item) => item.title.startsWith('Withdrawn') && item.link === 'procedures/wipe-the-fuser.html'));
  context.diagnostic(`${feed.items.length} entries`);
});

test('every count of the standard holds', async () => {
  const { feed } = await parseStringPromise(text, { strict: true });
  assert.equal(feed.$.xmlns, 'http://www.w3.org/2005/Atom');
  for (const element of ['id', 'title', 'updated']) assert.equal(feed[element].length, 1, element);
  assert.ok(feed.author.length >= 1 && feed.author.every(({ name }) => name.length === 1));
  const ids = [...feed.id, ...feed.entry.flatMap(({ id }) => id)];
  assert.equal(new Set(ids).size, ids.length);
  const alternates = (links) => links.map(({ $ }) => $).filter(({ rel }) => rel === 'alternate');
  for (const part of [feed, ...feed.entry]) assert.equal(alternates(part.link).length, 1);
  for (const entry of feed.entry) for (const element of ['id', 'title', 'updated', 'summary']) assert.equal(entry[element].length, 1, element);
  const days = feed.entry.map(({ updated }) => updated[0]);
  for (const day of [...days, feed.updated[0]]) assert.ok(DATE.test(day) && !Number.isNaN(Date.parse(day)), day);
  assert.equal(feed.updated[0], days.sort().at(-1));
});
