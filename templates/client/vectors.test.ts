// Reads the vectors that Go reads, and must give the same answers. Run by
// internal/planner's tests, which compare the number of cases.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { Book, hazardNames } from "./compat/book";
import { verdicts } from "./compat/enums";
import type { Core, Shard, Uses } from "./compat/json";
import { Judge } from "./compat/judge";
import { Purposes, replacements, whole, without } from "./compat/whatif";
import { text } from "./unit/format";
import type { Num } from "./unit/number";
import * as parse from "./unit/parse";
import type { Dimension, Quantity } from "./unit/quantity";
import { parseRate } from "./unit/rate";
import { parseStrength, strengthText } from "./unit/strength";
import { Refusal } from "./unit/text";
import { loadRequest, recipeRequest } from "./jar/input";
import type { LoadInput, ProductInput, RecipeInput, StepInput } from "./jar/json";
import { plan } from "./jar/load";
import { planJSON, recipeJSON } from "./jar/output";
import { Problems } from "./jar/problem";
import { recipe } from "./jar/recipe";

const dir = process.env["VECTORS"] ?? "";

interface Case {
  name: string;
  why: string;
  in: unknown;
  want: unknown;
}

/** Reads a file of vectors strictly: unknown keys, another schema or no case fail. */
function readVectors(data: string): Case[] {
  const set = JSON.parse(data) as { schema: number; cases: Case[] };
  only(set, ["schema", "cases"]);
  assert.equal(set.schema, 1, "unknown schema");
  assert.ok(set.cases.length > 0, "no cases");
  const seen = new Set<string>();
  for (const c of set.cases) {
    only(c, ["name", "why", "in", "want"]);
    assert.ok(c.name && c.why && !seen.has(c.name), "case without name or reason, or named twice: " + c.name);
    seen.add(c.name);
  }
  return set.cases;
}

/** Fails on a key that is not known here. */
function only(o: object, keys: readonly string[]): void {
  for (const k of Object.keys(o)) assert.ok(keys.includes(k), "unknown key " + k);
}

/** The keys of a type, complete by the compiler's word. */
const keysOf = <T>(keys: Record<keyof T, true>): string[] => Object.keys(keys);

const productKeys = keysOf<ProductInput>({
  name: true, rate: true, form: true, state: true, density: true, bag: true, position: true, classes: true, range: true, spray_range: true,
});
const stepKeys = keysOf<StepInput>({ id: true, bags: true, forms: true, classes: true });
const recipeKeys = keysOf<RecipeInput>({ jar: true, spray_volume: true, water_share: true, first_water: true, products: true, steps: true });
const loadKeys = keysOf<LoadInput>({
  area: true, spray_volume: true, tank: true, max_fill: true, minimum: true, heel: true, first_water: true, products: true, steps: true,
});

function checkInput(q: RecipeInput | LoadInput, keys: string[]): void {
  only(q, keys);
  for (const p of q.products) only(p, productKeys);
  for (const s of q.steps ?? []) only(s, stepKeys);
}

const quantity = <D extends Dimension>(read: (s: string) => Quantity<D>) => (s: string): [string, Num] => {
  const q = read(s);
  return [text(q), q.base];
};
const plain = (read: (s: string) => Num) => (s: string): [string, Num] => {
  const n = read(s);
  return [n.short(9), n];
};

/** The parser of each noun: how the text is written back, and its base. */
const parsers: Record<string, (s: string) => [string, Num]> = {
  volume: quantity(parse.parseVolume),
  weight: quantity(parse.parseMass),
  area: quantity(parse.parseArea),
  length: quantity(parse.parseLength),
  density: quantity(parse.parseDensity),
  temperature: quantity(parse.parseTemperature),
  time: quantity(parse.parseDuration),
  flow: quantity(parse.parseFlow),
  speed: quantity(parse.parseSpeed),
  "spray volume": quantity(parse.parseSprayVolume),
  content: quantity(parse.parseContent),
  rate: (s) => [parseRate(s).text(), parseRate(s).base],
  amount: (s) => {
    const a = parse.parseAmount(s);
    return [a.isDry ? text(a.mass) : text(a.volume), a.base()];
  },
  percentage: plain(parse.parsePercent),
  number: plain(parse.parseNumber),
  "temperature rise": plain(parse.parseRise),
  strength: (s) => [strengthText(parseStrength(s)), parseStrength(s).perVolume.base],
};

function unitAnswer(q: { noun: string; text: string }): unknown {
  only(q, ["noun", "text"]);
  const read = parsers[q.noun];
  assert.ok(read, "no parser for " + q.noun);
  try {
    const [written, base] = read(q.text);
    return { text: written, base: base.fixed(12) };
  } catch (e) {
    if (!(e instanceof Refusal)) throw e;
    return { code: e.code, ...(e.offset !== 0 && { offset: e.offset }) };
  }
}

function answer(work: () => unknown): unknown {
  try {
    return { is: work() };
  } catch (e) {
    if (!(e instanceof Problems)) throw e;
    return { problems: e.list.map((p) => ({ code: p.code, ...(p.product !== "" && { product: p.product }) })) };
  }
}

interface ChangeInput {
  items: string[];
  place?: string;
  crop?: string;
}

const pack = JSON.parse(readFileSync(process.env["PACK"] ?? "", "utf8")) as { Core: Core; Shards: Shard[]; Uses: Uses };

/** The demonstration, as the planner loads it. */
function demonstration(): Book {
  const book = new Book(pack.Core);
  for (const s of pack.Shards) book.add(s);
  book.addAlone(pack.Uses);
  return book;
}

