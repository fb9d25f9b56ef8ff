package jar

import "tankleaf.example/internal/mix"

// Published orders of addition disagree in places, and a reader of one jar needs to
// know only where they disagree about what is in it.

// Disagreement is two products that published sequences put in different orders.
// Sequences that say nothing of one of the two are in no list.
type Disagreement struct {
	A, B     int             // indexes of the products as given, A below B
	First    []*mix.Sequence // A before B
	Second   []*mix.Sequence // B before A
	Together []*mix.Sequence // in one step
}

// Disagreements lists the pairs of products about which the sequences do not all say
// the same, in the order of the products. A source that speaks of surfactants and
// one that only speaks of solutions say nothing to each other: each product is
// looked for by its bag where any sequence speaks of bags, else by its class where
// any names one, else by its code. Labels' own positions are left out of it: a label
// is above every sequence.
func Disagreements(products []Product, sequences []mix.Sequence) []Disagreement {
	ranks := make([][]int, len(products))
	for i := range products {
		ranks[i] = ranksIn(&products[i], sequences)
	}
	var all []Disagreement
	for b := range products {
		for a := range b {
			d := Disagreement{A: a, B: b}
			for i := range sequences {
				d.hear(ranks[a][i], ranks[b][i], &sequences[i])
			}
			if d.positions() > 1 {
				all = append(all, d)
			}
		}
	}
	return all
}

// ranksIn returns the step of each sequence that speaks of p, -1 where none does.
func ranksIn(p *Product, sequences []mix.Sequence) []int {
	ranks, reasons := make([]int, len(sequences)), make([]Reason, len(sequences))
	strongest := NotKnown
	for i := range sequences {
		rank, place := rankOf(p, sequences[i].Steps)
		ranks[i], reasons[i] = rank, place.Reason
		strongest = max(strongest, place.Reason) // form, class, bag ascend
	}
	for i := range ranks {
		if reasons[i] != strongest || strongest == NotKnown {
			ranks[i] = -1
		}
	}
	return ranks
}

func (d *Disagreement) hear(a, b int, s *mix.Sequence) {
	switch {
	case a < 0 || b < 0:
	case a < b:
		d.First = append(d.First, s)
	case a > b:
		d.Second = append(d.Second, s)
	default:
		d.Together = append(d.Together, s)
	}
}

// positions counts the different answers.
func (d *Disagreement) positions() int {
	n := 0
	for _, list := range [][]*mix.Sequence{d.First, d.Second, d.Together} {
		if len(list) > 0 {
			n++
		}
	}
	return n
}

// Silent lists the products, by their index as given, of which a sequence says
// nothing. [Order] puts them last: that is no advice of the source's.
func Silent(products []Product, s *mix.Sequence) []int {
	var all []int
	for i := range products {
		if rank, _ := rankOf(&products[i], s.Steps); rank == len(s.Steps) {
			all = append(all, i)
		}
	}
	return all
}
