// Answers what pages ask for. A page comes from the network while there is one,
// so that nobody with a signal reads what is out of date; what a page asks for by
// its sum comes from the copy when that very file is there; all else again from
// the network first.

import { kept, keepVisited, missing, sumOf } from "./copy";
import { Fetching, inside, worker } from "./scope";

const patience = 3000; // ms to wait for the network before the copy answers
const impatience = 500; // the same, after it did not answer
let wait = patience;

const fromCopy = new Set<string>(); // pages that came from the copy

/** Reports whether a page came from the copy. */
export function isFromCopy(id: string): boolean {
  return fromCopy.has(id);
}

/** Answers a request, or leaves it to the browser. */
export function answer(e: Fetching): void {
  const path = inside(e.request.url);
  if (e.request.method !== "GET" || path === undefined) return;
  if (path === "offline.js" || path === "SHA256SUMS" || path.startsWith("offline/")) return;
  e.respondWith(e.request.mode === "navigate" ? page(e, path) : part(e, path));
}

async function page(e: Fetching, path: string): Promise<Response> {
  const coming = network(e, path, { cache: "no-cache" }); // a browser's memory is not the network
  const first = await inTime(coming);
  if (first) return first;
  const copy = await kept(path);
  if (copy) {
    fromCopy.add(e.resultingClientId);
    return copy;
  }
  return coming.catch(async () => {
    const page = await missing(path);
    return page ? Response.redirect(page) : Response.error();
  });
}

async function part(e: Fetching, path: string): Promise<Response> {
  const pin = new URL(e.request.url).searchParams.get("sha256");
  const copy = await kept(path);
  if (copy && (pin ? sumOf(copy).startsWith(pin) : fromCopy.has(e.clientId))) return copy;
  const coming = network(e, path);
  if (!copy || pin) return coming;
  return (await inTime(coming)) ?? copy;
}

/** What the network answers in time, if it is no failure. */
async function inTime(coming: Promise<Response>): Promise<Response | undefined> {
  const late = new Promise<undefined>((done) => setTimeout(done, wait));
  const r = await Promise.race([coming.catch(() => undefined), late]);
  wait = r ? patience : impatience;
  return r && r.status < 500 ? r : undefined;
}

/** Asks the network and keeps what it answers, when it is of this publication. */
function network(e: Fetching, path: string, how?: RequestInit): Promise<Response> {
  const coming = fetch(e.request, how);
  e.waitUntil(coming.then((r) => (r.ok && r.type === "basic" && !r.redirected ? look(path, r.clone()) : undefined)).catch(() => undefined));
  return coming;
}

async function look(path: string, r: Response): Promise<void> {
  const same = await keepVisited(path, await r.arrayBuffer(), r.headers.get("Content-Type") ?? "");
  if (!same) await worker.registration.update();
}
