// Command mutate asks whether the tests of a package would notice a mistake in
// it. It seeds one fault at a time into the package's code, runs the package's
// tests against it, and counts how many of the faulty programs they fail.
//
//	mutate [-n 40] [-seed 1] [-timeout 60s] [-only WORDS] [-explained FILE] FOLDER…
//
// A fault is a small edit that a tired person could make:
//
//	compare   < for <=, == for !=
//	flip      < for >, <= for >=
//	logic     && for ||, and the other way round
//	negate    if x        → if !(x)
//	drop      a statement that is a call, an assignment, ++, break or continue
//	lose      append(a, b) → append(a): a source, a product, a record is forgotten;
//	          T{A: x, B: y} → T{B: y}
//	order     []T{a, b} → []T{b, a}, but for rows of a table; neighboring conditions of
//	          a switch
//	arith     + for -, * for /
//	number    3 → 4
//	truth     true → false
//	swap      f(a, b) → f(b, a), x.F(y) → y.F(x)
//
// Of all faults that a package offers n are drawn by a hash of the seed and of what
// the fault does, so the same code gives the same sample, and an edit elsewhere in
// the file does not change it. A fault that does not compile is no fault and
// another is drawn. A test that runs longer than the time limit has noticed; the
// limit is at least five times what the tests take without a fault.
//
// What survives is printed with its place. A fault that changes nothing anybody
// could see is listed in the file of explained ones with the reason; it counts as
// made and not as caught, and is printed apart.
//
// Nothing is written to the package: the compiler reads the faulty file by way of
// the -overlay flag of the go command.
package main
