// Checks and writes drafts that Go has made up, and prints what came of each, for
// internal/page's tests to hold against the loader.

import { readFileSync } from "node:fs";
import { check } from "./check";
import { type Choices, productOf } from "./choices";
import { type Draft, pouredAnything } from "./draft";
import { yamlOf } from "./yaml";

interface Batch {
  choices: Choices;
  today: string;
  drafts: Draft[];
}

/** The record; "" when a product that nobody knows keeps it from being written. */
function written(d: Draft): string {
  return d.products.some((p) => pouredAnything(p) && !productOf(batch.choices, p.product)) ? "" : yamlOf(d, batch.choices);
}

const batch = JSON.parse(readFileSync(process.env["DRAFTS"] ?? "", "utf8")) as Batch;
const results = batch.drafts.map((d) => {
  const problems = check(d, batch.choices, batch.today);
  return { problems, yaml: written(d) };
});
process.stdout.write(JSON.stringify(results));
