// Run by the tests of the Go package search, which gives texts and queries with
// its own results, and compares how many were checked.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";

import { Engine } from "./engine";
import { Marker } from "./excerpt";
import { tokens } from "./fold";
import { oneEdit } from "./read";
import { stem } from "./stem";

interface TextCase { text: string; lang: string; forms: string[][]; stems: string[] }
interface QueryCase {
	query: string; kind: string; paths: string[]; scores: string[]; total: number;
	changed: Record<string, string[]>; loose: boolean;
}
interface Exchange { texts: TextCase[]; indexes: { dir: string; queries: QueryCase[] }[] }
interface Vector { name: string; why: string; in: { do: string; lang?: string; text: string; with?: string }; want: string[] }

const exchange = JSON.parse(readFileSync(process.env["EXCHANGE"]!, "utf8")) as Exchange;

test("texts", () => {
	for (const c of exchange.texts) {
		const forms = tokens(c.text).map((t) => t.forms);
		assert.deepEqual(forms, c.forms);
		assert.deepEqual(forms.flat().map((f) => stem(c.lang, f)), c.stems);
	}
	console.log("# checked texts: " + exchange.texts.length);
});

// open returns an engine on exported files, and the names of those it loads.
function open(dir: string): { engine: Engine; loaded: string[] } {
	const loaded: string[] = [];
	const engine: Engine = new Engine(async (name) => {
		loaded.push(name);
		const script = readFileSync(join(dir, name + ".js"), "utf8");
		new Function("shard", script)((version: string, part: string, ...content: unknown[]) => {
			engine.register(version, part, content);
		});
	});
	return { engine, loaded };
}

// bits writes every bit of a number as Go's %x does, to be read back.
function fromHex(s: string): number {
	const m = /^(-?)0x([01])(?:\.([0-9a-f]*))?p([+-]\d+)$/.exec(s);
	assert.ok(m, s);
	const digits = m[3] ?? "";
	const mantissa = Number(m[2]) + (digits === "" ? 0 : parseInt(digits, 16) / 16 ** digits.length);
	return mantissa * 2 ** Number(m[4]);
}

for (const { dir, queries } of exchange.indexes) {
	test("queries", async () => {
		const { engine, loaded } = open(dir);
		for (const c of queries) {
			const a = await engine.find(c.query, c.kind, 10);
			assert.deepEqual(a.results.map((r) => r.path), c.paths, c.query);
			assert.deepEqual(a.results.map((r) => r.score), c.scores.map(fromHex), c.query);
			assert.deepEqual({ total: a.total, changed: a.changed, loose: a.loose }, { total: c.total, changed: c.changed, loose: c.loose }, c.query);
		}
		assert.equal(new Set(loaded).size, loaded.length, "a part was loaded twice");
		console.log("# checked queries: " + queries.length);
	});
}

test("vectors", () => {
	const { schema, cases } = JSON.parse(readFileSync(process.env["VECTORS"]!, "utf8")) as { schema: number; cases: Vector[] };
	assert.equal(schema, 1);
	for (const c of cases) {
		assert.deepEqual(Object.keys(c).sort(), ["in", "name", "want", "why"], c.name);
		assert.deepEqual(result(c.in), c.want, c.name);
	}
	console.log("# checked vectors: " + cases.length);
});

function result(v: Vector["in"]): string[] {
	switch (v.do) {
	case "forms": return tokens(v.text).flatMap((t) => t.forms);
	case "stem": return [stem(v.lang!, v.text)];
	case "edit": return [oneEdit(v.text, v.with!) ? "yes" : "no"];
	}
	throw new Error("unknown vector " + v.do);
}

test("a part of another publication is refused, and asked for again", async () => {
	const { dir } = exchange.indexes[1]!;
	let stale = true;
	const engine: Engine = new Engine(async (name) => {
		const script = readFileSync(join(dir, name + ".js"), "utf8");
		new Function("shard", script)((version: string, part: string, ...content: unknown[]) => {
			engine.register(stale && part !== "root" ? "other" : version, part, content);
		});
	});
	await assert.rejects(async () => engine.find("water", "", 5), /another publication/);
	stale = false;
	assert.ok((await engine.find("water", "", 5)).results.length > 0);
});

test("excerpts", () => {
	const marker = new Marker([{ form: "foam", prefix: false }, { form: "sulf", prefix: true }]);
	assert.deepEqual(marker.pieces("Foam, then sulfate: foamy."), [
		{ text: "Foam", found: true }, { text: ", then ", found: false },
		{ text: "sulfate", found: true }, { text: ": foamy.", found: false },
	]);
	const long = "word ".repeat(60) + "ammonium sulfate makes foam here " + "word ".repeat(60);
	const cut = marker.excerpt(long, 80);
	assert.match(cut, /sulfate makes foam/);
	assert.ok(cut.length <= 84 && cut.startsWith("… ") && cut.endsWith(" …"), cut);
	assert.equal(marker.excerpt("short", 80), "short");
});
