// Package office makes the book of an office of any size, the same each time from a
// seed: for benchmarks, and for tests that compare two ways to an answer over more
// than an author would write.
//
// The books are not like any office. They hold every kind of statement the
// vocabulary has (gates on every factor, mends, hazards, members of three, single
// products, notices of places), records of every outcome, and more of what is rare
// than life has, so that random mixes meet it.
//
// Names are pairs of plain nouns with a number, such as "Larch Kettle 17"; they are
// no product's.
package office
