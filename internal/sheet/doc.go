// Package sheet reads an office's fact sheets: markdown with front matter, links
// to records and fenced blocks that bring the dataset into prose. It checks all
// of that against a [mix.Book], renders the prose, and leaves the blocks as
// values for the pages to draw. No other package imports a markdown parser or a
// highlighter.
//
// # Files
//
// Every content/**/*.md is a sheet. Its slug is the file's name, so folders are
// for the author's own order; name.md is in the office's first language and
// name.CODE.md a translation of it.
//
//	jar-test.md  ──┐
//	               ├─▶ front matter ─▶ Sheet{Title, Topic, ReviewBy, …}
//	               ├─▶ prose ────────▶ Prose, Prose, …     ┐ Sheet.Body, in
//	               ├─▶ fenced blocks ▶ Block, Block, …     ┘ the order of the page
//	               ├─▶ links ────────▶ Sheet.Links
//	               └─▶ words ────────▶ Sheet.Passages (search)
//
// # Front matter
//
// YAML between two lines ---; all keys but also and order are needed.
//
//	---
//	title: Why the lids hissed
//	summary: What happened in three orchard tanks, and how jars found the cause.
//	also: [fizzing, lid blew off]   # what growers call it: the search finds it by these
//	topic: hazards          # hazards, formulation, water, injury, control, workshop or law
//	order: 1                # place within the topic
//	classes: [carbonate, acidic-material]
//	author: office specialist   # a role, never a name
//	reviewed: 2026-05-12
//	review_by: 2027-05-12   # after that day the page says it is overdue
//	language: en
//	---
//
// # Prose
//
// CommonMark with tables, footnotes and typographic quotes. The title is the
// only heading of level 1; a body starts at ## and skips no level. HTML is shown
// as the text it is, with a warning. A sheet on a hazard opens with a caution.
//
// Links name records by their kind: [sulfur](class:sulfur), product:ID,
// sheet:SLUG or sheet:SLUG#heading, source:ID, observation:ID, recipe:ID,
// investigation:ID, notice:ID, place:ID, water:ID and crop:ID. Others are
// #heading, a file beside the sheet, https://…, http://… and mailto:…. Images
// are files under content/ and need words for those who cannot see them.
//
// # Blocks
//
// The word after the fence says what the YAML inside it is. A block may stand in
// a list or a quotation.
//
// A cut-out of the class matrix; against gives it other columns than rows:
//
//	```matrix
//	classes: [carbonate, acidic-material, sulfur]
//	against: [oil, copper]
//	caption: At the rates of an orchard label
//	```
//
// The verdict of a mix of classes or products. A situation narrows it; water
// names a measured water, whose hardness, pH and bicarbonate fill in what is not
// written:
//
//	```verdict
//	mix: [carbonate, acidic-material]
//	situation: {water: office-well, temperature: 15 °C, vessel: closed, order: [carbonate, acidic-material]}
//	note: Cold water slows the gas and does not stop it.
//	```
//
// A jar recipe of data/recipes.yaml by its id:
//
//	```recipe
//	id: first-jar
//	```
//
// or one written in place:
//
//	```recipe
//	title: Both partners, crowded
//	products:
//	  - {product: brindle-kb, rate: 5 lb/ac}
//	  - {product: tarn-lower, rate: 1 qt/100 gal}
//	jar: 1 qt
//	spray_volume: 100 gal/ac
//	water_share: 25 %
//	water: office-well
//	```
//
// An observation, with its record's own text when record is true:
//
//	```observation
//	id: qv-2026-014
//	record: true
//	note: The first jar that hissed.
//	```
//
// A citation set apart from the text:
//
//	```source
//	id: k2co3-p
//	place: abstract
//	note: Pressure rose with temperature; the order made no difference.
//	```
//
// The safety text for a hazard: pressure, toxic-gas, heat, fire or concentrate:
//
//	```caution
//	hazard: pressure
//	note: Loosen the lid before you shake.
//	```
//
// # Listings
//
// Any other fence is a listing in text, csv, yaml, json, sh, console or
// markdown:
//
//	```yaml
//	rate: 5 lb/ac
//	```
//
// # Invariants
//
//   - Whatever the input, no problem stands outside of its file and nothing
//     panics; what Body returns holds no element, attribute or address that this
//     package did not write.
//   - Anchors depend on a heading's words alone and start with [AnchorPrefix].
//   - A problem with severity Stop in a block keeps that block off the page; it is
//     never drawn as far as it could be read.
//
// What it does not do: judge a mix, compute a dose, know an address of the site.
package sheet
