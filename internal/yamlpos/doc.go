// Package yamlpos reads YAML strictly and keeps the place of everything it
// reads. It serves data files, front matter and fenced blocks alike, so that
// authors meet one syntax with the same exact places everywhere. No other
// package imports a YAML library.
//
// # What is read
//
// One document of block and flow mappings, lists and scalars. A scalar is text:
// 010, 1_000, yes and 2026-05-12 are what the author sees, never a number or a
// date of YAML's making. Refused are anchors, aliases, merge keys, tags, more
// than one document, keys that are not plain words, duplicate and unknown keys,
// bytes that are not UTF-8, control characters, and the invisible characters
// that make text read otherwise than it looks.
//
// # Kinds
//
// A [Kind] tells how a node is read into a Go value, and carries the JSON Schema
// of what it reads, so that the reader and the schema for editors have one
// source. Kinds are put together from smaller ones:
//
//	Scalar, Words, Bool    one value
//	List                   a sequence of one kind
//	Object                 a mapping by a table of fields
//	Either                 a scalar or a mapping with the same meaning
//
// # Invariants
//
//   - Problems are added to the list given to [Parse]; reading goes on after one.
//   - Every reported place lies inside the file: 1 ≤ line ≤ lines and 1 ≤ column ≤
//     characters of that line + 1, columns counted in characters.
//   - The same text gives the same problems in the same order.
//   - A Kind returns false only after it has reported why.
package yamlpos
