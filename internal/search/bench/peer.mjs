// Gives one of the other searches the same face: find(query) to a list of ids.
const params = new URLSearchParams(location.search);
const at = "/" + params.get("corpus") + "/";
const json = async (name) => (await fetch(at + name)).json();
const text = async (name) => (await fetch(at + name)).text();

async function script(src) {
	await new Promise((done, fail) => {
		const s = document.createElement("script");
		s.src = src;
		s.onload = done;
		s.onerror = fail;
		document.head.append(s);
	});
}

const engines = {
	// All words first: those with all of them, then those with any.
	async minisearch() {
		const { default: MiniSearch } = await import("/node_modules/minisearch/dist/es/index.js");
		const { miniOptions } = await import("/options.mjs");
		const index = MiniSearch.loadJSON(await text("minisearch.json"), miniOptions);
		const options = (query, combineWith) => ({
			combineWith, boost: { title: 8 }, fuzzy: (term) => (term.length > 3 ? 1 : 0),
			prefix: (term, i, terms) => i === terms.length - 1,
		});
		return async (query) => {
			let found = index.search(query, options(query, "AND"));
			if (found.length === 0) found = index.search(query, options(query, "OR"));
			return found.slice(0, 8).map((r) => r.id);
		};
	},
	async lunr() {
		await script("/node_modules/lunr/lunr.js");
		const index = lunr.Index.load(await json("lunr.json"));
		// All words, then with the last one unfinished, then with a typo, then any.
		return async (query) => {
			const words = query.split(" ");
			const last = words.length - 1;
			for (const asked of [
				words.map((w) => "+" + w),
				words.map((w, i) => "+" + w + (i === last ? "*" : "")),
				words.map((w) => "+" + w + (w.length > 3 ? "~1" : "")),
				words,
			]) {
				const found = index.search(asked.join(" "));
				if (found.length > 0) return found.slice(0, 8).map((r) => r.ref);
			}
			return [];
		};
	},
	async flexsearch() {
		await script("/node_modules/flexsearch/dist/flexsearch.bundle.min.js");
		const index = new FlexSearch.Document({
			document: { id: "id", index: [{ field: "title", tokenize: "forward" }, { field: "body", tokenize: "forward" }] },
		});
		for (const d of await json("docs.json")) index.add(d);
		return async (query) => {
			const found = [];
			for (const suggest of [false, true]) {
				for (const f of index.search(query, { limit: 8, suggest })) found.push(...f.result);
				if (found.length > 0) break;
			}
			return [...new Set(found)].slice(0, 8);
		};
	},
	async pagefind() {
		const pagefind = await import(at + "pagefind/pagefind.js");
		await pagefind.options({ baseUrl: "/" });
		await pagefind.init();
		return async (query) => {
			const { results } = await pagefind.search(query);
			const shown = await Promise.all(results.slice(0, 8).map((r) => r.data()));
			return shown.map((d) => d.url.replace(/^\//, ""));
		};
	},
};

window.ready = engines[params.get("engine")]().then((find) => {
	window.find_ = find;
});
