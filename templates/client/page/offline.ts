// Starts the service worker that keeps a copy of the site, and says at the foot
// of a page when it comes from that copy. From a folder nothing of it runs.

import { fill, h } from "./dom";
import { t } from "./words";

interface Told {
  copy: boolean;
  compared: number;
}

/** Keeps a copy of the site at root; words brings what there is to say. */
export function startOffline(root: string, words: () => Promise<void>): void {
  const saving = (navigator as { connection?: { saveData?: boolean } }).connection?.saveData;
  const preview = document.querySelector("script[data-generation]"); // whose pages are not what is published
  if (!location.protocol.startsWith("http") || !("serviceWorker" in navigator) || saving || preview) return;
  const copies = navigator.serviceWorker;
  const line = h("p", { class: "copy-line", role: "status", hidden: true });
  document.querySelector(".colophon")?.prepend(line);
  const say = (...what: Parameters<typeof fill> extends [Element, ...infer R] ? R : never): void => {
    fill(line, ...what);
    line.hidden = false;
  };

  copies.addEventListener("message", (e: MessageEvent<Told>) => {
    if (e.data.copy) void words().then(() => say(t("site.offline", { ago: ago(Date.now() - e.data.compared) })));
  });
  copies.controller?.postMessage({ ask: "copy" });
  if (copies.controller) {
    copies.addEventListener("controllerchange", () => void words().then(() => say(
      t("site.newer"), " ", h("a", { href: location.href, click: again }, t("site.newer-show")))));
  }
  offerAgain(root, words);
  window.addEventListener("load", () => void keep(root).catch(() => undefined)); // no copy: the page works without
}

function again(e: Event): void {
  e.preventDefault();
  location.reload();
}

async function keep(root: string): Promise<void> {
  const r = await navigator.serviceWorker.register(root + "offline.js", { scope: root, updateViaCache: "none" });
  if (!r.active) return;
  await r.update();
  if (!r.installing && !r.waiting) r.active?.postMessage({ ask: "keep", lang: document.documentElement.lang });
}

/** On the page that stands for one that is not kept: the way to that one. */
function offerAgain(root: string, words: () => Promise<void>): void {
  const place = document.getElementById("offline-again");
  const page = new URLSearchParams(location.search).get("page");
  if (!place || page === null) return;
  const to = new URL(encodeURI(page), root).href;
  if (to.startsWith(root)) void words().then(() => fill(place, h("a", { href: to }, t("site.retry"))));
}

const hour = 3_600_000;

/** How long ago, in words. */
export function ago(ms: number): string {
  if (ms < hour) return t("site.ago-now");
  if (ms < 48 * hour) return t("site.ago-hours", { n: Math.floor(ms / hour) });
  return t("site.ago-days", { n: Math.floor(ms / (24 * hour)) });
}
