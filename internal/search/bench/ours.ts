// Gives ours the same face as the others; the page loads what a site's page
// does, and this beside it.
import { openEngine } from "./search/load";

const corpus = document.documentElement.dataset["corpus"] ?? "";
const engine = openEngine(corpus);
const find = async (query: string): Promise<string[]> => (await engine.find(query, "", 8)).results.map((r) => r.path);
// A page that is asked in its address tells when its script began to run, when it had
// the first result and when the whole answer, in ms from the beginning of opening it.
const began = performance.now();
const asked = new URLSearchParams(location.search).get("q");
async function waits(query: string): Promise<[number, number, number]> {
	let first = Infinity;
	await engine.find(query, "", 8, () => (first = Math.min(first, performance.now())));
	const whole = performance.now();
	return [began, Math.min(first, whole), whole];
}
Object.assign(globalThis, { ready: Promise.resolve(), find_: find, waits: asked === null ? undefined : waits(asked) });
