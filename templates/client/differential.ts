// What the differential test asks the browser: one answer a case, written as a text
// that Go writes too. Only tests load this.

import { Book, type Doubt, type Evidence, type Gate, hazardNames, ratio, symptomNames } from "./compat/book";
import { grades, symptoms, verdicts } from "./compat/enums";
import type { Core, Shard, Uses } from "./compat/json";
import { type Answer, Judge } from "./compat/judge";
import type { Situation } from "./compat/situation";
import { Purposes, replacements, whole, without } from "./compat/whatif";
import { gasVolume, pressureRise } from "./compat/gas";
import { leftOf, standingAt } from "./jar/standing";
import type { HalfPoint } from "./planner/json";
import { text } from "./unit/format";
import { fromDecimal, type Num } from "./unit/number";
import * as parse from "./unit/parse";
import { none } from "./unit/quantity";
import { parseRate } from "./unit/rate";
import { partsText } from "./unit/split";
import { parseStrength, strengthText } from "./unit/strength";
import { Refusal } from "./unit/text";
import { fromActive } from "./jar/active";
import { convert, fitRate, fitSpray } from "./jar/fit";
import { loadRequest, recipeRequest } from "./jar/input";
import type { LoadInput, RecipeInput } from "./jar/json";
import { plan } from "./jar/load";
import { planJSON, recipeJSON } from "./jar/output";
import { Problems } from "./jar/problem";
import { recipe } from "./jar/recipe";
import * as sprayer from "./jar/sprayer";
import { ammoniumSulfate, hardnessOf, type Ion, ions } from "./jar/water";

/** Nine figures of a float: what curves and bounds are compared by. */
const nine = (n: number): string => (n === Infinity ? "endless" : n.toExponential(8));

const based = (q: { base: Num }): string => q.base.fixed(12);
const plain = (n: Num): string => n.short(9) + "|" + n.fixed(12);

const parsers: Record<string, (s: string) => string> = {
  volume: (s) => spelled(parse.parseVolume(s)),
  weight: (s) => spelled(parse.parseMass(s)),
  area: (s) => spelled(parse.parseArea(s)),
  length: (s) => spelled(parse.parseLength(s)),
  density: (s) => spelled(parse.parseDensity(s)),
  temperature: (s) => spelled(parse.parseTemperature(s)),
  time: (s) => spelled(parse.parseDuration(s)),
  flow: (s) => spelled(parse.parseFlow(s)),
  speed: (s) => spelled(parse.parseSpeed(s)),
  "spray volume": (s) => spelled(parse.parseSprayVolume(s)),
  content: (s) => spelled(parse.parseContent(s)),
  rate: (s) => parseRate(s).text() + "|" + based(parseRate(s)),
  amount: (s) => {
    const a = parse.parseAmount(s);
    return `${partsText(a.split("us"))}|${partsText(a.split("metric"))}|${a.base().fixed(12)}`;
  },
  percentage: (s) => plain(parse.parsePercent(s)),
  number: (s) => plain(parse.parseNumber(s)),
  "temperature rise": (s) => plain(parse.parseRise(s)),
  strength: (s) => strengthText(parseStrength(s)),
};

type Parsed = ReturnType<typeof parse.parseVolume>;

function spelled(q: unknown): string {
  return text(q as Parsed) + "|" + based(q as Parsed);
}

const kinds: Record<string, (a: string[]) => string> = {
  parse: ([noun = "", s = ""]) => parsers[noun]!(s),
  recipe: ([q = ""]) => JSON.stringify(recipeJSON(recipe(recipeRequest(JSON.parse(q) as RecipeInput)))),
  load: ([q = ""]) => JSON.stringify(planJSON(plan(loadRequest(JSON.parse(q) as LoadInput)))),
  convert: ([rate = "", unit = "", spray = "", density = ""]) => {
    const v = spray === "" ? none("depth") : parse.parseSprayVolume(spray);
    const d = density === "" ? none("density") : parse.parseDensity(density);
    return convert(parseRate(rate), unit, v, d)?.text() ?? "none";
  },
  fit: ([rate = "", low = "", high = "", spray = "", density = ""]) => {
    const v = spray === "" ? none("depth") : parse.parseSprayVolume(spray);
    const d = density === "" ? none("density") : parse.parseDensity(density);
    const some = parse.parseSprayVolume("10 gal/ac");
    return fitRate(parseRate(rate), [parseRate(low), parseRate(high)], v, d) + " " + fitSpray(v, [some, none("depth")]);
  },
  active: ([rate = "", content = "", unit = "", density = ""]) =>
    fromActive(parseRate(rate), parseStrength(content), unit, density === "" ? none("density") : parse.parseDensity(density)).text(),
  nozzle: ([flow = "", speed = "", spacing = "", density = ""]) => {
    const [f, v, w, d] = [parse.parseFlow(flow), parse.parseSpeed(speed), parse.parseLength(spacing), parse.parseDensity(density)];
    const put = sprayer.sprayVolumeOf(f, v, w);
    const needed = sprayer.flowFor(put.times(fromDecimal("1.5")), v, w);
    const all = [put, needed, sprayer.speedFor(needed, put, w), sprayer.flowOfWater(f, d), sprayer.flowOfCarrier(f, d)];
    return all.map(based).join(" ");
  },
  pace: ([distance = "", width = "", time = "", volume = ""]) => {
    const [l, w] = [parse.parseLength(distance), parse.parseLength(width)];
    const speed = sprayer.speedOver(l, parse.parseDuration(time));
    const area = sprayer.swath(l, w);
    return [speed, sprayer.travel(w, speed), area, sprayer.applied(parse.parseVolume(volume), area)].map(based).join(" ");
  },
  standing: ([ph = "", minutes = "", records = ""]) => {
    const list = (JSON.parse(records) as HalfPoint[][]).map((r) => r.map((p) => ({ ph: p.ph, stable: p.stable ?? false, about: false, low: p.low ?? 0, high: p.high ?? Infinity })));
    const s = standingAt(list, Number(ph));
    const left = leftOf(s, Number(minutes));
    return [s.known, s.silent, s.lives.map((l) => l.reach).join(","), ...[s.low, s.high, ...(left ?? [])].map(nine)].join(" ");
  },
  gas: ([grams = "", liquid = "", headspace = "", celsius = ""]) => {
    const moles = Number(grams) / 84.007;
    const rise = pressureRise(moles, Number(liquid), Number(headspace), Number(celsius));
    return nine(gasVolume(moles, Number(celsius))) + " " + (rise === undefined ? "none" : nine(rise));
  },
  water: (measured) => {
    const water: Partial<Record<Ion, Num>> = {};
    ions.forEach((ion, i) => {
      if (measured[i]) water[ion] = fromDecimal(measured[i]);
    });
    const c = ammoniumSulfate(water);
    const content = (ion: Ion) => parse.parseContent((water[ion]?.short(9) ?? "0") + " ppm");
    const hardness = based(hardnessOf(content("calcium"), content("magnesium")));
    return (c ? c.rate.text() + " without " + c.missing.join(",") : "none") + "|" + hardness;
  },
};