const demo = demonstration();

/** What changes of one product would make of a mix of the demonstration. */
function changeAnswer(q: ChangeInput): unknown {
  only(q, ["items", "place", "crop"]);
  const { items, ...where } = q;
  const judge = new Judge(demo, { numbers: {}, ...where });
  const a = judge.mix(items);
  return {
    without: without(judge, a).map(({ out, left, answer: c }) => ({ out, verdict: verdicts[c.verdict], hazards: hazardNames(c.hazards), untested: c.untested.length, left })),
    instead: whole(replacements(judge, new Purposes(pack.Uses), a)).map(({ out, found, best }) => ({
      out,
      found,
      best: best.map((c) => [c.in, verdicts[c.answer.verdict], `untested ${c.untested.length}`, `left ${c.left}`].join(", ")),
    })),
  };
}

const files: Record<string, (q: never) => unknown> = {
  whatif: changeAnswer,
  unit: unitAnswer,
  jar: (q: RecipeInput) => {
    checkInput(q, recipeKeys);
    return answer(() => recipeJSON(recipe(recipeRequest(q))));
  },
  load: (q: LoadInput) => {
    checkInput(q, loadKeys);
    return answer(() => planJSON(plan(loadRequest(q))));
  },
};

for (const [name, run] of Object.entries(files)) {
  for (const c of readVectors(readFileSync(`${dir}/${name}.json`, "utf8"))) {
    test(`${name}: ${c.name}`, () => assert.deepEqual(run(c.in as never), c.want));
  }
}

/** What people paste beside what the vectors hold: numbers of other countries, ranges, slips; with a unit that is right. */
const pasted = ["1.234,5", "1.234.567", "1.234.567,8", "1,234,567", "1,234.5", "1 234", "1-1/2", "1½-2", "1 - 2", "20-25", "20 to 25", "010", "8.", "1..5", "1.2.3", "1'000", "0,5", "5/0", "-80", "~5"];
const unitOf: Record<string, string> = {
  volume: "gal", weight: "lb", area: "ac", length: "in", density: "lb/gal", time: "h", flow: "gal/min", speed: "mph", "spray volume": "gal/ac", content: "ppm", rate: "pt/ac", amount: "mL",
};

/** Why a text is refused; undefined when it is not. */
function refusal(noun: string, s: string): Refusal | undefined {
  try {
    parsers[noun]!(s);
    return undefined;
  } catch (e) {
    if (!(e instanceof Refusal)) throw e;
    return e;
  }
}

test("what is offered can be taken", () => {
  const cases = readVectors(readFileSync(`${dir}/unit.json`, "utf8")).map((c) => c.in as { noun: string; text: string });
  const all = [...cases, ...Object.entries(unitOf).flatMap(([noun, unit]) => pasted.flatMap((n) => [{ noun, text: n }, { noun, text: `${n} ${unit}` }]))];
  const bad: string[] = [];
  let taken = 0;
  for (const { noun, text } of all) {
    for (const w of refusal(noun, text)?.write ?? []) {
      taken++;
      const again = refusal(noun, w);
      const bare = !/[a-z%°]/i.test(text.replace(/ to |\/ac/g, "")); // a number without a unit is mended step by step
      if (again && !(bare && ["no-unit", "zero"].includes(again.code))) bad.push(`${noun} "${text}" offers "${w}", which is refused: ${again.code}`);
    }
  }
  assert.deepEqual(bad, []);
  assert.ok(taken > 300, taken + " offers");
});

test("what is offered keeps every digit", () => {
  for (const [noun, text, want] of [
    ["spray volume", "1.234,5 L/ha", "1234.5 L/ha"],
    ["spray volume", "1 234 L/ha", "1234 L/ha"],
    ["rate", "1-1/2 pt/ac", "1 1/2 pt/ac"],
    ["spray volume", "20-25 gal/ac", "20 gal/ac|25 gal/ac"],
    ["spray volume", "20 to 25 gal/ac", "20 gal/ac|25 gal/ac"],
    ["volume", "1,234,567 mL", "1234567 mL"],
    ["area", "10,000 sq ft", "10000 sq ft|10.000 sq ft"], // either may be meant
    ["area", "1.2.3 ac", "80 ac"], // nobody can tell: an example
    ["rate", "2 gallns/ac", "2 gal/ac"],
    ["rate", "3 ML/ha", "3 mL/ha"],
    ["volume", "1 cup", "1 fl oz|1 mL"],
  ] as const) {
    assert.equal(refusal(noun, text)?.write.join("|"), want, text);
  }
});

test("vectors are read strictly", () => {
  const one = '{"name":"n","why":"w","in":{},"want":{}}';
  const twice = `{"schema":1,"cases":[${one},${one}]}`;
  const wrong = ['{"schema":1,"cases":[]}', `{"schema":2,"cases":[${one}]}`, '{"schema":1,"case":[]}', "[]", twice];
  for (const data of [...wrong, '{"schema":1,"cases":[{"name":"n"}]}']) {
    assert.throws(() => readVectors(data));
  }
  assert.throws(() => unitAnswer({ noun: "rate", txt: "" } as never));
  assert.throws(() => changeAnswer({ itmes: [] } as never));
  assert.throws(() => checkInput({ jra: "1 qt", products: [] } as never, recipeKeys));
  assert.equal(readVectors(`{"schema":1,"cases":[${one}]}`).length, 1);
});
