// Builds the indexes of the other searches: node build.mjs DOCS.json OUT
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import lunr from "lunr";
import MiniSearch from "minisearch";
import * as pagefind from "pagefind";
import { miniOptions } from "./options.mjs";

const [file, out] = process.argv.slice(2);
const docs = JSON.parse(readFileSync(file, "utf8")).map((d) => ({ id: d.Path, title: d.Title, body: d.Body }));
mkdirSync(out, { recursive: true });

const mini = new MiniSearch(miniOptions);
mini.addAll(docs);
writeFileSync(join(out, "minisearch.json"), JSON.stringify(mini));

const index = lunr(function () {
	this.ref("id");
	this.field("title", { boost: 8 });
	this.field("body");
	docs.forEach((d) => this.add(d));
});
writeFileSync(join(out, "lunr.json"), JSON.stringify(index));

// flexsearch builds its index in the page, from the documents.
writeFileSync(join(out, "docs.json"), JSON.stringify(docs));

const escape = (s) => s.replaceAll("&", "&amp;").replaceAll("<", "&lt;");
const { index: pf } = await pagefind.createIndex();
for (const d of docs) {
	const content = `<html lang="en"><body><h1>${escape(d.title)}</h1><p>${escape(d.body)}</p></body></html>`;
	const { errors } = await pf.addHTMLFile({ url: "/" + d.id, content });
	if (errors.length > 0) throw new Error(errors.join("; "));
}
await pf.writeFiles({ outputPath: join(out, "pagefind") });
await pagefind.close();
