// The copy of one publication. A worker keeps the publication that it came with
// and no other: a new publication comes with a new worker, which fetches all it
// needs into a copy of its own and holds every file to the site's SHA256SUMS
// before it takes over. So a copy is whole, and never of two publications.

import { Copy, Edition } from "./json";
import { at, inside, root, worker } from "./scope";

declare const tankleafCopy: Copy;

const name = `tankleaf ${root} `; // other sites may live beside this one
const mine = name + tankleafCopy.version;
const visited = mine + " visited";
const mostVisited = 400;
const atOnce = 6;
const sumHeader = "X-Sha256";
const stateAt = at("offline/state");

/** What is remembered beside the files. */
export interface State {
  langs: string[]; // editions that are kept
  compared: number; // when this was last known to be the publication, ms since 1970
}

async function hex(data: BufferSource): Promise<string> {
  const sum = new Uint8Array(await crypto.subtle.digest("SHA-256", data));
  return Array.from(sum, (b) => b.toString(16).padStart(2, "0")).join("");
}

/** A file from the network, if it is what was published. */
async function fetched(path: string, sum: string): Promise<Response> {
  const r = await fetch(at(path), { cache: "no-cache", priority: "low" });
  const body = await r.arrayBuffer();
  if (!r.ok || (await hex(body)) !== sum) throw new Error(path + " is not what was published");
  return new Response(body, { headers: { "Content-Type": r.headers.get("Content-Type") ?? "", [sumHeader]: sum } });
}

/** The sum that a kept file was held to. */
export function sumOf(r: Response): string {
  return r.headers.get(sumHeader) ?? "";
}

/** The copies of other publications of this site. */
async function others(): Promise<Cache[]> {
  const names = (await caches.keys()).filter((n) => n.startsWith(name) && n !== mine && n !== visited);
  return Promise.all(names.map((n) => caches.open(n)));
}

/** Puts a file into a cache, from an older copy when it is the same there. */
async function keep(into: Cache, old: readonly Cache[], path: string, sum: string): Promise<void> {
  if (await into.match(at(path))) return;
  for (const cache of old) {
    const same = await cache.match(at(path));
    if (same && sumOf(same) === sum) return into.put(at(path), same);
  }
  return into.put(at(path), await fetched(path, sum));
}

/** Does something with each, a few at once. The first failure ends it. */
async function each<T>(all: Iterable<T>, doOne: (one: T) => Promise<void>): Promise<void> {
  const line = all[Symbol.iterator]();
  const walk = async (): Promise<void> => {
    for (let next = line.next(); !next.done; next = line.next()) await doOne(next.value);
  };
  await Promise.all(Array.from({ length: atOnce }, walk));
}

type Sums = Map<string, string>;
const lists = new Map<string, Promise<Sums>>();

/** A part of SHA256SUMS, kept with the copy. */
function sums(path: string, sum: string): Promise<Sums> {
  const known = lists.get(path);
  if (known) return known;
  const read = async (): Promise<Sums> => {
    const cache = await caches.open(mine);
    await keep(cache, [], path, sum);
    const text = (await (await cache.match(at(path)))?.text()) ?? "";
    return new Map(text.split("\n").filter(Boolean).map((line): [string, string] => [line.slice(66), line.slice(0, 64)]));
  };
  const coming = read();
  lists.set(path, coming);
  coming.catch(() => lists.delete(path));
  return coming;
}

/** The sum that a file of this publication has, undefined when it is none. */
async function published(path: string): Promise<string | undefined> {
  for (const e of tankleafCopy.editions) {
    if (!path.startsWith(e.folder)) continue;
    const sum = (await sums(e.list, e.sum)).get(path);
    if (sum) return sum;
  }
  const rest = tankleafCopy.rest ?? [];
  if (rest.length === 0) return undefined;
  const n = parseInt((await hex(new TextEncoder().encode(path))).slice(0, 2), 16) % rest.length;
  return (await sums(`offline/rest-${n}.txt`, rest[n]!)).get(path);
}

/** The edition that a page is of: the one in the deepest folder. */
function edition(path: string): Edition | undefined {
  return tankleafCopy.editions.filter((e) => path.startsWith(e.folder)).sort((a, b) => b.folder.length - a.folder.length)[0];
}

export async function state(): Promise<State> {
  const kept = await (await caches.open(mine)).match(stateAt);
  return kept ? ((await kept.json()) as State) : { langs: [], compared: 0 };
}