/** Answers one case: a result, or the codes of what is wrong. */
function answer([kind = "", ...args]: string[]): string {
  try {
    return kinds[kind]!(args);
  } catch (e) {
    if (e instanceof Refusal) return `refused ${e.code} ${e.offset}`;
    if (e instanceof Problems) return "problems " + e.list.map((p) => p.code + ":" + p.product).join(" ");
    return "failed " + String(e);
  }
}

let book: Book | undefined;
let purposes: Purposes | undefined;

/** Takes the data of a publication. */
function takeBook(core: Core, shards: Shard[], uses: Uses): number {
  book = new Book(core);
  for (const s of shards) book.add(s);
  book.addAlone(uses);
  purposes = new Purposes(uses);
  return shards.length;
}

interface MixQuestion {
  items: string[];
  numbers: Record<string, string>;
  order?: string[];
  vessel?: "open" | "closed";
  place?: string;
  crop?: string;
  carrier?: string[];
  change?: boolean; // asks what changes of one item would do as well
}

/** Judges a mix and tells all of the answer, in a form that Go writes too. */
function judgeOne(q: MixQuestion): string {
  const { items, numbers, change, ...rest } = q;
  const situation: Situation = { ...rest, numbers: {} };
  for (const [factor, n] of Object.entries(numbers)) situation.numbers[factor] = ratio(n);
  const judge = new Judge(book!, situation);
  const a = judge.mix(items);
  return JSON.stringify({ ...told(a), ...(change && { change: changes(judge, a) }) });
}

/** What changes of one item would make of a mix. */
function changes(judge: Judge, a: Answer): object {
  return {
    without: without(judge, a).map((c) => ({ out: c.out, left: c.left, answer: told(c.answer) })),
    instead: whole(replacements(judge, purposes!, a)).map((r) => ({
      out: r.out,
      found: r.found,
      best: r.best.map((c) => ({ in: c.in, left: c.left, untested: c.untested, answer: told(c.answer) })),
    })),
  };
}

const evidenceName = (e: Evidence): string => (e.kind === "rule" ? (e.notice ? "notice:" : "interaction:") + e.id : "jars:" + e.jars.join(","));
const gateName = (g: Gate): string => [g.factor, g.ref, g.first, g.then].join(" ").trim();

function told(a: Answer): object {
  const doubt = (d: Doubt): string =>
    [
      d.code,
      ...(d.evidence ?? []).map(evidenceName),
      ...(d.gates ?? []).map(gateName),
      ...symptomNames(d.symptoms ?? 0),
      ...(d.items ?? []),
      ...(d.n ? [String(d.n)] : []),
      ...(d.count ? [d.count.symptom, String(d.count.recorded ?? 0)] : []),
    ].join(" ");
  return {
    items: a.items.map((i) => i.id),
    verdict: verdicts[a.verdict],
    grade: grades[a.grade],
    kind: a.nature,
    hazards: hazardNames(a.hazards),
    handling: hazardNames(a.handling),
    findings: a.findings.map((f) => ({
      evidence: evidenceName(f.evidence),
      part: f.part,
      verdict: verdicts[f.verdict],
      stated: verdicts[f.stated],
      grade: grades[f.grade],
      basis: grades[f.basis],
      symptoms: symptomNames(f.symptoms),
      hazards: hazardNames(f.hazards),
      matches: f.matches.map((m) => m.item + ">" + m.member),
      open: f.open.map(gateName),
      failed: f.failed.map(gateName),
      mend: f.mend,
      mend_item: f.mendItem,
      doubts: f.doubts.map(doubt),
    })),
    doubts: a.doubts.map(doubt),
    untested: a.untested,
    symptoms: a.symptoms.map((s) => symptoms[s.symptom] + ":" + verdicts[s.verdict]),
  };
}

Object.assign(globalThis, {
  takeBook,
  judgeAll: (cases: MixQuestion[]): string[] => cases.map(judgeOne),
  answerAll: (cases: string[][]): string[] => cases.map(answer),
});
