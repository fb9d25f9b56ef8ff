package trial

import (
	"fmt"
	"slices"
	"strings"

	"tankleaf.example/internal/gas"
	"tankleaf.example/internal/mix"
)

// judgeWhole asks what is known of the mix as it is, and refuses what nobody may
// pour: toxic gas and fire. Heat and pressure are poured in open jars at the small
// doses of a jar, and their cautions go with the cards.
func (d *draft) judgeWhole() {
	a := d.judge.Mix(d.ids(d.trial.Mix), d.situation(d.water()))
	d.trial.Hazards, d.trial.Verdict, d.trial.Untested = a.Hazards, a.Verdict, len(a.Untested)
	d.refuse(slices.Concat(a.Hazards, a.Handling), d.trial.Mix)
}

// situation is what is known of the water of a jar.
func (d *draft) situation(water mix.ID) mix.Situation {
	w := d.judge.Index().Water(water)
	if w == nil {
		return mix.Situation{}
	}
	return mix.Situation{Hardness: w.Hardness, PH: w.PH, Bicarbonate: w.Bicarbonate}
}

// refuse also looks at what each product does by itself: a fumigant is no material
// for a jar.
func (d *draft) refuse(hazards []mix.Hazard, products []int) {
	for _, h := range hazards {
		if h == mix.ToxicGas || h == mix.FireHazard {
			d.problem(Unsafe, "", fmt.Sprintf("no jar is made of %s: %v", strings.Join(d.trial.Names(products), " and "), h),
				"leave out what makes it; show the record or the source instead")
		}
	}
}

// endangers reports whether a hazard asks for an open jar.
func endangers(h mix.Hazard) bool {
	switch h {
	case mix.Pressure, mix.ToxicGas, mix.HotMix, mix.FireHazard:
		return true
	case mix.NoHazard, mix.Concentrate:
	}
	return false
}

// guard sets hazards and the rule for opening of one jar. What the whole mix can do
// is held against every jar with two products or more of it: which of them does it
// may be the very question.
func (d *draft) guard(j *Jar) {
	if len(j.Products) == 0 {
		j.Opening = Watched
		return
	}
	a := d.judge.Mix(d.ids(j.Products), d.situation(j.Water))
	own := slices.Concat(a.Hazards, a.Handling)
	j.Hazards = slices.Clone(own)
	if len(j.Products) > 1 {
		j.Hazards = append(j.Hazards, d.trial.Hazards...)
	}
	slices.Sort(j.Hazards)
	j.Hazards = slices.Compact(j.Hazards)
	d.refuse(own, j.Products)
	gas := slices.ContainsFunc(j.Hazards, endangers) || d.trial.Symptom == mix.Gas || d.trial.Symptom == mix.Heat
	if !gas && !d.givesGas(j) {
		j.Opening = Watched
	}
}

// givesGas reports whether a jar holds a carbonate beside something else: whether
// that is acid enough is what nobody should find out under a lid.
func (d *draft) givesGas(j *Jar) bool {
	if len(j.Products) < 2 {
		return false
	}
	for _, i := range j.Products {
		p := d.judge.Index().Product(d.trial.Products[i].ID)
		if p == nil {
			continue
		}
		for _, a := range p.Actives {
			if _, ok := gas.CarbonateOf(a.Name); ok {
				return true
			}
		}
	}
	return false
}
