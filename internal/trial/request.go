package trial

import (
	"fmt"
	"slices"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// Request asks for a trial.
type Request struct {
	Question    Question
	Mix         []jar.Product // as it is, each with its rate; named once
	SprayVolume unit.SprayVolume
	Jar         unit.Volume   // finished volume at full water; zero: chosen
	Jars        int           // at most so many, controls and replicates counted; 0: [UsualJars]
	Replicates  int           // of every jar; 0: 1
	Seed        uint64        // of codes and runs
	Share       unit.Number   // of the water, for crowded jars; zero: full water
	Waters      []mix.ID      // the first is the water of all jars
	Aid         *jar.Product  // a helper tried as a pair with and without
	For         string        // name of the product that others stand in for; "": found
	Substitutes []jar.Product // tried in its place; none: found
	Adaptive    bool          // for cause: each jar hangs on the one before
	Symptom     mix.Symptom   // for cause; none: the first that was recorded
	AsUsed      bool          // rates and spray volume outside the label are meant
}

// UsualJars is how many jars a trial has at most when nothing is said: what one
// group pours and reads in a forenoon. Common practice, no source.
const UsualJars = 8

// The kinds of problem beside those of the package jar.
const (
	NoSuchQuestion jar.Code = "no-question"
	TooFewJars     jar.Code = "too-few-jars"   // the trial does not fit
	TooManyJars    jar.Code = "too-many-jars"  // more than there are codes
	OffLabel       jar.Code = "off-label"      // a rate or spray volume outside the label
	Unsafe         jar.Code = "unsafe"         // no jar is made of this mix
	TooManyItems   jar.Code = "too-many-items" // more products than can be searched or judged
	Settled        jar.Code = "settled"        // nothing is left to learn
	NoSubstitute   jar.Code = "no-substitute"  // nothing to put in place
	NoWater        jar.Code = "no-water"       // not two waters to compare
	NoVessel       jar.Code = "no-vessel"      // no jar on the shelf holds it
	BadCount       jar.Code = "bad-count"      // a number of jars, people or groups that cannot be
)

// Planner makes trials with the tools, jars and knowledge of one office.
type Planner struct {
	judge *compat.Judge
	book  *mix.Book
	bench *jar.Bench
}

// New returns the planner of the judge's office.
func New(j *compat.Judge) *Planner {
	b := j.Index().Book()
	return &Planner{judge: j, book: b, bench: jar.BenchOf(b)}
}

// Product returns a product of the office at a rate; a zero rate stands for the
// highest on its label, the most demanding that a jar can answer for. A name that
// the office does not know is taken as it is.
func (p *Planner) Product(name string, rate unit.Rate) jar.Product {
	known := p.judge.Index().Product(mix.ID(name))
	if known == nil {
		return jar.Product{Name: name, Rate: rate}
	}
	if rate.IsZero() {
		rate = known.Rate.High
	}
	return jar.FromBook(p.judge.Index(), known, rate)
}

// FromBook returns the request that a trial of the book makes. Products that the book
// does not have are left out; a reader of data has reported them.
func (p *Planner) FromBook(t *mix.Trial) Request {
	q := Request{Question: t.Question, SprayVolume: t.SprayVolume, Jar: t.Jar, Jars: t.Jars, Replicates: t.Replicates,
		Seed: uint64(t.Seed), Share: t.WaterShare, For: string(t.For.ID), Adaptive: t.Adaptive, AsUsed: t.AsUsed,
		Mix: p.portions(t.Products), Substitutes: p.portions(t.Substitutes)}
	for _, w := range t.Waters {
		q.Waters = append(q.Waters, w.ID)
	}
	if aid := p.portions([]mix.Portion{t.Aid}); len(aid) > 0 {
		q.Aid = &aid[0]
	}
	return q
}

func (p *Planner) portions(list []mix.Portion) []jar.Product {
	var all []jar.Product
	for _, portion := range list {
		if p.judge.Index().Product(portion.ID) != nil {
			all = append(all, p.Product(string(portion.ID), portion.Rate))
		}
	}
	return all
}

// draft is a trial in the making.
type draft struct {
	*Planner
	Request
	ps    jar.Problems
	specs []spec
	trial *Trial
	// stepRuns are the products of each step of an adaptive plan.
	stepRuns [][]int
}

// Trial plans a trial. A request that cannot be met gives [jar.Problems], each with
// the nearest that can.
func (p *Planner) Trial(q Request) (*Trial, error) {
	if q.Jars == 0 {
		q.Jars = UsualJars
	}
	q.Replicates = max(q.Replicates, 1)
	d := &draft{Planner: p, Request: q, trial: &Trial{Question: q.Question, Replaced: -1, Symptom: q.Symptom, Seed: q.Seed,
		Blocks: q.Replicates, Routine: p.book.Routine, Tolerance: p.bench.Tolerance, Products: slices.Clone(q.Mix)}}
	for _, step := range []func(){d.check, d.judgeWhole, d.propose, d.checkLabels, d.fit, d.pour, d.deal} {
		if step(); len(d.ps) > 0 {
			return nil, d.ps
		}
	}
	return d.trial, nil
}

func (d *draft) problem(c jar.Code, product, msg, hint string) {
	d.ps = append(d.ps, jar.Problem{Code: c, Product: product, Msg: msg, Hint: hint})
}

func (d *draft) check() {
	if d.Question == NoQuestion || d.Question > Workshop {
		d.problem(NoSuchQuestion, "", "no question is asked", "ask one of cause, order, water, substitute, workshop")
	}
	if d.Jars < 0 {
		d.problem(BadCount, "", fmt.Sprintf("%d jars are no number of jars", d.Jars), "write 2 or more")
	}
	if d.Jars > MaxJars {
		d.problem(TooManyJars, "", fmt.Sprintf("%d jars are more than there are codes for", d.Jars),
			fmt.Sprintf("write %d or fewer, or make two trials", MaxJars))
	}
	if most := d.mostItems(); len(d.Mix) > most {
		d.problem(TooManyItems, "", fmt.Sprintf("a mix of %d products", len(d.Mix)), fmt.Sprintf("name %d or fewer", most))
	}
	if len(d.Mix) < 2 {
		d.problem(jar.NoProducts, "", "a trial needs a mix of two products or more", "name the products of the tank")
	}
	for i, p := range d.Mix {
		if slices.ContainsFunc(d.Mix[:i], func(q jar.Product) bool { return q.Name == p.Name }) {
			d.problem(jar.TwoOfAName, p.Name, p.Name+" is named twice", "name it once")
		}
	}
	for _, w := range d.Waters {
		if d.judge.Index().Water(w) == nil {
			d.problem(NoWater, "", fmt.Sprintf("unknown water %q", w), "waters are listed in data/waters.yaml")
		}
	}
	d.trial.Mix = indexes(len(d.Mix))
}

// mostSearched is how many products a search takes (see cause.NewSearch).
const mostSearched = 16

// mostItems leaves room for a helper.
func (d *draft) mostItems() int {
	switch {
	case d.Question == Cause:
		return mostSearched
	case d.Aid != nil:
		return compat.MaxItems - 1
	}
	return compat.MaxItems
}

func indexes(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}

// checkLabels refuses rates and spray volumes outside the labels, of the mix and of
// what is tried beside it.
func (d *draft) checkLabels() {
	if d.AsUsed {
		return
	}
	for i := range d.trial.Products {
		p := &d.trial.Products[i]
		if fit := jar.FitRate(p.Rate, p.Range, d.SprayVolume, p.Density); fit == jar.Below || fit == jar.Above {
			end := p.Range.Low
			if fit == jar.Above {
				end = p.Range.High
			}
			d.problem(OffLabel, p.Name, fmt.Sprintf("rate %q of %s is %s the label's range, %s to %s", p.Rate, p.Name, fit,
				p.Range.Low, p.Range.High), fmt.Sprintf("write %q, or say that it is meant as it was used", end))
		}
		if fit := p.FitSprayVolume(d.SprayVolume); fit == jar.Below || fit == jar.Above {
			end := p.SprayVolume[0]
			if fit == jar.Above {
				end = p.SprayVolume[1]
			}
			d.problem(OffLabel, p.Name, fmt.Sprintf("spray volume %q is %s the label of %s, %s to %s", d.SprayVolume, fit, p.Name,
				p.SprayVolume[0], p.SprayVolume[1]), fmt.Sprintf("write %q, or say that it is meant as it was used", end))
		}
	}
}

// id is how the judge knows a product; a name of no book is one of which nothing is
// known.
func id(p *jar.Product) mix.ID {
	if p.ID != "" {
		return p.ID
	}
	return mix.ID(p.Name)
}

func (d *draft) ids(list []int) []mix.ID {
	var all []mix.ID
	for _, i := range list {
		all = append(all, id(&d.trial.Products[i]))
	}
	return all
}

// water is the water of all jars, "" when none is named.
func (d *draft) water() mix.ID {
	if len(d.Waters) == 0 {
		return ""
	}
	return d.Waters[0]
}
