package gas_test

import (
	"math"
	"strings"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// book is a book of a few products without any carbonate, to be given one.
type book struct{ mix.Book }

func orchard() *book {
	b := &book{}
	for _, id := range []mix.ID{"a1", "a2", "c1", "d1", "n1"} {
		b.Products = append(b.Products, mix.Product{ID: id})
	}
	return b
}

func (b *book) index() *mix.Index { return mix.NewIndex(&b.Book) }

// jar adds a jar of products: "a1 n1:".
func (b *book) jar(id, day, what string, edit func(*mix.Observation)) {
	d, ok := mix.ParseDate(day)
	if !ok {
		panic(day)
	}
	o := mix.Observation{ID: mix.ID(id), Date: d}
	for _, p := range strings.Fields(strings.TrimSuffix(what, ":")) {
		o.Products = append(o.Products, mix.Portion{Ref: mix.Ref{ID: mix.ID(p)}, Rate: must(unit.ParseRate("1 qt/ac"))})
	}
	edit(&o)
	b.Observations = append(b.Observations, o)
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func near(a, b, within float64) bool { return math.Abs(a-b) <= within }
