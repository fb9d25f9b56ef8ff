// Package mix is the vocabulary: what authors state about the things that share
// a spray tank. It holds values and the rules on single values; it reads no
// file, judges nothing and computes no dose.
//
// # Words
//
// One word an idea, everywhere in code, data and pages:
//
//   - product: anything that goes in the tank: pesticide, adjuvant, water
//     conditioner, fertilizer. Invented names in the demonstration data.
//   - class: a group expected to behave alike in the tank, by chemistry, salt,
//     role or formulation. Classes form a directed acyclic graph by kind_of.
//     A water or a fertilizer used as the liquid of the tank is a class too, one
//     with Carrier set.
//   - interaction: a sourced statement that two or more members (classes or
//     products) react, or are known not to.
//   - observation: what one office saw in one vessel. Its outcome is computed
//     from readings, never typed.
//   - notice: a rule of law or label for a place.
//   - verdict: what we tell the reader. doubt: a qualification beside it.
//   - grade: how strong the evidence behind a verdict is.
//   - symptom: one kind of thing that goes wrong (foam, gas, gel); a symptom is
//     not a cause.
//   - hazard: a way in which a mix hurts people or equipment.
//   - gate: a condition under which a statement applies. situation: what is
//     known of one mix's water, vessel, place and time.
//   - criterion: when a reading counts as a reaction.
//   - half-life: how long half of an active lasts in water of one pH, by one
//     source. standing time: how long a mix waits in the tank.
//   - recipe: field rates scaled to one jar. trial: a set of jars that answers
//     one question. packet: the printable form of a trial. load: one fill of the
//     sprayer. sheet: a markdown fact sheet. source: a bibliography entry.
//     caution: safety text stamped on pages.
//   - routine: how an office runs a jar: when it is read, how it is mixed, how much
//     of it stays empty. sequence: an order of addition as one source publishes it.
//   - step: something to do that makes a mix workable. mend: a product whose
//     presence makes it workable. instead: what to use in place of a partner.
//
// # Invariants
//
//   - The zero value of every enumeration is the safe answer: Unknown verdict,
//     no grade, not recorded.
//   - Every value an author wrote carries the place it was written at.
//   - Names in enumerations are the words used in data files, once.
package mix
