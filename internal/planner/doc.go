// Package planner packs what the tank-load planner in the browser works on: the
// products, the judgement that Go has reached on every statement, notice and set of
// jars, the order of addition, and shapes for the words of all of them.
//
// # Shape
//
//	Core ── keys (classes, and products that are named), signatures, carriers,
//	  │     places, gates, rules, steps, and of each product its name, signature
//	  │     and active ingredients: enough to find a product and to judge what
//	  │     classes say of it
//	  ├── Shard ─ of some products in a row: label, uses, jars they were in, and
//	  │           where quiet jars oppose a statement; loaded when one is picked
//	  ├── Uses ── who serves which purpose on which crop, and what is known of
//	  │           products by themselves; loaded when a replacement is sought
//	  ├── Words ─ names in one language
//	  └── Says ── what some rules in a row say, in one language; loaded when one
//	              of them is shown
//
// A product is named by its place in Core.Names, a class or a named product by its
// place in Core.Keys, a gate, a rule or a set of jars by its place. Places hold
// within one publication only; addresses that readers keep use IDs.
//
// Enumerations cross as their names, numbers as exact texts.
//
// # Invariant
//
// The client's judgement of a mix over this data equals [compat.Judge.Mix]: the
// verdict, every finding with its part, the doubts and the untested pairs. A test
// compares them on random mixes, situations and offices in a real browser. So do its
// conflicts and replacements equal [compat.Judge.WhatIf], also of products that it has
// not loaded.
package planner