async function remember(s: State): Promise<void> {
  await (await caches.open(mine)).put(stateAt, new Response(JSON.stringify(s)));
}

/** Remembers that this is still what the office publishes. */
export async function compared(): Promise<void> {
  const s = await state();
  if (s.langs.length > 0) await remember({ ...s, compared: Date.now() });
}

/** Keeps an edition too. */
async function keepEdition(e: Edition, old: readonly Cache[]): Promise<void> {
  const cache = await caches.open(mine);
  await each(await sums(e.list, e.sum), ([path, sum]) => keep(cache, old, path, sum));
}

/** Keeps the edition of a language, if it is not kept yet. */
export async function keepLanguage(lang: string): Promise<void> {
  const e = tankleafCopy.editions.find((one) => one.lang === lang);
  if (!e || (await state()).langs.includes(lang)) return;
  await keepEdition(e, []);
  const s = await state();
  await remember({ ...s, langs: [...s.langs, lang] });
}

/** Languages of the pages that are open, and of the copy that this one replaces. */
async function languages(old: readonly Cache[]): Promise<string[]> {
  const langs = new Set<string>();
  for (const cache of old) {
    const kept = await cache.match(stateAt);
    for (const lang of kept ? ((await kept.json()) as State).langs : []) langs.add(lang);
  }
  for (const page of await worker.clients.matchAll({ includeUncontrolled: true })) {
    const lang = edition(inside(page.url) ?? "")?.lang;
    if (lang) langs.add(lang);
  }
  return [...langs];
}

/**
 * Fetches the whole copy of this publication: its editions, and of the rest what
 * a reader had of the publication before, as far as it is still published. What
 * an interrupted attempt has fetched is not fetched again.
 */
export async function install(): Promise<void> {
  try {
    await fetchAll();
  } catch (e) {
    // Where there is no room for all of it, part of it must not take up the room.
    if (e instanceof DOMException && e.name === "QuotaExceededError") await Promise.all([caches.delete(mine), caches.delete(visited)]);
    throw e;
  }
}

async function fetchAll(): Promise<void> {
  const old = await others(), langs = await languages(old);
  for (const e of tankleafCopy.editions) {
    if (langs.includes(e.lang)) await keepEdition(e, old);
  }
  const cache = await caches.open(mine), more = await caches.open(visited);
  for (const before of old) {
    await each(await before.keys(), async (request) => {
      const path = inside(request.url);
      if (!path || path.startsWith("offline/") || (await cache.match(at(path)))) return;
      const sum = await published(path);
      if (sum) await keep(more, old, path, sum);
    });
  }
  await remember({ langs, compared: Date.now() });
}

/** Takes away the copies of other publications. */
export async function clear(): Promise<void> {
  for (const n of await caches.keys()) {
    if (n.startsWith(name) && n !== mine && n !== visited) await caches.delete(n);
  }
}

/** A kept file: by its path, or by what a server makes of it. */
export async function kept(path: string): Promise<Response | undefined> {
  const names = path === "" || path.endsWith("/") ? [path + "index.html"] : [path, path + ".html"];
  for (const cache of [mine, visited]) {
    for (const n of names) {
      const r = await (await caches.open(cache)).match(at(n));
      if (r) return r;
    }
  }
  return undefined;
}

/**
 * Keeps a file that a reader has looked at, when it is of this publication, and
 * reports whether it is. The oldest make room.
 */
export async function keepVisited(path: string, body: ArrayBuffer, type: string): Promise<boolean> {
  const sum = await hex(body);
  if ((await published(path)) !== sum) return false;
  if (await kept(path)) return true;
  const cache = await caches.open(visited);
  await cache.put(at(path), new Response(body, { headers: { "Content-Type": type, [sumHeader]: sum } }));
  const all = await cache.keys();
  for (const oldest of all.slice(0, Math.max(0, all.length - mostVisited))) await cache.delete(oldest);
  return true;
}

/** The page that says that a page is not kept, in its language or one that is; undefined when there is no copy. */
export async function missing(path: string): Promise<string | undefined> {
  const { langs } = await state(), own = edition(path);
  const e = own && langs.includes(own.lang) ? own : tankleafCopy.editions.find((one) => langs.includes(one.lang));
  return e && `${at(e.folder)}offline.html?page=${encodeURIComponent(path)}`;
}
