// The service worker: keeps a copy of the site in the browser for when there is
// no signal. internal/site writes what it has to know of its publication before
// it; so its text changes with every publication, and the browser sees to it.

import { clear, compared, install, keepLanguage, state } from "./offline/copy";
import { worker } from "./offline/scope";
import { answer, isFromCopy } from "./offline/serve";

worker.addEventListener("install", (e) => e.waitUntil(install().then(() => worker.skipWaiting())));
worker.addEventListener("activate", (e) => e.waitUntil(clear().then(() => worker.clients.claim())));
worker.addEventListener("fetch", answer);
worker.addEventListener("message", (e) => {
  const asked = e.data as { ask: string; lang: string };
  const from = e.source;
  if (asked.ask === "copy" && from) {
    e.waitUntil(state().then((s) => from.postMessage({ copy: isFromCopy(from.id), compared: s.compared })));
  } else if (asked.ask === "keep") {
    e.waitUntil(compared().then(() => keepLanguage(asked.lang)));
  }
});
