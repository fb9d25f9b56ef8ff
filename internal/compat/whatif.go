package compat

import (
	"cmp"
	"slices"

	"tankleaf.example/internal/mix"
)

// Change is what becomes of a mix when one item is taken out, alone or with
// another put in its place.
type Change struct {
	Out, In mix.ID // In is empty when nothing takes its place
	Answer  Answer // of the changed mix
}

// mostReplacements is how many replacements of one item are listed.
const mostReplacements = 8

// WhatIf returns what would change a mix: each item taken out, in item order,
// then for each item those products of the same purpose that would make the
// verdict less cautious. Of these the known answers come first and those that
// are merely unknown last: no evidence is not an improvement, only a question.
func (j *Judge) WhatIf(items []mix.ID, s mix.Situation) []Change {
	now := j.Mix(items, s)
	var out []Change
	if len(now.Items) < 2 {
		return nil
	}
	for _, id := range now.Items {
		out = append(out, Change{Out: id, Answer: j.Mix(without(now.Items, id), s)})
	}
	if now.Verdict < mix.Steps {
		return out
	}
	for _, id := range now.Items {
		out = append(out, j.replacements(&now, id, s)...)
	}
	return out
}

func without(items []mix.ID, id mix.ID) []mix.ID {
	return slices.DeleteFunc(slices.Clone(items), func(x mix.ID) bool { return x == id })
}

// replacements tries the products that share a purpose with one item. The pairs
// are asked first, since they are at hand; only what passes them is judged whole.
func (j *Judge) replacements(now *Answer, out mix.ID, s mix.Situation) []Change {
	rest := without(now.Items, out)
	if j.Mix(rest, s).Verdict >= now.Verdict {
		return nil // the trouble lies elsewhere
	}
	var list []Change
	for _, in := range j.samePurpose(out, s.Crop) {
		if slices.Contains(rest, in) || j.firmPair(rest, in) >= now.Verdict {
			continue
		}
		if a := j.Mix(append(slices.Clone(rest), in), s); a.Verdict < now.Verdict {
			list = append(list, Change{Out: out, In: in, Answer: a})
		}
	}
	slices.SortStableFunc(list, func(a, b Change) int {
		return cmp.Or(
			compareBool(a.Answer.Verdict == mix.Unknown, b.Answer.Verdict == mix.Unknown),
			cmp.Compare(a.Answer.Verdict, b.Answer.Verdict),
			cmp.Compare(len(a.Answer.Untested), len(b.Answer.Untested)),
		)
	})
	return list[:min(len(list), mostReplacements)]
}

// firmPair returns the worst verdict of the item with one of the rest that holds
// in every situation and that nothing else in the tank can mend.
func (j *Judge) firmPair(rest []mix.ID, in mix.ID) mix.Verdict {
	worst := mix.Unknown
	for _, id := range rest {
		d := j.Pair(id, in).Deciding()
		if d == nil || len(d.Open) > 0 {
			continue
		}
		if n, ok := d.Evidence.(Statement); !ok || len(n.Mends) == 0 {
			worst = max(worst, d.Verdict)
		}
	}
	return worst
}

// samePurpose returns the other products with a use for a purpose that the
// product also serves, on the same crop when one is given; sorted.
func (j *Judge) samePurpose(product, crop mix.ID) []mix.ID {
	p := j.x.Product(product)
	if p == nil {
		return nil
	}
	var list []mix.ID
	for _, u := range p.Uses {
		if u.Purpose.ID != "" && (crop == "" || u.Crop.ID == crop) {
			list = append(list, j.purpose[purposeKey{u.Purpose.ID, crop}]...)
		}
	}
	slices.Sort(list)
	return without(slices.Compact(list), product)
}

// purposeKey is a purpose, on one crop or, with an empty crop, on any.
type purposeKey struct{ purpose, crop mix.ID }

func (j *Judge) readPurposes() {
	book := j.x.Book()
	for i := range book.Products {
		p := &book.Products[i]
		if j.x.Product(p.ID) != p {
			continue
		}
		j.productIDs = append(j.productIDs, p.ID)
		for _, u := range p.Uses {
			for _, crop := range []mix.ID{"", u.Crop.ID} {
				k := purposeKey{u.Purpose.ID, crop}
				j.purpose[k] = append(j.purpose[k], p.ID)
			}
		}
	}
	slices.Sort(j.productIDs)
}
